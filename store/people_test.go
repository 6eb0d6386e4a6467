package store

import (
	"archive/zip"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"spadework/engine/phrase"
)

// clock is a time that a test moves.
type clock struct{ now atomic.Int64 }

func (c *clock) time() time.Time        { return time.UnixMilli(testDay + c.now.Load()) }
func (c *clock) passes(d time.Duration) { c.now.Add(d.Milliseconds()) }
func openAt(t *testing.T, address string) (*Store, *clock) {
	c := &clock{}
	return open(t, address, Options{Now: c.time}), c
}

// isForeman says that a person's acceptance counts in a job now.
func isForeman(ctx context.Context, q querier, person, job string) (bool, error) {
	var one int
	err := q.QueryRowContext(ctx, findForeman, person, job, Foreman).Scan(&one)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	return err == nil, err
}

// joins makes an account with roles in a job.
func joins(t *testing.T, s *Store, name, job string, roles ...string) {
	t.Helper()
	secret, _, err := s.Invite(t.Context(), Invitation{Person: name, Job: job, Roles: roles, By: "boss"}, time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	if p, err := s.Join(t.Context(), Joining{Secret: secret, Handle: "h-" + name, Password: "hash of " + name}); err != nil || p.ID != name {
		t.Fatalf("Join = %+v, %v, want %s", p, err, name)
	}
}

func signsIn(t *testing.T, s *Store, name, device, old string) string {
	t.Helper()
	secret, err := s.SignIn(t.Context(), SignIn{name, Device{ID: device, Name: device}, old})
	if err != nil {
		t.Fatal(err)
	}
	return secret
}

func TestInvitationOpensOnceAndNotForLong(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s, c := openAt(t, address)
		ctx := t.Context()
		secret, made, err := s.Invite(ctx, Invitation{Job: EveryJob, Roles: []string{Foreman}, By: "terminal"}, time.Hour)
		if err != nil || made.Ends != testDay+time.Hour.Milliseconds() {
			t.Fatalf("Invite ends %d, %v, want in an hour", made.Ends, err)
		}
		if i, err := s.Invited(ctx, secret); err != nil || !slices.Equal(i.Roles, []string{Foreman}) {
			t.Errorf("Invited = %+v, %v, want the foreman's", i, err)
		}
		wantCode(t, "Invited by a guess", second(s.Invited(ctx, NewSecret())), phrase.NotFound)
		wantCode(t, "Join without a name", second(s.Join(ctx, Joining{Secret: secret})), phrase.Invalid)
		if _, err := s.Join(ctx, Joining{Secret: secret, Name: "Ana", Handle: "1"}); err != nil {
			t.Errorf("Join = %v after a refused one, want that it did not use it up", err)
		}
		wantCode(t, "Join replayed", second(s.Join(ctx, Joining{Secret: secret, Name: "Eva", Handle: "2"})), phrase.NotFound)
		secret, _, _ = s.Invite(ctx, Invitation{Roles: []string{Operator}, By: "Ana"}, time.Hour)
		wantCode(t, "Join by a name that is taken", second(s.Join(ctx, Joining{Secret: secret, Name: "Ana", Handle: "3"})), phrase.Conflict)
		c.passes(time.Hour)
		wantCode(t, "Join too late", second(s.Join(ctx, Joining{Secret: secret, Name: "Eva", Handle: "2"})), phrase.NotFound)
		secret, made, _ = s.Invite(ctx, Invitation{Job: "yard", Person: "Ben", Roles: []string{Operator}, By: "Ana"}, time.Hour)
		if err := s.Withdraw(ctx, "yard", made.ID, "Ana"); err != nil {
			t.Error(err)
		}
		wantCode(t, "Join by what was taken back", second(s.Join(ctx, Joining{Secret: secret})), phrase.NotFound)
		_, _, err = s.Invite(ctx, Invitation{Roles: []string{"king"}}, time.Hour)
		wantCode(t, "Invite as a king", err, phrase.Invalid)
	})
}

// Of many who follow one link at once one gets in.
func TestInvitationIsRacedForOnce(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		servers := []*Store{open(t, address, Options{}), open(t, address, Options{})}
		secret, _, err := servers[0].Invite(t.Context(), Invitation{Roles: []string{Operator}}, time.Hour)
		if err != nil {
			t.Fatal(err)
		}
		var in atomic.Int32
		var wg sync.WaitGroup
		for i := range 8 {
			wg.Go(func() {
				name := string(rune('A' + i))
				if _, err := servers[i%2].Join(context.Background(), Joining{Secret: secret, Name: name, Handle: name}); err == nil {
					in.Add(1)
				}
			})
		}
		wg.Wait()
		if in.Load() != 1 {
			t.Errorf("%d got in by one link, want 1", in.Load())
		}
	})
}

func TestSessionIsRenewedAndEnded(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s, c := openAt(t, address)
		ctx := t.Context()
		joins(t, s, "Ana", EveryJob, Foreman)
		joins(t, s, "Ben", "yard", Operator)
		planted := signsIn(t, s, "Ana", "cab", "")
		c.passes(time.Minute)
		fresh := signsIn(t, s, "Ben", "cab", planted)
		if _, ok, err := s.Session(ctx, planted); ok || err != nil {
			t.Errorf("the secret of before a sign-in still opens (%v)", err)
		}
		v, ok, err := s.Session(ctx, fresh)
		if err != nil || !ok || v.Person != "Ben" || len(v.People) != 2 || v.Signed("Ben") != v.Signed("Ana")+60000 {
			t.Errorf("Session = %+v, %v, %v, want Ben at work with Ana signed in a minute before", v, ok, err)
		}
		if err := s.TakePerson(ctx, v.ID, "Ana"); err != nil {
			t.Error(err)
		}
		wantCode(t, "TakePerson of a stranger", s.TakePerson(ctx, v.ID, "Eva"), phrase.NotFound)
		if v, _, _ = s.Session(ctx, fresh); v.Person != "Ana" {
			t.Errorf("%s is at work after the change, want Ana", v.Person)
		}
		other := signsIn(t, s, "Ben", "phone", "")
		if list, err := s.Sessions(ctx); err != nil || len(list) != 2 {
			t.Errorf("%d sessions, %v, want 2", len(list), err)
		}
		if err := s.EndSession(ctx, v.ID, "Ana"); err != nil {
			t.Error(err)
		}
		wantCode(t, "EndSession again", s.EndSession(ctx, v.ID, "Ana"), phrase.NotFound)
		if v, ok, _ = s.Session(ctx, fresh); !ok || v.Live() {
			t.Errorf("Session = %v, live %v, want one that is known and ended", ok, v.Live())
		}
		if v, _, _ = s.Session(ctx, other); !v.Live() {
			t.Error("the other device's session ended too")
		}
		c.passes(SessionIdle + time.Minute)
		if v, _, _ = s.Session(ctx, other); v.Live() {
			t.Error("a session that nobody used for its time lives")
		}
	})
}

func TestRevokedDeviceIsOut(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s, _ := openAt(t, address)
		ctx := t.Context()
		joins(t, s, "Ben", "yard", Operator)
		secret := signsIn(t, s, "Ben", "phone", "")
		if err := s.AddPasskey(ctx, Passkey{ID: "k", Person: "Ben", Device: "phone", Body: "{}"}); err != nil {
			t.Fatal(err)
		}
		if err := s.RevokeDevice(ctx, "phone", "lost", "Ana"); err != nil {
			t.Fatal(err)
		}
		if v, ok, err := s.Session(ctx, secret); !ok || v.Live() || err != nil {
			t.Errorf("Session of a revoked device: known %v, live %v, %v", ok, v.Live(), err)
		}
		if keys, err := s.Passkeys(ctx, "Ben"); len(keys) != 0 || err != nil {
			t.Errorf("%d passkeys of a lost phone, %v, want none", len(keys), err)
		}
		_, err := s.SignIn(ctx, SignIn{"Ben", Device{ID: "phone", Name: "phone"}, ""})
		wantCode(t, "SignIn on a revoked device", err, phrase.Conflict)
	})
}

func TestRecoveryEndsWhatWasBefore(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s, _ := openAt(t, address)
		ctx := t.Context()
		joins(t, s, "Ben", "yard", Operator)
		secret := signsIn(t, s, "Ben", "phone", "")
		if err := s.AddPasskey(ctx, Passkey{ID: "k", Person: "Ben", Device: "phone", Body: "{}"}); err != nil {
			t.Fatal(err)
		}
		joins(t, s, "Ben", "yard", Checker)
		if v, _, _ := s.Session(ctx, secret); v.Live() {
			t.Error("the session of before lives")
		}
		keys, err := s.Passkeys(ctx, "Ben")
		if a, _, _ := s.Account(ctx, "Ben"); len(keys) != 0 || err != nil || a.Handle != "h-Ben" {
			t.Errorf("%d passkeys, handle %q, %v, want none and the same handle", len(keys), a.Handle, err)
		}
	})
}

func TestRolesAreGivenTakenAndTold(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s, _ := openAt(t, address)
		ctx := t.Context()
		joins(t, s, "Ana", EveryJob, Foreman)
		joins(t, s, "Ben", "yard", Operator)
		if err := s.SetRoles(ctx, RoleChange{"Ben", "yard", []string{Checker, Inspector}, "Ana"}); err != nil {
			t.Fatal(err)
		}
		var live []string
		all, err := s.Grants(ctx, "Ben")
		for _, g := range all {
			if g.Ended == 0 {
				live = append(live, g.Role)
			}
		}
		if err != nil || !slices.Equal(live, []string{Checker, Inspector}) || len(all) != 3 {
			t.Errorf("Ben's roles are %v of %d, %v, want checker and inspector of 3", live, len(all), err)
		}
		wantCode(t, "the last foreman's end", s.SetRoles(ctx, RoleChange{"Ana", EveryJob, nil, "Ana"}), phrase.Conflict)
		if may, err := isForeman(ctx, s.read, "Ana", "yard"); !may || err != nil {
			t.Errorf("Ana is foreman of the yard: %v, %v, want that the refused change changed nothing", may, err)
		}
		wantCode(t, "a stranger's role", s.SetRoles(ctx, RoleChange{"Eva", "yard", []string{Checker}, "Ana"}), phrase.NotFound)
		var told []string
		list, err := s.Audit(ctx, "yard")
		for _, a := range list {
			if a.Person == "Ben" {
				told = append(told, a.By+" "+string(a.Act)+" "+a.Detail)
			}
		}
		want := []string{"Ana granted inspector", "Ana granted checker", "Ana ended operator", "boss granted operator", "boss joined ", "boss invited operator"}
		if err != nil || !slices.Equal(told, want) {
			t.Errorf("the audit tells %q, %v, want %q", told, err, want)
		}
		if list, _ := s.Audit(ctx, "quay"); slices.ContainsFunc(list, func(a Audit) bool { return a.Job == "yard" }) {
			t.Error("the audit of the quay tells of the yard")
		}
	})
}

func TestServersCountTogether(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s, c := openAt(t, address)
		other := open(t, address, Options{Now: c.time})
		ctx := t.Context()
		for i, one := range []*Store{s, other, s} {
			if n, _, err := one.Count(ctx, "sign-in Ana", time.Minute); err != nil || n != int64(i+1) {
				t.Errorf("count %d, %v, want %d", n, err, i+1)
			}
		}
		if n, _, _ := s.Count(ctx, "sign-in Ben", time.Minute); n != 1 {
			t.Errorf("Ben's count is %d, want 1", n)
		}
		c.passes(time.Minute + time.Second)
		if n, _, _ := s.Count(ctx, "sign-in Ana", time.Minute); n != 1 {
			t.Errorf("count %d in the next window, want 1", n)
		}
	})
}

func TestCeremonyIsTakenOnce(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s, c := openAt(t, address)
		ctx := t.Context()
		secret, err := s.KeepCeremony(ctx, "body", time.Minute)
		if err != nil {
			t.Fatal(err)
		}
		if body, err := s.TakeCeremony(ctx, secret); body != "body" || err != nil {
			t.Errorf("TakeCeremony = %q, %v", body, err)
		}
		wantCode(t, "TakeCeremony again", second(s.TakeCeremony(ctx, secret)), phrase.NotFound)
		late, _ := s.KeepCeremony(ctx, "body", time.Minute)
		c.passes(time.Minute)
		wantCode(t, "TakeCeremony late", second(s.TakeCeremony(ctx, late)), phrase.NotFound)
	})
}

// A backup has what people sign in with; an export does not; neither has a
// session or an open invitation.
func TestBackupKeepsPeopleAndExportNoSecret(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s, _ := openAt(t, address)
		ctx := t.Context()
		joins(t, s, "Ana", EveryJob, Foreman)
		cookie := signsIn(t, s, "Ana", "phone", "")
		if err := s.AddPasskey(ctx, Passkey{ID: "k", Person: "Ana", Device: "phone", Body: "{}"}); err != nil {
			t.Fatal(err)
		}
		folder := t.TempDir()
		if _, err := s.Backup(ctx, filepath.Join(folder, "b.zip")); err != nil {
			t.Fatal(err)
		}
		z, err := zip.OpenReader(filepath.Join(folder, "b.zip"))
		if err != nil {
			t.Fatal(err)
		}
		defer z.Close()
		again := open(t, filepath.Join(folder, "again.db"), Options{})
		if _, err := again.Restore(ctx, z); err != nil {
			t.Fatal(err)
		}
		a, ok, err := again.Account(ctx, "Ana")
		keys, _ := again.Passkeys(ctx, "Ana")
		if may, _ := isForeman(ctx, again.read, "Ana", "yard"); !ok || err != nil || a.Password != "hash of Ana" || len(keys) != 1 || !may {
			t.Errorf("restored account %+v %v, %d passkeys, foreman %v, %v", a, ok, len(keys), may, err)
		}
		before, _ := s.Audit(ctx, "")
		if after, _ := again.Audit(ctx, ""); !slices.Equal(before, after) || len(after) < 3 {
			t.Errorf("the audit restored has %d entries, want the %d of before", len(after), len(before))
		}
		if _, known, _ := again.Session(ctx, cookie); known {
			t.Error("a session came through a backup")
		}
		out := filepath.Join(folder, "out")
		if err := s.Export(ctx, out); err != nil {
			t.Fatal(err)
		}
		err = fs.WalkDir(os.DirFS(out), ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := fs.ReadFile(os.DirFS(out), name)
			if strings.Contains(string(data), "hash of Ana") || strings.Contains(name, "passkey") {
				t.Errorf("the export's %s has a secret", name)
			}
			return err
		})
		if err != nil {
			t.Error(err)
		}
	})
}

// A backup of before there were roles per job: who was foreman is one of every
// job.
func TestOldBackupGivesItsForemanTheRole(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "old.db"), Options{})
	files := fstest.MapFS{}
	var m manifest
	m.Format = exportFormat
	for name, body := range map[string]string{
		"people.jsonl":  `{"id":"ana","name":"Ana","role":"foreman","language":"es"}` + "\n" + `{"id":"ben","name":"Ben","role":"operator","language":"en"}` + "\n",
		"devices.jsonl": "", "photos.jsonl": "", "jobs.jsonl": "",
	} {
		files[name] = &fstest.MapFile{Data: []byte(body)}
		m.Files = append(m.Files, manifestFile{name, int64(len(body)), hashed(body)})
	}
	data, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	files["manifest.json"] = &fstest.MapFile{Data: data}
	if _, err := s.Restore(t.Context(), files); err != nil {
		t.Fatal(err)
	}
	for person, want := range map[string]bool{"ana": true, "ben": false} {
		if got, err := isForeman(t.Context(), s.read, person, "yard"); got != want || err != nil {
			t.Errorf("%s is foreman: %v, %v, want %v", person, got, err, want)
		}
	}
}
