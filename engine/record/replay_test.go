package record

import (
	"encoding/json"
	"strings"
	"testing"

	"spadework/engine/unit"
)

// stateText is all that a state says, to compare states by.
func stateText(t testing.TB, st *State) string {
	t.Helper()
	st.Doubled = 0 // the one thing that depends on what came twice
	out, err := json.Marshal(st)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

func wantVerdict(t *testing.T, st *State, dig string, want Verdict) {
	t.Helper()
	if got := verdictOf(st, dig); got != want {
		t.Errorf("%s is %q, want %q", dig, got, want)
	}
}

func wantTag(t *testing.T, st *State, name string, want TagState) {
	t.Helper()
	if got := tagNamed(st, name); got.State != want {
		t.Errorf("tag %s is %q (%s), want %q", name, got.State, got.Why.Render("en", unit.Style{}), want)
	}
}

func TestADigIsGoodOnceClosed(t *testing.T) {
	s := newSite(t, "a")
	a := s.phones[0]
	one := s.add(a, setup("A1"))
	s.add(a, shotAt(one, "P1", 0.003))
	wantVerdict(t, s.state(), "P1", NotClosed)
	s.add(a, closeOf(one, "BM1", 0.001))
	wantVerdict(t, s.state(), "P1", Good)
	s.add(a, shotAt(one, "P2", 0))
	wantVerdict(t, s.state(), "P1", Good)
	wantVerdict(t, s.state(), "P2", NotClosed)
	wantTag(t, s.state(), "A1", TagLive)
}

func TestDeviationsAreJudgedByTheirOwnTolerance(t *testing.T) {
	for _, c := range []struct {
		off  unit.Length
		want Verdict
	}{{0.012, Good}, {0.0121, ToDig}, {-0.012, Good}, {-0.0121, OverDug}, {0, Good}} {
		s := newSite(t, "a")
		a := s.phones[0]
		one := s.add(a, setup("A1"))
		s.add(a, shotAt(one, "P1", c.off))
		s.add(a, closeOf(one, "BM1", 0))
		wantVerdict(t, s.state(), "P1", c.want)
	}
	s := newSite(t, "a")
	one := s.add(s.phones[0], setup("A1"))
	shot := shotAt(one, "P1", 0)
	shot.Above, shot.Below = nil, nil
	s.add(s.phones[0], shot)
	s.add(s.phones[0], closeOf(one, "BM1", 0))
	wantVerdict(t, s.state(), "P1", NoTolerance)
}

// TestWhatTakesNumbers: each of these leaves the tag without a number; a good
// close brings it back after the first group, nothing after the second.
func TestWhatTakesNumbers(t *testing.T) {
	for _, c := range []struct {
		name   string
		happen Payload
		comes  bool // back
	}{
		{"stopped", happened(KindStopped), true},
		{"alarm", happened(KindAlarm), true},
		{"restarted", happened(KindRestarted), true},
		{"battery", happened(KindBattery), true},
		{"break", &Handover{Ends: EndBreak}, true},
		{"dropped", happened(KindDropped), false},
		{"set up anew", setup("A2"), false},
		{"same tag", setup("A1"), false},
		{"night, not closed", &Handover{Ends: EndShift}, false},
	} {
		s := newSite(t, "a")
		a := s.phones[0]
		one := s.add(a, setup("A1"))
		s.add(a, shotAt(one, "P1", 0))
		s.add(a, c.happen)
		s.add(a, shotAt(one, "P2", 0))
		st := s.state()
		if got := tagOfSetup(st, one.ID); got.State == TagLive || got.Why.IsZero() {
			t.Errorf("%s: the tag is %s, because %v", c.name, got.State, got.Why)
		}
		if why := st.MayDig(At{Setup: one.ID}); why.IsZero() {
			t.Errorf("%s: a phone with the tag still has a number", c.name)
		}
		s.add(a, closeOf(one, "BM1", 0))
		s.add(a, shotAt(one, "P3", 0))
		s.add(a, closeOf(one, "BM1", 0))
		st = s.state()
		if got := tagOfSetup(st, one.ID).State == TagLive; got != c.comes {
			t.Errorf("%s: after a good close the tag is live: %v, want %v", c.name, got, c.comes)
		}
		if got := verdictOf(st, "P2"); got != AtRisk {
			t.Errorf("%s: a dig to a void number is %s, want %s", c.name, got, AtRisk)
		}
		if got := verdictOf(st, "P3") == Good; got != c.comes {
			t.Errorf("%s: a dig after a good close is good: %v, want %v", c.name, got, c.comes)
		}
		if got := verdictOf(st, "P1") == Good; got != c.comes {
			t.Errorf("%s: a dig before, closed after, is good: %v, want %v", c.name, got, c.comes)
		}
	}
}

func tagOfSetup(st *State, id ID) Tag {
	for _, t := range st.Tags {
		if t.Setup == id {
			return t
		}
	}
	return Tag{}
}

func TestATagClosedBeforeTheNightWaitsForTheMorning(t *testing.T) {
	s := newSite(t, "a")
	a := s.phones[0]
	one := s.add(a, setup("A1"))
	s.add(a, shotAt(one, "P1", 0))
	s.add(a, closeOf(one, "BM1", 0))
	s.add(a, &Handover{Ends: EndShift})
	st := s.state()
	wantTag(t, st, "A1", TagSuspended)
	wantVerdict(t, st, "P1", Good)
	s.add(a, closeOf(one, "BM2", 0))
	wantTag(t, s.state(), "A1", TagLive)
	if why := s.state().MayDig(At{Setup: one.ID, Today: "2026-05-05"}); why.Key != "record.void_overnight" {
		t.Errorf("MayDig on another day = %v, want it held back overnight", why)
	}
	if why := s.state().MayDig(At{Setup: one.ID, Today: "2026-05-04"}); !why.IsZero() {
		t.Errorf("MayDig on the day = %v, want a number", why)
	}
}

// TestABadCloseTakesEverythingSinceTheLastGoodOne, and two good points bring it
// back as a misread.
func TestABadCloseTakesEverythingSinceTheLastGoodOne(t *testing.T) {
	s := newSite(t, "a")
	a := s.phones[0]
	one := s.add(a, setup("A1"))
	s.add(a, shotAt(one, "P1", 0))
	s.add(a, closeOf(one, "BM1", 0.001))
	s.add(a, shotAt(one, "P2", 0))
	s.add(a, closeOf(one, "BM1", 0.009))
	check := func(p2 Verdict, tag TagState) {
		t.Helper()
		st := s.state()
		wantVerdict(t, st, "P1", Good)
		wantVerdict(t, st, "P2", p2)
		wantTag(t, st, "A1", tag)
	}
	check(AtRisk, TagSuspended)
	s.add(a, closeOf(one, "BM1", 0))
	check(AtRisk, TagSuspended)
	s.add(a, shotAt(one, "P3", 0))
	s.add(a, closeOf(one, "BM1", 0))
	check(AtRisk, TagSuspended) // one point twice is one point
	s.add(a, closeOf(one, "BM2", 0))
	check(Good, TagLive)
	wantVerdict(t, s.state(), "P3", AtRisk) // dug without a number
}

// TestABumpOnAnotherDevice: the other phone's alarm was before the dig, after
// it, or nobody knows.
func TestABumpOnAnotherDevice(t *testing.T) {
	for _, c := range []struct {
		name   string
		before bool // phone b tells its bump before the dig
		after  bool // phone b heard of the dig before the bump
		want   Verdict
	}{
		{"known before", true, false, AtRisk},
		{"known after", false, true, Good},
		{"unknown", false, false, AtRisk},
	} {
		s := newSite(t, "a", "b")
		a, b := s.phones[0], s.phones[1]
		one := s.add(a, setup("A1"))
		b.hear(a)
		if c.before {
			s.add(b, happened(KindAlarm))
			a.hear(b)
		}
		s.add(a, shotAt(one, "P1", 0))
		if c.after {
			b.hear(a)
		}
		if !c.before {
			s.add(b, happened(KindAlarm))
		}
		s.sync()
		s.add(a, closeOf(one, "BM1", 0))
		if got := verdictOf(s.state(), "P1"); got != c.want {
			t.Errorf("%s: the dig is %s, want %s", c.name, got, c.want)
		}
	}
}

// TestACloseOnAnotherPhoneCountsOnceItKnewOfTheDig.
func TestACloseOnAnotherPhoneCountsOnceItKnewOfTheDig(t *testing.T) {
	s := newSite(t, "a", "b")
	a, b := s.phones[0], s.phones[1]
	one := s.add(a, setup("A1"))
	b.hear(a)
	s.add(a, shotAt(one, "P1", 0))
	b.off = 3_600_000 // its clock says that the close came after
	s.add(b, closeOf(one, "BM1", 0))
	wantVerdict(t, s.state(), "P1", NotClosed)
	b.hear(a)
	s.add(b, closeOf(one, "BM1", 0))
	wantVerdict(t, s.state(), "P1", Good)
}

func TestTwoPhonesSetOneLaserUp(t *testing.T) {
	s := newSite(t, "a", "b")
	a, b := s.phones[0], s.phones[1]
	one := s.add(a, setup("A1"))
	two := s.add(b, setup("A2"))
	s.add(a, shotAt(one, "P1", 0))
	s.add(a, closeOf(one, "BM1", 0))
	st := s.state()
	wantTag(t, st, "A1", TagEnded)
	wantTag(t, st, "A2", TagEnded)
	wantVerdict(t, st, "P1", AtRisk)
	s.sync()
	three := s.add(a, setup("A3"))
	wantTag(t, s.state(), "A3", TagLive)
	for _, id := range []ID{one.ID, two.ID} {
		if why := s.state().MayDig(At{Setup: id}); why.IsZero() {
			t.Errorf("a phone that holds an older tag has a number")
		}
	}
	if why := s.state().MayDig(At{Setup: three.ID}); !why.IsZero() {
		t.Errorf("the live tag has no number: %v", why)
	}
}

// TestSensorsRestOnTheirTie: a bump after the tie does not move the machine's
// zero; moved tracks do.
func TestSensorsRestOnTheirTie(t *testing.T) {
	s := newSite(t, "a")
	a := s.phones[0]
	one := s.add(a, setup("A1"))
	tie := s.add(a, &Tie{Setup: one.ID, Machine: "M1", Elevation: ptr(unit.Elevation(100))})
	s.add(a, closeOf(one, "BM1", 0))
	s.add(a, happened(KindAlarm))
	from := func(dig string) {
		shot := shotAt(one, dig, 0)
		shot.Setup, shot.Tie, shot.From = ID{}, tie.ID, FromBucket
		s.add(a, shot)
	}
	from("P1")
	s.add(a, closeOf(one, "BM1", 0))
	wantVerdict(t, s.state(), "P1", Good)
	s.add(a, &MachineEvent{What: KindBucket, Machine: "M1"})
	from("P2")
	s.add(a, closeOf(one, "BM1", 0))
	st := s.state()
	wantVerdict(t, st, "P1", Good)
	wantVerdict(t, st, "P2", AtRisk)
	if st.Ties[0].Live || st.MayDig(At{Tie: tie.ID}).IsZero() {
		t.Errorf("the tie still lives after the bucket was changed")
	}
}

func TestAChangedBottomIsANewRevision(t *testing.T) {
	s := newSite(t, "a")
	a := s.phones[0]
	one := s.add(a, setup("A1"))
	s.add(a, shotAt(one, "P1", 0))
	direction := s.add(a, &Direction{Excavation: "P1", By: "engineer", Words: "a foot deeper", Bottom: ptr(unit.Elevation(96.7))})
	s.add(a, closeOf(one, "BM1", 0))
	st := s.state()
	wantVerdict(t, st, "P1", OldBottom)
	if p := st.Digs[0].Points[0]; p.Deviation != 0 {
		t.Errorf("the shot is judged by %v now, want its own bottom", p.Deviation)
	}
	again := shotAt(one, "P1", 0)
	again.Direction, again.Bottom, again.Reading = direction.ID, 96.7, ptr(unit.Reading(3.3))
	s.add(a, again)
	s.add(a, closeOf(one, "BM1", 0))
	wantVerdict(t, s.state(), "P1", Good)
	s.add(a, &Correction{Record: direction.ID, Of: KindDirection, Reason: "meant P2"})
	wantVerdict(t, s.state(), "P1", OldBottom)
	if !s.state().Digs[0].OpenBottom {
		t.Errorf("a direction taken back leaves the bottom settled")
	}
}

// TestCorrectionsTakeTrustAwayAndGiveNone.
func TestCorrectionsTakeTrustAwayAndGiveNone(t *testing.T) {
	s := newSite(t, "a")
	a := s.phones[0]
	one := s.add(a, setup("A1"))
	s.add(a, shotAt(one, "P1", 0))
	good := s.add(a, closeOf(one, "BM1", 0))
	s.add(a, shotAt(one, "P2", 0))
	bad := s.add(a, closeOf(one, "BM1", 0.02))
	s.add(a, &Correction{Record: bad.ID, Of: KindClose, Instead: closeOf(one, "BM1", 0), Reason: "read wrong"})
	wantVerdict(t, s.state(), "P2", AtRisk)
	wantVerdict(t, s.state(), "P1", Good)
	s.add(a, &Correction{Record: good.ID, Of: KindClose, Reason: "not read at all"})
	wantVerdict(t, s.state(), "P1", AtRisk)

	s = newSite(t, "a")
	a = s.phones[0]
	one = s.add(a, setup("A1"))
	s.add(a, shotAt(one, "P1", 0))
	out := s.add(a, shotAt(one, "P1", 0.1))
	s.add(a, closeOf(one, "BM1", 0))
	wantVerdict(t, s.state(), "P1", ToDig)
	withdraw := &Correction{Record: out.ID, Of: KindShot, Reason: "wrong pad"}
	s.add(a, withdraw)
	wantVerdict(t, s.state(), "P1", Withdrawn) // not the older one again
	s.add(a, &Correction{Record: out.ID, Of: KindShot, Instead: shotAt(one, "P1", 0.004), Reason: "read 2.9 for 3.0"})
	wantVerdict(t, s.state(), "P1", NotClosed)
	s.add(a, closeOf(one, "BM1", 0))
	st := s.state()
	wantVerdict(t, st, "P1", Good)
	if !st.Digs[0].Points[0].Corrected {
		t.Errorf("the dig does not say that its shot was corrected")
	}
	alarm := s.add(a, happened(KindAlarm))
	s.add(a, shotAt(one, "P3", 0))
	s.add(a, &Correction{Record: alarm.ID, Of: KindAlarm, Reason: "it was the radio"})
	s.add(a, closeOf(one, "BM1", 0))
	wantVerdict(t, s.state(), "P3", AtRisk)
}

func TestNobodyKnowsWhichShotIsNewest(t *testing.T) {
	s := newSite(t, "a", "b")
	a, b := s.phones[0], s.phones[1]
	one := s.add(a, setup("A1"))
	b.hear(a)
	s.add(a, shotAt(one, "P1", 0.1))
	b.off = 86_400_000 // a day fast: its good shot would be the newest
	s.add(b, shotAt(one, "P1", 0))
	s.sync()
	s.add(a, closeOf(one, "BM1", 0))
	st := s.state()
	wantVerdict(t, st, "P1", ToDig)
	if !st.Digs[0].Points[0].Several {
		t.Errorf("the point does not say that several shots compete")
	}
	s.add(b, shotAt(one, "P1", 0))
	s.sync()
	s.add(a, closeOf(one, "BM1", 0))
	wantVerdict(t, s.state(), "P1", Good)
}

func TestHoleShotsWaitForTheEntry(t *testing.T) {
	for _, c := range []struct {
		name string
		add  func(s *site, a *phone)
		want int
	}{
		{"nobody looked", func(*site, *phone) {}, 1},
		{"looked", func(s *site, a *phone) { s.add(a, &PersonEntry{At: Stamp{s.now, 0}, Saw: "dry"}) }, 0},
		{"looked at another dig", func(s *site, a *phone) { s.add(a, &PersonEntry{Excavation: "P9", At: Stamp{s.now, 0}, Saw: "dry"}) }, 1},
		{"rain since", func(s *site, a *phone) {
			s.add(a, &PersonEntry{Excavation: "P1", At: Stamp{s.now, 0}, Saw: "dry"})
			s.add(a, &Weather{Rain: true})
		}, 1},
		{"yesterday", func(s *site, a *phone) {
			s.add(a, &PersonEntry{Excavation: "P1", At: Stamp{s.now, 0}, Saw: "dry"})
			s.add(a, &Handover{Ends: EndShift})
		}, 1},
		{"taken back", func(s *site, a *phone) {
			e := s.add(a, &PersonEntry{Excavation: "P1", At: Stamp{s.now, 0}, Saw: "dry"})
			s.add(a, &Correction{Record: e.ID, Of: KindEntry, Reason: "that was P2"})
		}, 1},
	} {
		s := newSite(t, "a")
		a := s.phones[0]
		c.add(s, a)
		one := s.add(a, setup("A1"))
		shot := shotAt(one, "P1", 0)
		shot.From = FromHole
		s.add(a, shot)
		st := s.state()
		if got := len(st.Findings); got != c.want {
			t.Errorf("%s: %d findings, want %d", c.name, got, c.want)
		}
	}
}

func TestHoldsAndOverDigs(t *testing.T) {
	s := newSite(t, "a", "b")
	a, b := s.phones[0], s.phones[1]
	s.add(a, &Hold{Excavation: "P1", Hold: "steel", By: "I", Passed: true})
	s.add(a, &OverDig{Excavation: "P1", Depth: 0.05})
	if st := s.state(); !st.Holds[0].Passed || st.Digs[0].OverDigs != 1 {
		t.Errorf("passed %v, %d over-digs, want true and 1", st.Holds[0].Passed, st.Digs[0].OverDigs)
	}
	s.add(b, &Hold{Excavation: "P1", Hold: "steel", By: "I", Passed: false})
	s.add(a, &OverDig{Excavation: "P1", Depth: 0.05, Remedy: "lean concrete", Done: true})
	if st := s.state(); st.Holds[0].Passed || st.Digs[0].OverDigs != 0 {
		t.Errorf("passed %v, %d over-digs, want false: nobody knows which word is newest, and 0", st.Holds[0].Passed, st.Digs[0].OverDigs)
	}
	s.sync()
	again := s.add(a, &Hold{Excavation: "P1", Hold: "steel", By: "I", Passed: true})
	if st := s.state(); !st.Holds[0].Passed {
		t.Errorf("a hold passed after a refusal that was known is not passed")
	}
	s.add(a, &Correction{Record: again.ID, Of: KindHold, Reason: "not yet"})
	if st := s.state(); st.Holds[0].Passed {
		t.Errorf("a hold whose passing was taken back is passed")
	}
}

func TestClocksOff(t *testing.T) {
	s := newSite(t, "a")
	s.add(s.phones[0], setup("A1"))
	in := Input{Records: s.records(), Offsets: []Offset{{"a", 120_000}, {"b", 120_001}, {"c", -400_000}}}
	st := Replay(in)
	if len(st.Findings) != 2 || !strings.Contains(st.Findings[0].What.Render("en", unit.Style{}), "b runs 2 minutes ahead") {
		t.Errorf("findings of clocks: %v, want those of b and c", st.Findings)
	}
}
