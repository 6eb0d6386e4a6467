package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"io"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

func TestJobKeepsEveryRevisionAndTellsALostRace(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		ctx := context.Background()
		s := openYard(t, address)
		two, err := s.SaveJob(ctx, Edit{Job: "yard", Base: 1, Document: "two", Person: "ana"})
		if err != nil || two.Number != 2 {
			t.Fatalf("SaveJob = revision %d, %v, want 2", two.Number, err)
		}
		again, err := s.SaveJob(ctx, Edit{Job: "yard", Base: 1, Document: "two", Person: "ana"})
		if err != nil || again.Number != 2 {
			t.Errorf("SaveJob of the same edit again = revision %d, %v, want 2", again.Number, err)
		}
		_, err = s.SaveJob(ctx, Edit{Job: "yard", Base: 1, Document: "other", Person: "ben"})
		var race *Race
		if !errors.As(err, &race) || race.Now.Document != "two" || race.Base == nil || race.Base.Document != "[job]\n" || race.Fault.Code != phrase.Conflict {
			t.Fatalf("SaveJob after a lost race: %v, want both revisions", err)
		}
		if _, err := s.SaveJob(ctx, Edit{Job: "yard", Document: "new", Person: "ben"}); !errors.As(err, &race) || race.Base != nil {
			t.Errorf("SaveJob of a job that is there: %v, want a race without a base", err)
		}
		for number, want := range map[int64]string{1: "[job]\n", 2: "two", 0: "two"} {
			if r, err := s.Revision(ctx, "yard", number); err != nil || r.Document != want {
				t.Errorf("Revision(%d) = %q, %v, want %q", number, r.Document, err, want)
			}
		}
		wantCode(t, "Revision of no job", second(s.Revision(ctx, "none", 0)), phrase.NotFound)
		wantCode(t, "SaveJob on no job", second(s.SaveJob(ctx, Edit{Job: "none", Base: 3, Person: "ana"})), phrase.NotFound)
	})
}

func second[T any](_ T, err error) error { return err }

func wantCode(t testing.TB, what string, err error, code phrase.Code) {
	t.Helper()
	var f *phrase.Fault
	if !errors.As(err, &f) || f.Code != code {
		t.Errorf("%s: %v, want a fault of code %s", what, err, code)
	}
}

func TestOneOfManyEditorsWins(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s := openYard(t, address)
		var wg sync.WaitGroup
		won := make(chan string, 8)
		for i := range 8 {
			wg.Go(func() {
				document := strings.Repeat("x", i+1)
				_, err := s.SaveJob(context.Background(), Edit{Job: "yard", Base: 1, Document: document, Person: "ana"})
				var race *Race
				if err == nil {
					won <- document
				} else if !errors.As(err, &race) {
					t.Errorf("SaveJob: %v, want a race", err)
				}
			})
		}
		wg.Wait()
		close(won)
		if r, err := s.Revision(context.Background(), "yard", 0); len(won) != 1 || err != nil || r.Number != 2 || r.Document != <-won {
			t.Errorf("%d editors won, newest revision %d, %v, want one and 2", len(won), r.Number, err)
		}
	})
}

func TestAppendIsIdempotentAndAnswersEachRecord(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		s := openYard(t, address)
		p, other := phone{job: "yard", name: "a", person: "ana"}, phone{job: "quay", name: "a", person: "ana"}
		one, two := p.note(t, "one"), p.note(t, "two")
		twin := one
		twin.Payload = &record.Note{Words: "other"}
		ack := mustAppend(t, s, "yard", append(entries(one, one, two, twin, other.note(t, "quay")), Entry{Body: []byte(`{"a": 1}`)}))
		wantOutcomes(t, ack, Stored, Known, Stored, Quarantined, Refused, Refused)
		if ack.Receipt == nil || ack.Receipt.Cursor != 2 || !ack.Receipt.Genuine(s.Key()) {
			t.Errorf("receipt %+v, want a genuine one at 2", ack.Receipt)
		}
		again := mustAppend(t, s, "yard", entries(two, one, twin))
		wantOutcomes(t, again, Known, Known, Quarantined)
		if *again.Receipt != *ack.Receipt {
			t.Errorf("receipt %+v after nothing new, want %+v", again.Receipt, ack.Receipt)
		}
		log, err := s.Records(context.Background(), "yard", 0, 10)
		if err != nil || len(log) != 2 || !bytes.Equal(log[0].Body, one.Append(nil)) || !bytes.Equal(log[1].Body, two.Append(nil)) {
			t.Errorf("log of %d records, %v, want one and two byte for byte", len(log), err)
		}
		if aside, err := s.Quarantine(context.Background(), "yard"); err != nil || len(aside) != 1 || !bytes.Equal(aside[0].Body, twin.Append(nil)) {
			t.Errorf("quarantine of %d records, %v, want the twin", len(aside), err)
		}
		forged := *ack.Receipt
		forged.Cursor++
		if forged.Genuine(s.Key()) {
			t.Error("a receipt of another cursor is genuine")
		}
		wantCode(t, "Append to no job", second(s.Append(context.Background(), "none", entries())), phrase.NotFound)
	})
}

func TestHeldRecordsEnterByAForemanAlone(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		ctx := context.Background()
		s := openYard(t, address)
		for _, p := range []Person{{"ana", "Ana", Foreman, "es"}, {"ben", "Ben", "operator", "en"}} {
			if err := s.SavePerson(ctx, p); err != nil {
				t.Fatal(err)
			}
		}
		if err := errors.Join(s.SaveDevice(ctx, Device{ID: "b", Person: "ben", Name: "phone"}), s.RevokeDevice(ctx, "b", "lost")); err != nil {
			t.Fatal(err)
		}
		a, b, c := phone{job: "yard", name: "a", person: "ana"}, phone{job: "yard", name: "b", person: "ben"}, phone{job: "yard", name: "c", person: "ben"}
		one, two, three := b.note(t, "one"), b.note(t, "two"), c.note(t, "three")
		wantOutcomes(t, mustAppend(t, s, "yard", entries(one)), Held)
		wantOutcomes(t, mustAppend(t, s, "yard", []Entry{{three.Append(nil), "store.held_revoked"}}), Held)
		accept := func(p *phone, ids ...record.ID) record.Record {
			slices.SortFunc(ids, record.ID.Compare)
			r, f := p.write(&record.Accept{Records: ids, Reason: "found again"})
			if f != nil {
				t.Fatal(f)
			}
			return r
		}
		d := phone{job: "yard", name: "d", person: "ben"}
		wantOutcomes(t, mustAppend(t, s, "yard", entries(accept(&d, one.ID))), Stored)
		wantOutcomes(t, mustAppend(t, s, "yard", entries(one)), Held) // no foreman
		wantOutcomes(t, mustAppend(t, s, "yard", entries(accept(&a, one.ID, two.ID))), Stored)
		wantOutcomes(t, mustAppend(t, s, "yard", entries(one, two, three)), Known, Stored, Held)
		log, err := s.Records(ctx, "yard", 0, 10)
		if err != nil || len(log) != 4 {
			t.Errorf("log of %d records, %v, want 4", len(log), err)
		}
		if err := s.SaveDevice(ctx, Device{ID: "b", Person: "ben", Name: "again"}); err != nil {
			t.Fatal(err)
		}
		if list, err := s.Devices(ctx); err != nil || len(list) != 1 || list[0].Revoked == 0 || list[0].Name != "again" {
			t.Errorf("devices %+v, %v, want one that stays revoked", list, err)
		}
	})
}

func TestPhotoIsKeptByItsDigest(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		ctx := context.Background()
		s := open(t, address, Options{PhotoLimit: 3 * chunkSize})
		picture := bytes.Repeat([]byte("spoil heap\x00"), 2*chunkSize/11+5)
		digest := record.Hash(sha256.Sum256(picture))
		for range 2 {
			if p, err := s.SavePhoto(ctx, digest, "image/jpeg", bytes.NewReader(picture)); err != nil || p.Size != int64(len(picture)) {
				t.Fatalf("SavePhoto = %d bytes, %v, want %d", p.Size, err, len(picture))
			}
		}
		p, r, err := s.Photo(ctx, digest)
		if err != nil || p.Media != "image/jpeg" {
			t.Fatalf("Photo: %v", err)
		}
		if got, err := io.ReadAll(r); err != nil || !bytes.Equal(got, picture) {
			t.Errorf("Photo gives %d bytes, %v, want the %d that came in", len(got), err, len(picture))
		}
		wantCode(t, "SavePhoto of other bytes", second(s.SavePhoto(ctx, digest, "image/jpeg", strings.NewReader("other"))), phrase.Invalid)
		endless := io.MultiReader(bytes.NewReader(picture), bytes.NewReader(picture), neverReached{t})
		wantCode(t, "SavePhoto over the limit", second(s.SavePhoto(ctx, digest, "image/jpeg", endless)), phrase.Invalid)
		_, _, err = s.Photo(ctx, record.Hash{1})
		wantCode(t, "Photo of none", err, phrase.NotFound)
	})
}

// neverReached fails a test that reads on past a limit.
type neverReached struct{ t *testing.T }

func (n neverReached) Read([]byte) (int, error) {
	n.t.Error("read on past the limit")
	return 0, io.EOF
}

// TestCursorOrderIsCommitOrder holds a transaction open that has taken a cursor
// while another server appends: the second's record must not be seen first.
func TestCursorOrderIsCommitOrder(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		ctx := context.Background()
		s, other := openYard(t, address), open(t, address, Options{})
		a, b := phone{job: "yard", name: "a", person: "ana"}, phone{job: "yard", name: "b", person: "ben"}
		first, next := a.note(t, "held open"), b.note(t, "meanwhile")
		tx, err := s.write.BeginTx(ctx, nil)
		if err != nil {
			t.Fatal(err)
		}
		l := &batch{job: "yard", arrivals: []arrival{readArrival("yard", entries(first)[0])}}
		if err := s.appendTo(overSQL{ctx, tx}, []*batch{l}); err != nil {
			t.Fatal(err)
		}
		done := make(chan Ack)
		go func() {
			ack, err := other.Append(ctx, "yard", entries(next))
			if err != nil {
				t.Errorf("Append: %v", err)
			}
			done <- ack
		}()
		select {
		case <-done:
			t.Error("a record was acknowledged past a cursor that is not committed")
		case <-time.After(300 * time.Millisecond):
		}
		if seen, err := other.Records(ctx, "yard", 0, 10); err != nil || len(seen) != 0 {
			t.Errorf("%d records seen before the commit, %v, want none", len(seen), err)
		}
		if err := tx.Commit(); err != nil {
			t.Fatal(err)
		}
		if ack := <-done; ack.Answers[0].Cursor != 2 {
			t.Errorf("cursor %d after the one held open, want 2", ack.Answers[0].Cursor)
		}
		if seen, err := other.Records(ctx, "yard", 1, 10); err != nil || len(seen) != 1 || !bytes.Equal(seen[0].Body, next.Append(nil)) {
			t.Errorf("reading on from 1 gives %d records, %v, want the second", len(seen), err)
		}
	})
}

func TestManyPhonesOnTwoServers(t *testing.T) {
	eachStore(t, func(t *testing.T, address string) {
		servers := []*Store{openYard(t, address), open(t, address, Options{})}
		const phones, notes = 8, 20
		var wg sync.WaitGroup
		for i := range phones {
			wg.Go(func() {
				p := phone{job: "yard", name: string(rune('a' + i)), person: "ana"}
				for n := range notes {
					list := entries(p.note(t, "n"))
					for k := range 1 + n%2 { // now and then sent to both
						if _, err := servers[(i+k)%2].Append(context.Background(), "yard", list); err != nil {
							t.Errorf("Append: %v", err)
						}
					}
				}
			})
		}
		wg.Wait()
		log, err := servers[0].Records(context.Background(), "yard", 0, 1000)
		if err != nil || len(log) != phones*notes {
			t.Fatalf("log of %d records, %v, want %d", len(log), err, phones*notes)
		}
		for i, l := range log {
			if l.Cursor != int64(i+1) {
				t.Fatalf("record %d has the cursor %d", i, l.Cursor)
			}
		}
	})
}
