package server

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"spadework/engine/record"
	"spadework/store"
)

func sha(s string) [32]byte { return sha256.Sum256([]byte(s)) }

func contextFor(t *testing.T, d time.Duration) (context.Context, context.CancelFunc) {
	return context.WithTimeout(t.Context(), d)
}

// writer makes records.
type writer struct {
	job, device, person string
	head                record.Head
}

func phoneOf(job, device, person string) *writer {
	return &writer{job: job, device: device, person: person}
}

func (p *writer) writes(t *testing.T, payload record.Payload) []byte {
	t.Helper()
	var random [10]byte
	binary.BigEndian.PutUint64(random[:], uint64(time.Now().UnixNano()))
	r, head, f := p.head.Next(record.Draft{Job: p.job, Device: p.device, Person: p.person, Payload: payload}, 1_777_881_600_000+p.head.Seq, random)
	if f != nil {
		t.Fatal(f)
	}
	p.head = head
	return r.Append(nil)
}

const goodPassword = "ditch spoon lantern 9"

func deviceBody(id string) map[string]string { return map[string]string{"id": id, "name": id} }

// setCookie is the session's cookie of an answer.
func setCookie(t *testing.T, h http.Header) *http.Cookie {
	t.Helper()
	for _, c := range (&http.Response{Header: h}).Cookies() {
		if c.Name == cookieName {
			return c
		}
	}
	t.Fatalf("no cookie in %v", h)
	return nil
}

// first lets the first foreman in, by the link that a start prints.
func (s *site) first(name string) *http.Cookie {
	s.Helper()
	path, err := FirstLink(s.Context(), s.store)
	if err != nil {
		s.Fatal(err)
	}
	secret := strings.TrimPrefix(path, "/#/invited/")
	w := s.wants(200, "", "POST", "/api/invitations/join", text(map[string]any{
		"secret": secret, "name": name, "language": "en", "password": goodPassword, "device": deviceBody("laptop")}))
	return setCookie(s.T, w.Header())
}

func TestFirstLinkMakesTheForemanWhoInvitesOthers(t *testing.T) {
	s := openSite(t)
	old, err := FirstLink(t.Context(), s.store)
	if err != nil {
		t.Fatal(err)
	}
	ana := s.first("Ana")
	w := s.wants(404, "", "POST", "/api/invitations/look", text(map[string]string{"secret": strings.TrimPrefix(old, "/#/invited/")}))
	if key(w) != "store.no_invitation" {
		t.Errorf("the link of the start before = %s, want that it counts no more", w.Body)
	}
	var made struct {
		Path string
		Code Code
		ID   string
	}
	decode(t, s.wants(200, ana.Value, "POST", "/api/jobs/yard/invitations", `{"person":"  Ben  Ruiz ","roles":["operator","checker"],"every_job":false}`).Body.Bytes(), &made)
	if made.Code.Size < 21+2*codeQuiet || !strings.HasPrefix(made.Code.Path, "M4 4h7v1h-7z") {
		t.Errorf("the code is %d wide and begins %.20s, want a finder of 7 modules inside the border (ISO/IEC 18004, 5.3.2)", made.Code.Size, made.Code.Path)
	}
	secret := strings.TrimPrefix(made.Path, "/#/invited/")
	var to InvitedTo
	decode(t, s.wants(200, "", "POST", "/api/invitations/look", text(map[string]string{"secret": secret})).Body.Bytes(), &to)
	if to.Person != "Ben Ruiz" || to.Job != "yard" || len(to.Roles) != 2 || !to.Passkeys {
		t.Errorf("the invitation is %+v, want Ben Ruiz's with two roles in the yard", to)
	}
	join := func(password string) string {
		return text(map[string]any{"secret": secret, "name": "somebody else", "language": "es", "password": password, "device": deviceBody("cab")})
	}
	for password, want := range map[string]string{"short": "server.password_length", "aaaaaaaaaaaaaaaaaaaaa": "server.password_plain", strings.Repeat("ab ", 80): "server.password_length"} {
		if w := s.wants(422, "", "POST", "/api/invitations/join", join(password)); key(w) != want {
			t.Errorf("joining with %q = %s, want %s", password, w.Body, want)
		}
	}
	var me Me
	decode(t, s.wants(200, "", "POST", "/api/invitations/join", join(goodPassword)).Body.Bytes(), &me)
	if me.Person != "Ben Ruiz" || len(me.Roles) != 2 {
		t.Errorf("me = %+v, want Ben Ruiz with two roles", me)
	}
	if w := s.wants(404, "", "POST", "/api/invitations/join", join(goodPassword)); key(w) != "store.no_invitation" {
		t.Errorf("the invitation replayed = %s", w.Body)
	}
	late, _, err := s.store.Invite(t.Context(), store.Invitation{Person: "Eva", Job: "yard"}, invitationTime)
	if err != nil {
		t.Fatal(err)
	}
	s.passes(invitationTime)
	s.wants(404, "", "POST", "/api/invitations/look", text(map[string]string{"secret": late}))
}

func decode(t *testing.T, data []byte, into any) {
	t.Helper()
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", data, err)
	}
}

// A cookie that somebody planted before a sign-in is worth nothing after it, and
// what it names stays nobody's.
func TestSessionIsNotFixed(t *testing.T) {
	s := openSite(t)
	s.first("Ana")
	signIn := text(map[string]any{"name": "Ana", "password": goodPassword, "device": deviceBody("cab")})
	invented := s.wants(200, "planted", "POST", "/api/sign-in/password", signIn)
	if c := setCookie(t, invented.Header()); c.Value == "planted" || len(c.Value) < 43 {
		t.Errorf("the cookie after a sign-in is %q, want chance of 256 bits", c.Value)
	}
	s.wants(401, "planted", "GET", "/api/jobs", "")
	s.joins("Ben", "yard", store.Operator)
	bens := setCookie(t, invented.Header()).Value // a real session of the same device
	again := setCookie(t, s.wants(200, bens, "POST", "/api/sign-in/password", signIn).Header()).Value
	if again == bens {
		t.Error("a sign-in keeps the cookie of before")
	}
	s.wants(401, bens, "GET", "/api/jobs", "")
	s.wants(200, again, "GET", "/api/jobs", "")
}

func TestCookieIsBoundToItsHost(t *testing.T) {
	s := openSite(t)
	c := s.first("Ana")
	if !strings.HasPrefix(c.Name, "__Host-") || !c.Secure || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Path != "/" || c.Domain != "" || c.MaxAge <= 0 {
		t.Errorf("the cookie is %+v, want __Host-, Secure, HttpOnly, SameSite=Strict, Path=/, no Domain", c)
	}
	gone := setCookie(t, s.wants(204, c.Value, "POST", "/api/sign-out", "").Header())
	if gone.MaxAge >= 0 || gone.Value != "" {
		t.Errorf("the cookie after signing out is %+v, want it gone", gone)
	}
	s.wants(401, c.Value, "GET", "/api/jobs", "")
}

// No page of another site can act through the browser.
func TestForeignPagesCannotAct(t *testing.T) {
	s := openSite(t)
	c := s.first("Ana").Value
	body := `{"person":"Ben","roles":["foreman"],"every_job":true}`
	for name, headers := range map[string][]string{
		"another site":         {"Origin", "https://evil.example", "Sec-Fetch-Site", "cross-site"},
		"the site without TLS": {"Origin", "http://" + siteHost},
		"another port":         {"Origin", "https://dig.test:9", "Sec-Fetch-Site", "same-site"},
		"no word of where":     {"Origin", "", "Sec-Fetch-Site", ""},
		"a foreign form":       {"Origin", "null", "Sec-Fetch-Site", "cross-site"},
		"another name":         {"Host", "evil.example"},
	} {
		if w := s.ask(c, "POST", "/api/jobs/yard/invitations", body, headers...); w.Code != 403 {
			t.Errorf("from %s = %d %s, want 403", name, w.Code, w.Body)
		}
	}
	s.wants(403, c, "GET", "/api/jobs", "", "Sec-Fetch-Site", "cross-site")
	s.wants(200, "", "GET", "/", "", "Sec-Fetch-Site", "cross-site") // the foreman's link in a message
	s.wants(200, c, "POST", "/api/jobs/yard/invitations", body)
	if w := s.ask(c, "POST", "/api/jobs/yard/invitations", body, "Content-Type", "text/plain"); w.Code/100 == 2 {
		t.Errorf("a body of text/plain, which a foreign form could send, = %d", w.Code)
	}
}

func TestAttemptsAreLimited(t *testing.T) {
	s := openSite(t)
	s.first("Ana")
	try := func(name, password, from string) int {
		return s.ask("", "POST", "/api/sign-in/password", text(map[string]any{"name": name, "password": password, "device": deviceBody("d")}), "From-Address", from).Code
	}
	for range perPerson {
		if got := try("Ana", "wrong", "203.0.113.9:1"); got != 401 {
			t.Fatalf("a wrong password = %d, want 401", got)
		}
	}
	if got := try("Ana", goodPassword, "203.0.113.10:1"); got != 429 {
		t.Errorf("the right password after %d wrong ones = %d, want 429", perPerson, got)
	}
	s.passes(limitWindow)
	if got := try("Ana", goodPassword, "203.0.113.10:1"); got != 200 {
		t.Errorf("the right password in the next window = %d, want 200", got)
	}
	last := 0
	for range perAddress + 1 {
		last = s.ask("", "POST", "/api/invitations/look", `{"secret":"guess"}`, "From-Address", "[2001:db8::1]:1").Code
	}
	if last != 429 {
		t.Errorf("guess %d of a link = %d, want 429", perAddress+1, last)
	}
	if got := s.ask("", "POST", "/api/invitations/look", `{"secret":"guess"}`, "From-Address", "[2001:db8::2]:1").Code; got != 429 {
		t.Errorf("a guess from another address of the same network = %d, want 429", got)
	}
	if got := s.ask("", "POST", "/api/invitations/look", `{"secret":"guess"}`, "From-Address", "[2001:db8:0:1::2]:1").Code; got != 404 {
		t.Errorf("a guess from elsewhere = %d, want 404", got)
	}
}

// Nothing of what somebody could get in with is logged.
func TestSecretsAreNeverLogged(t *testing.T) {
	s := openSite(t)
	path, err := FirstLink(t.Context(), s.store)
	if err != nil {
		t.Fatal(err)
	}
	secret := strings.TrimPrefix(path, "/#/invited/")
	s.wants(200, "", "POST", "/api/invitations/look", text(map[string]string{"secret": secret}))
	cookie := setCookie(t, s.wants(200, "", "POST", "/api/invitations/join", text(map[string]any{
		"secret": secret, "name": "Ana", "language": "en", "password": goodPassword, "device": deviceBody("laptop")})).Header()).Value
	s.ask(cookie, "GET", "/api/me?cookie="+cookie, "")
	s.ask("", "POST", "/api/sign-in/password", text(map[string]any{"name": "Ana", "password": "wrong " + goodPassword, "device": deviceBody("d")}))
	s.ask("", "POST", "/api/sign-in/password", `{"password":"`+goodPassword+`"`)
	var c Ceremony
	decode(t, s.wants(200, cookie, "POST", "/api/me/passkeys", "").Body.Bytes(), &c)
	s.ask(cookie, "POST", "/api/me/passkeys/finish", text(map[string]any{"ceremony": c.Ceremony, "credential": map[string]string{"id": "x"}}))
	var made struct{ Path string }
	decode(t, s.wants(200, cookie, "POST", "/api/jobs/yard/invitations", `{"person":"Ben","roles":["operator"],"every_job":false}`).Body.Bytes(), &made)
	a, _, err := s.store.Account(t.Context(), "Ana")
	if err != nil {
		t.Fatal(err)
	}
	log := s.log.String()
	if !strings.Contains(log, "/api/invitations/join") || strings.Count(log, "\n") < 7 {
		t.Fatalf("the log has not the requests: %s", log)
	}
	for name, secret := range map[string]string{"first link": secret, "cookie": cookie, "password": goodPassword, "ceremony": c.Ceremony,
		"invitation": strings.TrimPrefix(made.Path, "/#/invited/"), "hash": a.Password, "handle": a.Handle} {
		if strings.Contains(log, secret) {
			t.Errorf("the log has the %s", name)
		}
	}
}

// A cab's phone changes its person in one request; each of them writes records
// by the own roles, and what was never theirs is held.
func TestSharedPhoneChangesItsPerson(t *testing.T) {
	s := openSite(t)
	s.joins("Ben", "yard", store.Operator)
	s.joins("Cleo", "yard", store.Inspector)
	s.joins("Dara", "yard", store.Operator)
	sign := func(name, old string) string {
		secret, err := s.store.SignIn(t.Context(), store.SignIn{Person: name, Device: store.Device{ID: "cab", Name: "cab"}, Old: old})
		if err != nil {
			t.Fatal(err)
		}
		return secret
	}
	c := sign("Ben", sign("Cleo", ""))
	var me Me
	decode(t, s.wants(200, c, "PUT", "/api/me/person", `{"person":"Cleo"}`).Body.Bytes(), &me)
	if me.Person != "Cleo" || len(me.People) != 2 || me.Roles[0].Role != store.Inspector {
		t.Errorf("me = %+v, want Cleo the inspector", me)
	}
	cab := phoneOf("yard", "cab", "Ben")
	alarm := cab.writes(t, &record.LaserEvent{What: record.KindAlarm, Laser: "L1", Words: "beeps"})
	cab.person = "Cleo"
	cleos := cab.writes(t, &record.LaserEvent{What: record.KindAlarm, Laser: "L1", Words: "beeps"})
	note := cab.writes(t, &record.Note{Words: "looked"})
	cab.person = "Dara"
	daras := cab.writes(t, &record.Note{Words: "not here"})
	other := phoneOf("yard", "another", "Ben").writes(t, &record.Note{Words: "another phone's"})
	s.pushes(c, []string{"stored", "held store.held_kind", "stored", "held store.held_person", "held store.held_device"}, alarm, cleos, note, daras, other)
}

// pushes sends records and holds what becomes of them, with the reason that the
// quarantine keeps.
func (s *site) pushes(cookie string, want []string, bodies ...[]byte) {
	s.Helper()
	raw := make([]json.RawMessage, len(bodies))
	for i, b := range bodies {
		raw[i] = b
	}
	var out struct{ Answers []Answer }
	decode(s.T, s.wants(200, cookie, "POST", "/api/jobs/yard/records", text(map[string]any{"device": deviceBody("x"), "records": raw})).Body.Bytes(), &out)
	asides, err := s.store.Quarantine(s.Context(), "yard")
	if err != nil {
		s.Fatal(err)
	}
	for i, a := range out.Answers {
		got := a.Outcome
		for _, aside := range asides {
			if string(aside.Body) == string(bodies[i]) && aside.Status == "held" {
				got += " " + string(aside.Reason)
			}
		}
		if got != want[i] {
			s.Errorf("record %d is %s, want %s", i, got, want[i])
		}
	}
}

// What comes after a role was lost, a session ended or a device was revoked is
// held, not refused and not applied; the foreman's accepting record lets it in;
// nothing is read there any more.
func TestLostRightsHoldRecordsTillTheForemanAccepts(t *testing.T) {
	s := openSite(t)
	ana := s.first("Ana").Value
	s.joins("Ben", "yard", store.Operator)
	ben := s.cookie("Ben")
	phone := phoneOf("yard", "phone of Ben", "Ben")
	s.pushes(ben, []string{"stored"}, phone.writes(t, &record.Note{Words: "before"}))
	s.wants(200, ana, "PUT", "/api/jobs/yard/people/Ben", `{"roles":[],"every_job":false}`)
	late := phone.writes(t, &record.Note{Words: "after the role"})
	s.pushes(ben, []string{"held store.held_role"}, late)
	s.wants(403, ben, "GET", "/api/jobs/yard/records", "")
	s.wants(200, ana, "PUT", "/api/jobs/yard/people/Ben", `{"roles":["operator"],"every_job":false}`)
	v, _, err := s.store.Session(t.Context(), ben)
	if err != nil {
		t.Fatal(err)
	}
	s.wants(204, ana, "DELETE", "/api/jobs/yard/sessions/"+v.ID, "")
	later := phone.writes(t, &record.Note{Words: "after the session"})
	s.pushes(ben, []string{"held store.held_session"}, later)
	if w := s.wants(401, ben, "GET", "/api/jobs/yard/records", ""); key(w) != "server.session_ended" {
		t.Errorf("reading by an ended session = %s", w.Body)
	}
	again := s.cookie("Ben")
	s.wants(204, ana, "POST", "/api/jobs/yard/devices/phone%20of%20Ben/revoke", `{"reason":"lost"}`)
	last := phone.writes(t, &record.Note{Words: "after the phone"})
	s.pushes(again, []string{"held store.held_session"}, last)
	var set struct{ Asides []AsideLine }
	decode(t, s.wants(200, ana, "GET", "/api/jobs/yard/quarantine", "").Body.Bytes(), &set)
	if len(set.Asides) != 3 || !strings.Contains(set.Asides[0].Reason, "no role in this job") {
		t.Errorf("the quarantine is %+v, want three with their reasons", set.Asides)
	}
	ids := []record.ID{}
	for _, body := range [][]byte{late, later} {
		r, f := record.Decode(body)
		if f != nil {
			t.Fatal(f)
		}
		ids = append(ids, r.ID)
	}
	if ids[0].Compare(ids[1]) > 0 {
		ids[0], ids[1] = ids[1], ids[0]
	}
	laptop := phoneOf("yard", "laptop", "Ana")
	s.pushes(ana, []string{"stored"}, laptop.writes(t, &record.Accept{Records: ids, Reason: "Ben was there"}))
	rows, err := s.store.Records(t.Context(), "yard", 0, 10)
	if err != nil || len(rows) != 4 {
		t.Errorf("the log has %d records, %v, want 4: Ben's first, the acceptance and the two let in", len(rows), err)
	}
}

// Who has a part in another job, or in every job, is not taken over from one.
func TestForemanOfOneJobReachesNoFurther(t *testing.T) {
	s := openSite(t)
	s.first("Ana")
	s.joins("Fay", "yard", store.Foreman)
	s.joins("Gus", "yard", store.Operator)
	s.joins("Gus", "quay", store.Operator)
	fay := s.cookie("Fay")
	for _, name := range []string{"Ana", "Gus"} {
		if w := s.wants(403, fay, "POST", "/api/jobs/yard/invitations", `{"person":"`+name+`","roles":["operator"],"every_job":false}`); key(w) != "server.not_over" {
			t.Errorf("a new invitation for %s = %s, want server.not_over", name, w.Body)
		}
	}
	s.wants(403, fay, "POST", "/api/jobs/yard/invitations", `{"person":"Eve","roles":["foreman"],"every_job":true}`)
	s.wants(403, fay, "PUT", "/api/jobs/yard/people/Fay", `{"roles":["foreman"],"every_job":true}`)
	s.wants(200, fay, "POST", "/api/jobs/yard/invitations", `{"person":"Eve","roles":["foreman"],"every_job":false}`)
	s.wants(200, fay, "PUT", "/api/jobs/yard/people/Gus", `{"roles":[],"every_job":false}`)
	anas, _, err := s.store.Session(t.Context(), s.cookie("Ana"))
	if err != nil {
		t.Fatal(err)
	}
	s.wants(403, fay, "DELETE", "/api/jobs/yard/sessions/"+anas.ID, "")
}

// Long after somebody proved who it is, work goes on and rights do not change.
func TestRightsChangeOnlyFreshly(t *testing.T) {
	s := openSite(t)
	ana := s.first("Ana").Value
	s.passes(freshFor + time.Minute)
	s.wants(200, ana, "GET", "/api/jobs/yard/people", "")
	if w := s.wants(401, ana, "POST", "/api/jobs/yard/invitations", `{"person":"Ben","roles":[],"every_job":false}`); key(w) != "server.sign_in_again" {
		t.Errorf("inviting a day later = %s, want server.sign_in_again", w.Body)
	}
	now := setCookie(t, s.wants(200, ana, "POST", "/api/sign-in/password", text(map[string]any{"name": "Ana", "password": goodPassword, "device": deviceBody("laptop")})).Header()).Value
	s.wants(200, now, "POST", "/api/jobs/yard/invitations", `{"person":"Ben","roles":[],"every_job":false}`)
}

func TestAuditTellsEveryChangeOfRights(t *testing.T) {
	s := openSite(t)
	ana := s.first("Ana").Value
	s.joins("Ben", "yard", store.Operator)
	ben := s.cookie("Ben")
	s.wants(200, ana, "PUT", "/api/jobs/yard/people/Ben", `{"roles":["checker"],"every_job":false}`)
	s.wants(204, ben, "PUT", "/api/me/password", `{"password":"`+goodPassword+`"}`)
	s.wants(204, ana, "POST", "/api/jobs/yard/devices/phone%20of%20Ben/revoke", `{"reason":"lost"}`)
	var out struct{ Changes []store.Audit }
	decode(t, s.wants(200, ana, "GET", "/api/jobs/yard/audit", "").Body.Bytes(), &out)
	told := map[store.Act]string{}
	for _, c := range out.Changes {
		if c.Person == "Ben" {
			told[c.Act] = c.By
		}
	}
	for act, by := range map[store.Act]string{store.ActInvited: "boss", store.ActGranted: "boss", store.ActEnded: "Ana", store.ActPassword: "Ben", store.ActRevoked: "Ana", store.ActSignedIn: "Ben"} {
		if told[act] != by {
			t.Errorf("the audit tells %s of Ben by %q, want by %q", act, told[act], by)
		}
	}
}

// By an address browsers keep no page and make no passkey.
func TestAddressIsOnlineOnly(t *testing.T) {
	s := openSite(t, Host{Name: "192.0.2.1"}, Host{Name: "self.test", OnlineOnly: true}, Host{Name: "dig.test"})
	for host, want := range map[string]bool{"192.0.2.1:8471": true, "self.test": true, "dig.test": false} {
		var me Me
		decode(t, s.wants(200, "", "GET", "/api/me", "", "Host", host).Body.Bytes(), &me)
		if me.OnlineOnly != want || me.Passkeys == want {
			t.Errorf("me at %s = %+v, want online only %v", host, me, want)
		}
	}
	if w := s.wants(409, "", "POST", "/api/sign-in/passkey", "", "Host", "192.0.2.1:8471", "Origin", "https://192.0.2.1:8471"); key(w) != "server.no_passkeys" {
		t.Errorf("a passkey at an address = %s", w.Body)
	}
}

// The reference implementation's own test vector (phc-winner-argon2, test.c,
// Argon2id v1.3, t = 2, m = 2^16, p = 1).
func TestPasswordIsArgon2id(t *testing.T) {
	const kept = "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc"
	if !verifyPassword(kept, "password") || verifyPassword(kept, "Password") {
		t.Error("the published hash fits another password than its own")
	}
	for _, wrong := range []string{"", "$argon2i$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFh", "$argon2id$v=16$m=65536,t=2,p=1$c29tZXNhbHQ$CTFh", "$argon2id$v=19$m=65536,t=0,p=1$c29tZXNhbHQ$CTFh", "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$", nobodysPassword} {
		if verifyPassword(wrong, "password") {
			t.Errorf("%q fits", wrong)
		}
	}
}

// Bodies of sign-in have their own bound.
func TestSignInBodiesAreBounded(t *testing.T) {
	s := openSite(t)
	if w := s.ask("", "POST", "/api/sign-in/password", `{"name":"`+strings.Repeat("x", maxSmall)+`"}`); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("a body of more than %d bytes = %d, want 413", maxSmall, w.Code)
	}
}

func TestHostNames(t *testing.T) {
	for name, want := range map[string]bool{"laptop.local": true, "dig.example.net": true, "192.0.2.1": true, "2001:db8::1": true, "laptop": true,
		"": false, "localhost": false, "-x.test": false, "a b": false, "dig.test:8471": false, "https://dig.test": false, "x..y": false, "*.test": false} {
		if f := CheckHost(name); (f == nil) != want {
			t.Errorf("CheckHost(%q) = %v, want good %v", name, f, want)
		}
	}
}

// A stream that was opened in good time ends with the session that opened it.
func TestStreamEndsWithItsSession(t *testing.T) {
	s := openSite(t)
	ana := s.first("Ana").Value
	s.joins("Ben", "yard", store.Operator)
	ben := s.cookie("Ben")
	v, _, err := s.store.Session(t.Context(), ben)
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan int)
	ctx, cancel := contextFor(t, 20*time.Second)
	defer cancel()
	go func() {
		r := httptest.NewRequest("GET", "https://"+siteHost+"/api/jobs/yard/events", nil)
		r.AddCookie(&http.Cookie{Name: cookieName, Value: ben})
		w := httptest.NewRecorder()
		s.server.ServeHTTP(w, r.WithContext(ctx))
		ended <- w.Code
	}()
	for s.server.counts.streams.Load() == 0 {
		time.Sleep(5 * time.Millisecond)
	}
	time.Sleep(100 * time.Millisecond) // it listens by now
	s.wants(204, ana, "DELETE", "/api/jobs/yard/sessions/"+v.ID, "")
	select {
	case <-ended:
	case <-time.After(heartbeat / 2):
		t.Error("the stream of an ended session goes on")
	}
}

// What keeps a page to itself is sent with every answer; HSTS where the
// certificate is the site's own.
func TestHeadersOfASite(t *testing.T) {
	s := openSite(t)
	for path, policy := range map[string]string{"/api/me": "default-src 'none'; frame-ancestors 'none'", "/api/nothing": "default-src 'none'; frame-ancestors 'none'"} {
		h := s.ask("", "GET", path, "").Header()
		for name, want := range map[string]string{"Content-Security-Policy": policy, "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
			"Cross-Origin-Resource-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin", "Cache-Control": "no-store", "Strict-Transport-Security": ""} {
			if got := h.Get(name); got != want {
				t.Errorf("%s of %s = %q, want %q", name, path, got, want)
			}
		}
	}
	own := New(s.store, Options{Log: slog.New(slog.DiscardHandler), Hosts: []Host{{Name: "dig.test"}}, HSTS: true})
	defer own.Close()
	w := httptest.NewRecorder()
	own.ServeHTTP(w, httptest.NewRequest("GET", "https://"+siteHost+"/api/me", nil))
	if got := w.Header().Get("Strict-Transport-Security"); got != "max-age=31536000" {
		t.Errorf("HSTS by an own certificate = %q, want a year", got)
	}
}

// No request that the document describes, or nearly so, makes a server with
// people fail, whoever sends it.
func TestDescribedRequestsNeverFailASite(t *testing.T) {
	s := openSite(t)
	s.joins("Ana", store.EveryJob, store.Foreman)
	s.joins("Ben", "yard", store.Operator)
	cookies := []string{"", "nobody's", s.cookie("Ana"), s.cookie("Ben")}
	var d description
	decode(t, s.wants(200, "", "GET", "/api/openapi.json", "").Body.Bytes(), &d)
	type one struct{ path, method string }
	var all []one
	for path, operations := range d.Paths {
		for method := range operations {
			if !strings.HasSuffix(path, "/events") && path != "/api/sign-out" {
				all = append(all, one{path, method})
			}
		}
	}
	slices.SortFunc(all, func(a, b one) int { return strings.Compare(a.path+a.method, b.path+b.method) })
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		q := rapid.SampledFrom(all).Draw(t, "operation")
		op := d.Paths[q.path][q.method]
		path := q.path
		for _, p := range op.Parameters {
			value := strings.Trim(text(d.drawn(t, p.Schema, 5)), `"`)
			if p.Name == "job" && rapid.Bool().Draw(t, "known") {
				value = "yard"
			}
			path = strings.ReplaceAll(path, "{"+p.Name+"}", url.PathEscape(value))
		}
		body := ""
		if op.RequestBody != nil {
			for _, media := range op.RequestBody.Content {
				body = text(d.drawn(t, media.Schema, 0))
			}
		}
		if u, err := url.Parse("https://" + siteHost + path); err != nil || u.Path == "" {
			t.Skip("no such address")
		}
		cookie := rapid.SampledFrom(cookies).Draw(t, "who")
		w := s.ask(cookie, strings.ToUpper(q.method), path, body, "From-Address", "198.51.100."+itoa(n%250)+":1", "If-Match", `"1"`)
		if w.Code >= 500 {
			t.Fatalf("%s %s with %.300s = %d %.300s, want less than 500", q.method, path, body, w.Code, w.Body)
		}
	})
}

// Two servers on one store share sessions, limits and ceremonies.
func TestServersOnOneStoreShareSessions(t *testing.T) {
	s := openSite(t)
	ana := s.first("Ana").Value
	other := &site{T: t, store: s.store, log: s.log, clock: s.time()}
	other.server = New(s.store, Options{Log: slog.New(slog.DiscardHandler), Hosts: []Host{{Name: "dig.test"}}, Now: s.time})
	defer other.server.Close()
	other.wants(200, ana, "GET", "/api/jobs", "")
	wrong := text(map[string]any{"name": "Ana", "password": "wrong", "device": deviceBody("d")})
	for i := range perPerson {
		[]*site{s, other}[i%2].wants(401, "", "POST", "/api/sign-in/password", wrong)
	}
	for _, one := range []*site{s, other} {
		one.wants(429, "", "POST", "/api/sign-in/password", wrong)
	}
	other.wants(204, ana, "POST", "/api/sign-out", "")
	s.wants(401, ana, "GET", "/api/jobs", "")
}

// What each role adds, held against what docs/people.md tells: written here by
// hand, apart from the server's table.
func TestRecordKindsByRole(t *testing.T) {
	told := map[string]string{ // F foreman, O operator, C checker, P competent person, I inspector
		"setup": "FOC", "dial_proof": "FOC", "beam_mark": "FOC", "tie": "FOC", "shot": "FOC", "close": "FOC", "laser_stopped": "FOC", "laser_alarm": "FOC",
		"laser_restarted": "FOC", "laser_dropped": "FOC", "battery": "FOC", "over_dig": "FOC", "handover": "FOC", "poured": "FOC",
		"machine_moved": "FO", "bucket_changed": "FO", "lifted": "FO", "sunk": "FO", "ticket": "FO",
		"exposed": "FOCP", "rock": "FOCP", "water": "FOCP", "unsuitable": "FOCP", "weather": "FOCP",
		"note": "FOCPI", "photo": "FOCPI", "correction": "FOCPI",
		"entry": "FP", "hold": "FPI", "sign_off": "FPI", "direction": "F", "accept": "F",
	}
	letters := map[string]string{store.Foreman: "F", store.Operator: "O", store.Checker: "C", store.Competent: "P", store.Inspector: "I"}
	if len(record.Kinds()) != len(told) {
		t.Errorf("there are %d kinds of records and %d are told", len(record.Kinds()), len(told))
	}
	for _, kind := range record.Kinds() {
		for role, letter := range letters {
			if got, want := slices.Contains(kindsOf(role), kind), strings.Contains(told[kind], letter); got != want {
				t.Errorf("%s adds %s: %v, want %v", role, kind, got, want)
			}
		}
	}
	// A correction needs the right to what it corrects.
	for role, want := range map[string]bool{store.Foreman: true, store.Operator: true, store.Inspector: false, store.Competent: false} {
		if got := adds([]string{role}, &record.Correction{Of: record.KindShot}); got != want {
			t.Errorf("%s corrects a shot: %v, want %v", role, got, want)
		}
	}
}
