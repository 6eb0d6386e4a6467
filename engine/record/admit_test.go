package record

import (
	"slices"
	"testing"

	"spadework/engine/phrase"
)

func statusOf(st *State, id ID) Status {
	for _, a := range st.Aside {
		if a.ID == id {
			return a.Status
		}
	}
	return Applied
}

func breaksOf(chains []Chain) []Break {
	var out []Break
	for _, c := range chains {
		out = append(out, c.Breaks...)
	}
	return out
}

// day is a phone's day of some records and the site.
func day(t *testing.T) (*site, []Record) {
	s := newSite(t, "a")
	one := s.add(s.phones[0], setup("A1"))
	for _, p := range []Payload{shotAt(one, "P1", 0), shotAt(one, "P2", 0), closeOf(one, "BM1", 0), &Note{Words: "done"}} {
		s.add(s.phones[0], p)
	}
	return s, s.records()
}

// TestEveryChangeButOfTheNewestShows: any record but the newest changed or
// taken away is named.
func TestEveryChangeButOfTheNewestShows(t *testing.T) {
	_, all := day(t)
	if b := breaksOf(Verify(all)); len(b) != 0 {
		t.Fatalf("breaks of a whole chain: %v", b)
	}
	for i := range all[:len(all)-1] {
		changed := slices.Clone(all)
		changed[i].Person = "somebody else"
		want := Break{Changed, "a", int64(i + 2), all[i+1].ID}
		if got := breaksOf(Verify(changed)); !slices.Contains(got, want) {
			t.Errorf("record %d changed: breaks %v, want %v", i+1, got, want)
		}
		if st := Replay(Input{Records: changed}); statusOf(st, all[i+1].ID) != Held {
			t.Errorf("record %d changed: the next is %s, want held", i+1, statusOf(st, all[i+1].ID))
		}
		gone := slices.Delete(slices.Clone(all), i, i+1)
		want.Flaw = Missing
		if got := breaksOf(Verify(gone)); len(got) != 1 || got[0] != want {
			t.Errorf("record %d gone: breaks %v, want %v", i+1, got, want)
		}
		if st := Replay(Input{Records: gone}); statusOf(st, all[i+1].ID) != Waiting {
			t.Errorf("record %d gone: the next is %s, want waiting", i+1, statusOf(st, all[i+1].ID))
		}
	}
	newest := slices.Clone(all)
	newest[len(all)-1].Person = "somebody else"
	if b := breaksOf(Verify(newest)); len(b) != 0 {
		t.Errorf("a change of the newest shows as %v; docs/records.md says it does not", b)
	}
}

func TestOneIDWithTwoContents(t *testing.T) {
	_, all := day(t)
	twin := all[1]
	twin.Person = "somebody else"
	st := Replay(Input{Records: append(slices.Clone(all), twin)})
	if st.Count != len(all) || len(st.Aside) != 1 || st.Aside[0].Status != Quarantined {
		t.Errorf("%d applied, aside %v; want the one that the chain names applied, the other in quarantine", st.Count, st.Aside)
	}
	last := all[len(all)-1]
	twin = last
	twin.Person = "somebody else"
	st = Replay(Input{Records: append(slices.Clone(all), twin)})
	if st.Count != len(all)-1 || len(st.Aside) != 2 {
		t.Errorf("%d applied, aside %v; want both in quarantine where no chain names one", st.Count, st.Aside)
	}
	if got := breaksOf(Verify(append(slices.Clone(all), twin))); len(got) != 2 || got[0].Flaw != Twice {
		t.Errorf("breaks %v, want both told as twice", got)
	}
}

// TestAForkIsHeldUntilAccepted: a phone restored from a copy writes a second
// record 4. Nothing after record 3 counts before the foreman accepts it, and
// then neither branch is known to come before the other.
func TestAForkIsHeldUntilAccepted(t *testing.T) {
	s, all := day(t)
	copied := &phone{t: t, name: "a", person: "P-a", head: HeadOf(all[2]), seen: map[string]ID{}, heads: map[string]int64{}}
	copied.made = make([]Record, 3)
	alarm := s.add(copied, happened(KindAlarm))
	records := append(s.records(), alarm)
	st := Replay(Input{Records: records})
	for _, r := range []Record{all[3], all[4], alarm} {
		if got := statusOf(st, r.ID); got != Held {
			t.Errorf("record %d of a fork is %s, want held", r.Seq, got)
		}
	}
	wantVerdict(t, st, "P1", NotClosed)
	boss := newSite(t, "boss")
	boss.now = s.now
	ids := []ID{all[3].ID, all[4].ID, alarm.ID}
	slices.SortFunc(ids, ID.Compare)
	ok := boss.add(boss.phones[0], &Accept{Records: ids, Reason: "both were on site"})
	records = append(records, ok)
	if st := Replay(Input{Records: records, Foremen: []string{"somebody else"}}); statusOf(st, alarm.ID) != Held {
		t.Errorf("anybody may accept")
	}
	st = Replay(Input{Records: records, Foremen: []string{"P-boss"}})
	if len(st.Aside) != 0 {
		t.Errorf("aside after the foreman accepted: %v", st.Aside)
	}
	wantVerdict(t, st, "P1", Good) // shot, then closed, whatever the other branch says later
	wantTag(t, st, "A1", TagSuspended)
}

func TestARevokedDeviceIsHeld(t *testing.T) {
	_, all := day(t)
	in := Input{Records: all, Revoked: []Revocation{{"a", 2, phrase.New("record.no_tag")}}}
	st := Replay(in)
	if st.Count != 2 || len(st.Aside) != 3 || st.Aside[0].Status != Held {
		t.Errorf("%d applied, aside %v; want 2 applied and 3 held", st.Count, st.Aside)
	}
	boss := newSite(t, "boss")
	ok := boss.add(boss.phones[0], &Accept{Records: []ID{all[2].ID, all[3].ID}, Reason: "he handed it in"})
	in.Records, in.Foremen = append(slices.Clone(all), ok), []string{"P-boss"}
	st = Replay(in)
	if st.Count != 5 || statusOf(st, all[4].ID) != Held {
		t.Errorf("%d applied, the last %s; want the two accepted in and the last held", st.Count, statusOf(st, all[4].ID))
	}
	// The word of a revoked device lets nobody in.
	in.Revoked = append(in.Revoked, Revocation{"boss", 0, phrase.Message{}})
	if st := Replay(in); st.Count != 2 {
		t.Errorf("%d applied on the word of a revoked device, want 2", st.Count)
	}
}

func TestCausesMissingAndInACircle(t *testing.T) {
	s := newSite(t, "a", "b")
	one := s.add(s.phones[0], setup("A1"))
	shot := s.add(s.phones[1], shotAt(one, "P1", 0))
	st := Replay(Input{Records: []Record{shot}})
	if st.Count != 0 || len(st.Aside) != 1 || st.Aside[0].Needs != one.ID {
		t.Errorf("aside %v, want the shot to wait for its set-up", st.Aside)
	}
	one.Causes = []ID{shot.ID}
	if st := Replay(Input{Records: []Record{shot, one}}); st.Count != 0 || len(st.Aside) != 2 {
		t.Errorf("%d applied of a circle, want none", st.Count)
	}
	if st := Replay(Input{Job: "elsewhere", Records: []Record{one}}); st.Count != 0 || st.Aside[0].Status != Quarantined {
		t.Errorf("a record of another job is %v, want it in quarantine", st.Aside)
	}
}
