package server

import (
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"net"
	"time"

	"github.com/go-webauthn/webauthn/protocol"
	"github.com/go-webauthn/webauthn/webauthn"

	"spadework/engine/phrase"
	"spadework/store"
)

// ceremonyTime is how long somebody may take to show a finger or a face.
const ceremonyTime = 5 * time.Minute

var errNobody = errors.New("no such person")

// relying is this server as a passkey knows it (W3C Web Authentication, 5.1.2):
// by the name that the request was sent to.
func relying(host string) (*webauthn.WebAuthn, error) {
	yes := true
	return webauthn.New(&webauthn.Config{
		RPID: hostName(host), RPDisplayName: "Spadework", RPOrigins: []string{"https://" + host},
		AttestationPreference: protocol.PreferNoAttestation,
		AuthenticatorSelection: protocol.AuthenticatorSelection{
			RequireResidentKey: &yes, ResidentKey: protocol.ResidentKeyRequirementRequired, UserVerification: protocol.VerificationRequired,
		},
	})
}

// holder is a person as passkeys know it.
type holder struct {
	name   string
	handle []byte
	keys   []webauthn.Credential
}

// WebAuthnID is the handle, which is chance.
func (h holder) WebAuthnID() []byte { return h.handle }

// WebAuthnName is the name.
func (h holder) WebAuthnName() string { return h.name }

// WebAuthnDisplayName is the name.
func (h holder) WebAuthnDisplayName() string { return h.name }

// WebAuthnCredentials are the passkeys.
func (h holder) WebAuthnCredentials() []webauthn.Credential { return h.keys }

// holderOf reads an account.
func (v *Server) holderOf(ctx context.Context, a store.Account) (holder, error) {
	handle, err := base64.RawURLEncoding.DecodeString(a.Handle)
	if err != nil {
		return holder{}, err
	}
	h := holder{name: a.Person, handle: handle}
	kept, err := v.store.Passkeys(ctx, a.Person)
	for _, k := range kept {
		var one webauthn.Credential
		if err := json.Unmarshal([]byte(k.Body), &one); err != nil {
			return h, err
		}
		h.keys = append(h.keys, one)
	}
	return h, err
}

// Ceremony is what a browser needs to make or use a passkey.
type Ceremony struct {
	Ceremony string          `json:"ceremony" doc:"to finish with, once"`
	Options  json.RawMessage `json:"options" doc:"as the W3C's Web Authentication writes them in JSON"`
}

type ceremonyOutput struct{ Body Ceremony }

// ceremonyKept is what is kept between the two halves.
type ceremonyKept struct {
	Session webauthn.SessionData `json:"session"`
	Name    string               `json:"name"`
	Host    string               `json:"host"`
}

func (v *Server) keepCeremony(ctx context.Context, options any, k ceremonyKept) (*ceremonyOutput, error) {
	secret, err := v.store.KeepCeremony(ctx, string(encoded(k)), ceremonyTime)
	if err != nil {
		return nil, err
	}
	return &ceremonyOutput{Ceremony{secret, encoded(options)}}, nil
}

// takeCeremony gives what was kept, if it was begun at the same name.
func (v *Server) takeCeremony(ctx context.Context, secret string) (k ceremonyKept, w *webauthn.WebAuthn, err error) {
	body, err := v.store.TakeCeremony(ctx, secret)
	if err != nil {
		return k, nil, err
	}
	if err := json.Unmarshal([]byte(body), &k); err != nil {
		return k, nil, err
	}
	host := callerOf(ctx).host
	if k.Host != host {
		return k, nil, fault(phrase.NotFound, "store.no_ceremony")
	}
	w, err = relying(host)
	return k, w, err
}

// beginPasskey begins to make one.
func (v *Server) beginPasskey(ctx context.Context, h holder) (*ceremonyOutput, error) {
	host := callerOf(ctx).host
	if v.onlineOnly(host) {
		return nil, fault(phrase.Conflict, "server.no_passkeys")
	}
	w, err := relying(host)
	if err != nil {
		return nil, err
	}
	var known []protocol.CredentialDescriptor
	for _, k := range h.keys {
		known = append(known, k.Descriptor())
	}
	options, session, err := w.BeginRegistration(h, webauthn.WithExclusions(known))
	if err != nil {
		return nil, err
	}
	return v.keepCeremony(ctx, options, ceremonyKept{*session, h.name, host})
}

// finishPasskey is the passkey that was made, for whom, and its handle.
func (v *Server) finishPasskey(ctx context.Context, secret string, made json.RawMessage) (p store.Passkey, k ceremonyKept, err error) {
	k, w, err := v.takeCeremony(ctx, secret)
	if err != nil {
		return p, k, err
	}
	response, err := protocol.ParseCredentialCreationResponseBytes(made)
	if err != nil {
		return p, k, fault(phrase.Invalid, "server.passkey")
	}
	one, err := w.CreateCredential(holder{name: k.Name, handle: k.Session.UserID}, k.Session, response)
	if err != nil {
		return p, k, fault(phrase.Invalid, "server.passkey")
	}
	return store.Passkey{ID: base64.RawURLEncoding.EncodeToString(one.ID), Person: k.Name, Body: string(encoded(one))}, k, nil
}

// beginSignIn begins to use one; which, the device knows.
func (v *Server) beginSignIn(ctx context.Context) (*ceremonyOutput, error) {
	host := callerOf(ctx).host
	if v.onlineOnly(host) {
		return nil, fault(phrase.Conflict, "server.no_passkeys")
	}
	w, err := relying(host)
	if err != nil {
		return nil, err
	}
	options, session, err := w.BeginDiscoverableLogin(webauthn.WithUserVerification(protocol.VerificationRequired))
	if err != nil {
		return nil, err
	}
	return v.keepCeremony(ctx, options, ceremonyKept{*session, "", host})
}

// finishSignIn is the person whose passkey was used.
func (v *Server) finishSignIn(ctx context.Context, secret string, used json.RawMessage) (string, error) {
	k, w, err := v.takeCeremony(ctx, secret)
	if err != nil {
		return "", err
	}
	response, err := protocol.ParseCredentialRequestResponseBytes(used)
	if err != nil {
		return "", fault(NotSignedIn, "server.not_let_in")
	}
	who, one, err := w.ValidatePasskeyLogin(func(_, handle []byte) (webauthn.User, error) {
		a, ok, err := v.store.AccountByHandle(ctx, base64.RawURLEncoding.EncodeToString(handle))
		if err != nil || !ok {
			return nil, errors.Join(errNobody, err)
		}
		return v.holderOf(ctx, a)
	}, k.Session, response)
	// A counter that goes back is a passkey that was copied (7.2, step 22).
	if err != nil || one.Authenticator.CloneWarning {
		return "", fault(NotSignedIn, "server.not_let_in")
	}
	return who.WebAuthnName(), v.store.UsePasskey(ctx, base64.RawURLEncoding.EncodeToString(one.ID), string(encoded(one)))
}

// hostName is a Host header without its port.
func hostName(host string) string {
	if name, _, err := net.SplitHostPort(host); err == nil {
		return name
	}
	return host
}
