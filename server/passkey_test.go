package server

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"net/http/httptest"
	"testing"

	"spadework/store"
)

// authenticator makes and uses one passkey as W3C Web Authentication, 6, tells:
// written here from the standard, apart from the library that the server uses.
type authenticator struct {
	*testing.T
	key     *ecdsa.PrivateKey
	id      []byte
	handle  string
	counter uint32
	rp      string // what it takes the server to be
	origin  string
	flags   byte
}

func newAuthenticator(t *testing.T) *authenticator {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	return &authenticator{T: t, key: key, id: []byte("a credential of the test"), rp: "dig.test", origin: "https://" + siteHost, flags: 0x05} // UP, UV
}

var b64 = base64.RawURLEncoding

// ceremony reads what the server asks for.
func (a *authenticator) ceremony(w *httptest.ResponseRecorder) (secret, challenge string) {
	a.Helper()
	var c Ceremony
	decode(a.T, w.Body.Bytes(), &c)
	var o struct {
		PublicKey struct {
			Challenge string
			User      struct{ ID string }
		}
	}
	decode(a.T, c.Options, &o)
	if o.PublicKey.User.ID != "" {
		a.handle = o.PublicKey.User.ID
	}
	return c.Ceremony, o.PublicKey.Challenge
}

func (a *authenticator) clientData(kind, challenge string) []byte {
	return []byte(`{"type":"webauthn.` + kind + `","challenge":"` + challenge + `","origin":"` + a.origin + `","crossOrigin":false}`)
}

// data is the authenticator data, 6.1.
func (a *authenticator) data(flags byte) []byte {
	hash := sha256.Sum256([]byte(a.rp))
	return binary.BigEndian.AppendUint32(append(hash[:], a.flags|flags), a.counter)
}

// makes answers a registration without attestation, 6.5.
func (a *authenticator) makes(challenge string) json.RawMessage {
	a.Helper()
	point, err := a.key.PublicKey.Bytes() // 4, X, Y
	if err != nil {
		a.Fatal(err)
	}
	data := append(a.data(0x40), make([]byte, 16)...) // AT; no AAGUID
	data = append(binary.BigEndian.AppendUint16(data, uint16(len(a.id))), a.id...)
	data = append(data, 0xa5, 1, 2, 3, 0x26, 0x20, 1, 0x21, 0x58, 32) // COSE: EC2, ES256, P-256 (RFC 9053, 7.1.1)
	data = append(append(data, point[1:33]...), 0x22, 0x58, 32)
	data = append(data, point[33:]...)
	object := append([]byte("\xa3\x63fmt\x64none\x67attStmt\xa0\x68authData\x59"), byte(len(data)>>8), byte(len(data)))
	return json.RawMessage(text(map[string]any{"id": b64.EncodeToString(a.id), "rawId": b64.EncodeToString(a.id), "type": "public-key", "response": map[string]string{
		"clientDataJSON": b64.EncodeToString(a.clientData("create", challenge)), "attestationObject": b64.EncodeToString(append(object, data...))}}))
}

// signs answers a sign-in, 6.3.3.
func (a *authenticator) signs(challenge string) json.RawMessage {
	a.Helper()
	a.counter++
	data, client := a.data(0), a.clientData("get", challenge)
	hash := sha256.Sum256(client)
	digest := sha256.Sum256(append(append([]byte{}, data...), hash[:]...))
	signature, err := ecdsa.SignASN1(rand.Reader, a.key, digest[:])
	if err != nil {
		a.Fatal(err)
	}
	return json.RawMessage(text(map[string]any{"id": b64.EncodeToString(a.id), "rawId": b64.EncodeToString(a.id), "type": "public-key", "response": map[string]string{
		"clientDataJSON": b64.EncodeToString(client), "authenticatorData": b64.EncodeToString(data), "signature": b64.EncodeToString(signature), "userHandle": a.handle}}))
}

// joinsByPasskey lets Ben in.
func (s *site) joinsByPasskey() *authenticator {
	s.Helper()
	secret, _, err := s.store.Invite(s.Context(), store.Invitation{Person: "Ben", Job: "yard", Roles: []string{store.Operator}, By: "boss"}, invitationTime)
	if err != nil {
		s.Fatal(err)
	}
	a := newAuthenticator(s.T)
	ceremony, challenge := a.ceremony(s.wants(200, "", "POST", "/api/invitations/passkey", text(map[string]string{"secret": secret, "name": ""})))
	s.wants(200, "", "POST", "/api/invitations/join", text(map[string]any{"secret": secret, "name": "", "language": "en", "ceremony": ceremony, "credential": a.makes(challenge), "device": deviceBody("phone")}))
	return a
}

// asksIn begins to sign in and answers.
func (s *site) asksIn(a *authenticator) (ceremony string, w *httptest.ResponseRecorder) {
	s.Helper()
	ceremony, challenge := a.ceremony(s.wants(200, "", "POST", "/api/sign-in/passkey", ""))
	return ceremony, s.finishes(ceremony, a.signs(challenge))
}

func (s *site) finishes(ceremony string, credential json.RawMessage) *httptest.ResponseRecorder {
	return s.ask("", "POST", "/api/sign-in/passkey/finish", text(map[string]any{"ceremony": ceremony, "credential": credential, "device": deviceBody("phone")}))
}

func TestPasskeyLetsInAndItsMisuseDoesNot(t *testing.T) {
	s := openSite(t)
	a := s.joinsByPasskey()
	_, w := s.asksIn(a)
	var me Me
	decode(t, w.Body.Bytes(), &me)
	if w.Code != 200 || me.Person != "Ben" {
		t.Fatalf("signing in by passkey = %d %s, want Ben", w.Code, w.Body)
	}
	refuses := func(what string, status int, change func(*authenticator)) {
		t.Helper()
		copied := *a
		change(&copied)
		if _, w := s.asksIn(&copied); w.Code != status {
			t.Errorf("%s = %d %s, want %d", what, w.Code, w.Body, status)
		}
		a.counter = max(a.counter, copied.counter)
	}
	refuses("a page of another site", 401, func(a *authenticator) { a.origin = "https://dig.test.evil.example" })
	refuses("a page of another port", 401, func(a *authenticator) { a.origin = "https://dig.test:9" })
	refuses("a passkey of another server", 401, func(a *authenticator) { a.rp = "evil.example" })
	refuses("a lock that asked nobody", 401, func(a *authenticator) { a.flags = 0x01 })
	refuses("another key", 401, func(a *authenticator) { a.key = newAuthenticator(t).key })
	refuses("another's handle", 401, func(a *authenticator) { a.handle = b64.EncodeToString([]byte("somebody else")) })
	refuses("a copy whose counter goes back", 401, func(a *authenticator) { a.counter = 0 })
}

// What was answered once lets nobody in again, nor an answer to another
// challenge, nor one that comes too late or at another name.
func TestPasskeyCeremonyCountsOnce(t *testing.T) {
	s := openSite(t, Host{Name: "dig.test"}, Host{Name: "other.test"})
	a := s.joinsByPasskey()
	ceremony, challenge := a.ceremony(s.wants(200, "", "POST", "/api/sign-in/passkey", ""))
	answer := a.signs(challenge)
	if w := s.finishes(ceremony, answer); w.Code != 200 {
		t.Fatalf("signing in = %d %s", w.Code, w.Body)
	}
	if w := s.finishes(ceremony, answer); w.Code != 404 || key(w) != "store.no_ceremony" {
		t.Errorf("the same answer again = %d %s, want 404", w.Code, w.Body)
	}
	fresh, _ := a.ceremony(s.wants(200, "", "POST", "/api/sign-in/passkey", ""))
	if w := s.finishes(fresh, answer); w.Code != 401 {
		t.Errorf("an answer to another challenge = %d %s, want 401", w.Code, w.Body)
	}
	late, challenge := a.ceremony(s.wants(200, "", "POST", "/api/sign-in/passkey", ""))
	s.passes(ceremonyTime)
	if w := s.finishes(late, a.signs(challenge)); w.Code != 404 {
		t.Errorf("an answer after %v = %d %s, want 404", ceremonyTime, w.Code, w.Body)
	}
	elsewhere, challenge := a.ceremony(s.wants(200, "", "POST", "/api/sign-in/passkey", "", "Host", "other.test", "Origin", "https://other.test"))
	if w := s.finishes(elsewhere, a.signs(challenge)); w.Code != 404 {
		t.Errorf("a ceremony begun at another name = %d %s, want 404", w.Code, w.Body)
	}
	if err := s.store.RevokeDevice(t.Context(), "phone", "lost", "boss"); err != nil {
		t.Fatal(err)
	}
	if _, w := s.asksIn(a); w.Code != 401 {
		t.Errorf("the passkey of a lost phone = %d %s, want 401", w.Code, w.Body)
	}
}

// A passkey made for one invitation opens no other.
func TestPasskeyJoinsItsOwnInvitation(t *testing.T) {
	s := openSite(t)
	invite := func(person string) string {
		secret, _, err := s.store.Invite(t.Context(), store.Invitation{Person: person, Job: "yard", By: "boss"}, invitationTime)
		if err != nil {
			t.Fatal(err)
		}
		return secret
	}
	a := newAuthenticator(t)
	ceremony, challenge := a.ceremony(s.wants(200, "", "POST", "/api/invitations/passkey", text(map[string]string{"secret": invite("Ben"), "name": ""})))
	w := s.ask("", "POST", "/api/invitations/join", text(map[string]any{"secret": invite("Eva"), "name": "", "language": "en", "ceremony": ceremony, "credential": a.makes(challenge), "device": deviceBody("phone")}))
	if w.Code != 404 || key(w) != "store.no_ceremony" {
		t.Errorf("Ben's passkey at Eva's invitation = %d %s, want 404", w.Code, w.Body)
	}
	if w := s.ask("", "POST", "/api/invitations/join", text(map[string]any{"secret": invite("Gus"), "name": "", "language": "en", "ceremony": "x", "credential": map[string]string{}, "device": deviceBody("phone")})); w.Code != 404 {
		t.Errorf("joining by no ceremony = %d %s, want 404", w.Code, w.Body)
	}
}
