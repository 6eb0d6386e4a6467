package store

import (
	"context"
	"crypto/sha256"
	"strings"
	"testing"

	"spadework/engine/record"
)

// filled is a store with something of everything.
func filled(t testing.TB, address string) *Store {
	t.Helper()
	ctx := context.Background()
	s := openYard(t, address)
	for n := range int64(3) {
		if _, err := s.SaveJob(ctx, Edit{Job: "yard", Base: n + 1, Document: "[job]\nname = \"Ñ " + strings.Repeat("i", int(n)) + "\"\n", Person: "ana"}); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := s.SaveJob(ctx, Edit{Job: "../quay", Document: "empty", Person: "ana"}); err != nil {
		t.Fatal(err)
	}
	if err := s.SavePerson(ctx, Person{"ana", "Ana", Foreman, "es"}); err != nil {
		t.Fatal(err)
	}
	if err := s.SaveDevice(ctx, Device{ID: "a", Person: "ana", Name: "phone"}); err != nil {
		t.Fatal(err)
	}
	if err := s.SaveDevice(ctx, Device{ID: "z", Person: "ana", Name: "old", Revoked: testDay, Reason: "lost"}); err != nil {
		t.Fatal(err)
	}
	a, b := phone{job: "yard", name: "a", person: "ana"}, phone{job: "yard", name: "b", person: "ben"}
	held := b.note(t, "held")
	accept, f := a.write(&record.Accept{Records: []record.ID{held.ID}, Reason: "known"})
	if f != nil {
		t.Fatal(f)
	}
	twin := a.note(t, "one")
	other := twin
	other.Payload = &record.Note{Words: "two"}
	mustAppend(t, s, "yard", []Entry{{held.Append(nil), "store.held_revoked"}})
	mustAppend(t, s, "yard", entries(accept, twin, other))
	z := phone{job: "yard", name: "z", person: "ana"}
	mustAppend(t, s, "yard", entries(z.note(t, "held for good")))
	picture := strings.Repeat("clay", chunkSize/3)
	if _, err := s.SavePhoto(ctx, record.Hash(sha256.Sum256([]byte(picture))), "image/jpeg", strings.NewReader(picture)); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestVerifyFindsEveryChange(t *testing.T) {
	changes := []struct{ name, query, want string }{
		{"a document", `UPDATE job_revision SET document = 'other' WHERE revision = 2`, "store.flaw_revision"},
		{"a revision gone", `DELETE FROM job_revision WHERE job = 'yard' AND revision = 2`, "store.flaw_revision"},
		{"a record", `UPDATE record SET body = replace(body, 'one', 'won') WHERE log_cursor = 3`, "store.flaw_record"},
		{"a record's hash", `UPDATE record SET hash = 'ff' WHERE log_cursor = 3`, "store.flaw_record"},
		{"the newest record gone", `DELETE FROM record WHERE log_cursor = 3`, "store.flaw_end"},
		{"the first record gone", `DELETE FROM record WHERE log_cursor = 1`, "store.flaw_record"},
		{"the cursor", `UPDATE job SET log_cursor = 2 WHERE id = 'yard'`, "store.flaw_end"},
		{"a receipt", `UPDATE job SET signed = signed + 1`, "store.flaw_receipt"},
		{"the receipt gone", `UPDATE job SET signature = ''`, "store.flaw_receipt"},
		{"an aside", `UPDATE quarantine SET body = replace(body, 'two', 'too')`, "store.flaw_aside"},
		{"a photo's chunk gone", `DELETE FROM photo_chunk WHERE number = 2`, "store.flaw_photo"},
	}
	eachStore(t, func(t *testing.T, address string) {
		ctx := context.Background()
		s := filled(t, address)
		if r, err := s.Verify(ctx); err != nil || !r.Sound() || r.Jobs != 2 || r.Revisions != 5 || r.Records != 3 || r.Asides != 3 || r.Photos != 1 {
			t.Fatalf("Verify = %+v, %v, want it sound with 2 jobs, 5 revisions, 3 records, 3 set aside, 1 photo", r, err)
		}
		for _, c := range changes {
			tx, err := s.write.BeginTx(ctx, nil)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := tx.ExecContext(ctx, c.query); err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			v := verifier{ctx: ctx, store: s, tx: tx}
			err = v.all()
			found := false
			for _, f := range v.Flaws {
				found = found || string(f.Key) == c.want
			}
			if err != nil || !found {
				t.Errorf("%s: flaws %v, %v, want %s", c.name, v.Flaws, err, c.want)
			}
			if err := tx.Rollback(); err != nil {
				t.Fatal(err)
			}
		}
	})
}

func TestVerifyTellsBrokenChains(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s := openYard(t, address)
		p := phone{job: "yard", name: "a", person: "ana"}
		one, _, three := p.note(t, "one"), p.note(t, "lost"), p.note(t, "three")
		mustAppend(t, s, "yard", entries(one, three))
		r, err := s.Verify(context.Background())
		if err != nil || !r.Sound() || len(r.Breaks) != 1 || r.Breaks[0].Flaw != record.Missing || r.Breaks[0].Seq != 3 {
			t.Errorf("Verify = %+v, %v, want one missing record before 3", r, err)
		}
	})
}
