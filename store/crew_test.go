package store

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"path/filepath"
	"testing"
	"time"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// phone makes records in tests.
type phone struct {
	job, name string
	person    string
	head      record.Head
}

const testDay = 1_777_881_600_000 // 2026-05-04T08:00:00Z

// write makes the phone's next record.
func (p *phone) write(payload record.Payload) (record.Record, *phrase.Fault) {
	var seq [8]byte
	binary.BigEndian.PutUint64(seq[:], uint64(p.head.Seq))
	sum := sha256.Sum256(append([]byte(p.job+"/"+p.name), seq[:]...))
	d := record.Draft{Job: p.job, Device: p.name, Person: p.person, Payload: payload, Time: record.Stamp{Millis: testDay, Offset: 0}}
	r, head, f := p.head.Next(d, testDay+p.head.Seq, [10]byte(sum[:10]))
	if f == nil {
		p.head = head
	}
	return r, f
}

func (p *phone) note(t testing.TB, words string) record.Record {
	t.Helper()
	r, f := p.write(&record.Note{Words: words})
	if f != nil {
		t.Fatal(f)
	}
	return r
}

func entries(list ...record.Record) []Entry {
	var out []Entry
	for _, r := range list {
		out = append(out, Entry{Body: r.Append(nil)})
	}
	return out
}

// eachStore runs a test on both databases.
func eachStore(t *testing.T, test func(t *testing.T, address string)) {
	t.Run("sqlite", func(t *testing.T) { test(t, filepath.Join(t.TempDir(), "store.db")) })
	t.Run("postgres", func(t *testing.T) { test(t, newPostgres(t)) })
}

// open opens a store with a job.
func open(t testing.TB, address string, o Options) *Store {
	t.Helper()
	if o.Now == nil {
		o.Now = func() time.Time { return time.UnixMilli(testDay) }
	}
	s, err := Open(context.Background(), address, o)
	if err != nil {
		t.Fatalf("Open: %v", err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

func openYard(t testing.TB, address string) *Store {
	t.Helper()
	s := open(t, address, Options{})
	if _, err := s.SaveJob(context.Background(), Edit{Job: "yard", Document: "[job]\n", Person: "ana"}); err != nil {
		t.Fatal(err)
	}
	return s
}

func mustAppend(t testing.TB, s *Store, job string, list []Entry) Ack {
	t.Helper()
	ack, err := s.Append(context.Background(), job, list)
	if err != nil {
		t.Fatalf("Append: %v", err)
	}
	return ack
}

func wantOutcomes(t testing.TB, ack Ack, want ...Outcome) {
	t.Helper()
	if len(ack.Answers) != len(want) {
		t.Fatalf("%d answers, want %d", len(ack.Answers), len(want))
	}
	for i, a := range ack.Answers {
		if a.Outcome != want[i] {
			t.Errorf("answer %d is %s (%v), want %s", i, a.Outcome, a.Why, want[i])
		}
	}
}
