package record

import (
	"bytes"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/unit"
)

// randomDay lets three phones, one with a wild clock, work, sync or not, and
// write whatever comes to mind.
func randomDay(t testing.TB, rt *rapid.T) *site {
	s := newSite(t, "a", "b", "c")
	s.phones[1].off = rapid.SampledFrom([]int64{0, -7_200_000, 90_000_000}).Draw(rt, "b's clock")
	var setups, ties, shots []Record
	pick := func(of []Record) Record { return of[rapid.IntRange(0, len(of)-1).Draw(rt, "which")] }
	off := func() float64 { return rapid.SampledFrom([]float64{0, 0.003, 0.02, -0.02}).Draw(rt, "off") }
	setups = append(setups, s.add(s.phones[0], setup("A1")))
	for i := range rapid.IntRange(1, 25).Draw(rt, "records") {
		p := s.phones[rapid.IntRange(0, 2).Draw(rt, "phone")]
		dig := rapid.SampledFrom([]string{"P1", "P2"}).Draw(rt, "dig")
		switch rapid.IntRange(0, 14).Draw(rt, "kind") {
		case 0:
			setups = append(setups, s.add(p, setup(rapid.SampledFrom([]string{"A2", "A3", "A4"}).Draw(rt, "tag"))))
		case 1:
			ties = append(ties, s.add(p, &Tie{Setup: pick(setups).ID, Machine: "M1"}))
		case 2:
			s.add(p, rapid.SampledFrom([]Payload{&MachineEvent{What: KindMoved, Machine: "M1"}, &MachineEvent{What: KindLifted, Machine: "M1"},
				&MachineEvent{What: KindSunk, Machine: "M1"}, &Poured{Excavation: dig}}).Draw(rt, "machine or concrete"))
		case 3:
			s.add(p, happened(rapid.SampledFrom([]Kind{KindAlarm, KindDropped, KindStopped}).Draw(rt, "event")))
		case 4:
			s.add(p, &Handover{Ends: rapid.SampledFrom(handoverEnds).Draw(rt, "ends")})
		case 5:
			s.add(p, &Direction{Excavation: dig, By: "E", Words: "w", Bottom: ptr(setup("x").Sights[0].Elevation)})
		case 6:
			if len(shots) > 0 {
				of := pick(shots)
				s.add(p, &Correction{Record: of.ID, Of: KindShot, Reason: "w"})
			}
		case 7:
			if len(ties) > 0 {
				shot := shotAt(setups[0], dig, 0)
				shot.Setup, shot.Tie = ID{}, pick(ties).ID
				shots = append(shots, s.add(p, shot))
			}
		case 8, 9, 10:
			s.add(p, closeOf(pick(setups), []string{"BM1", "BM2"}[i%2], setupOff(off())))
		default:
			shots = append(shots, s.add(p, shotAt(pick(setups), dig, setupOff(off()))))
		}
		if rapid.IntRange(0, 2).Draw(rt, "sync") == 0 {
			s.sync()
		}
	}
	return s
}

func setupOff(v float64) unit.Length { return unit.Length(v) }

func shuffled(rt *rapid.T, in []Record) []Record {
	out := slices.Clone(in)
	for i := len(out) - 1; i > 0; i-- {
		j := rapid.IntRange(0, i).Draw(rt, "swap")
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// TestArrivalOrderMeansNothing: law 1. Shuffled, doubled, or first a part and
// then the rest: one state.
func TestArrivalOrderMeansNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		all := randomDay(t, rt).records()
		want := stateText(t, Replay(Input{Records: all}))
		some := shuffled(rt, all)
		cut := rapid.IntRange(0, len(some)).Draw(rt, "cut")
		part := Replay(Input{Records: some[:cut]})
		if part.Count+len(part.Aside) != cut {
			rt.Fatalf("%d applied and %d aside of %d: a record was dropped", part.Count, len(part.Aside), cut)
		}
		rest := append(slices.Clone(some[cut:]), some[:cut]...)
		twice := append(rest, some[:rapid.IntRange(0, len(some)).Draw(rt, "again")]...)
		if got := stateText(t, Replay(Input{Records: twice})); got != want {
			rt.Fatalf("arrived otherwise:\n%s\nwant\n%s", got, want)
		}
	})
}

// TestClocksMeanNothing: law 2. Whatever the devices' clocks showed, and
// whatever hybrid clocks came of it, verdicts and tags are those of true clocks.
// The same hands write the same records; only the time each phone tells differs.
func TestClocksMeanNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		seed := randomDay(t, rt)
		skew := map[string]int64{}
		for _, p := range seed.phones {
			skew[p.name] = rapid.Int64Range(-1e8, 1e8).Draw(rt, "skew "+p.name)
		}
		a := Replay(Input{Records: seed.records()})
		b := Replay(Input{Records: retimed(seed.records(), skew)})
		for i := range a.Digs {
			if a.Digs[i].Verdict != b.Digs[i].Verdict {
				rt.Fatalf("%s is %s with one set of clocks and %s with another", a.Digs[i].Excavation, a.Digs[i].Verdict, b.Digs[i].Verdict)
			}
		}
		for _, x := range a.Tags {
			if y := tagOfSetup(b, x.Setup); x.State != y.State || x.Open != y.Open {
				rt.Fatalf("tag %s: %s with %d open, with other clocks %s with %d", x.Tag, x.State, x.Open, y.State, y.Open)
			}
		}
	})
}

// retimed gives every record the clock and time of a device that is off; chains
// and causes stay. Ids stay too: they name, they do not order.
func retimed(in []Record, skew map[string]int64) []Record {
	out := slices.Clone(in)
	last := map[string]Hash{}
	for i := range out {
		r := &out[i]
		r.Clock.Wall = max(0, r.Clock.Wall+skew[r.Device])
		r.Time.Millis += skew[r.Device]
		if r.Seq > 1 {
			r.Previous = last[r.Device]
		}
		last[r.Device] = r.Hash()
	}
	return out
}

// TestAnUnseenBumpNeverMakesADigGood: law 3. A phone that nobody heard from
// wrote of a bump, a fall or a night: no dig that was not good becomes good, and
// none stays good that may have come after it.
func TestAnUnseenBumpNeverMakesADigGood(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := randomDay(t, rt)
		before := s.state()
		dead := &phone{t: t, name: "dead", person: "D", seen: map[string]ID{}, heads: map[string]int64{},
			off: rapid.SampledFrom([]int64{-9e7, 0, 9e7}).Draw(rt, "clock")}
		var what Payload = happened(rapid.SampledFrom([]Kind{KindAlarm, KindDropped, KindStopped, KindRestarted, KindBattery}).Draw(rt, "bump"))
		if rapid.Bool().Draw(rt, "night") {
			what = &Handover{Ends: EndShift}
		}
		s.add(dead, what)
		after := Replay(Input{Records: append(s.records(), dead.made...)})
		for i, d := range after.Digs {
			if d.Verdict == Good {
				rt.Fatalf("%s is good although a phone wrote of a %s at a time nobody knows; before it was %q", d.Excavation, what.Kind(), before.Digs[i].Verdict)
			}
		}
		for _, tag := range after.Tags {
			if tag.State == TagLive {
				rt.Fatalf("tag %s has numbers although a phone wrote of a %s", tag.Tag, what.Kind())
			}
		}
	})
}

// slowGood asks of a dig by the plain rule, without lanes: is there a good close
// known to come after the shot, and is everything that may have touched the
// beam known to come after the shot or followed by a good close before it?
func slowGood(records []Record, shot Record) bool {
	known := map[ID]map[ID]bool{} // what is known to come before a record
	byID := map[ID]Record{}
	chain := map[string][]Record{}
	for _, r := range records {
		byID[r.ID] = r
		chain[r.Device] = append(chain[r.Device], r)
	}
	var past func(id ID) map[ID]bool
	past = func(id ID) map[ID]bool {
		if known[id] != nil {
			return known[id]
		}
		out := map[ID]bool{}
		r := byID[id]
		links := slices.Clone(r.Causes)
		if r.Seq > 1 {
			links = append(links, chain[r.Device][r.Seq-2].ID)
		}
		for _, l := range links {
			out[l] = true
			for x := range past(l) {
				out[x] = true
			}
		}
		known[id] = out
		return out
	}
	before := func(a, b ID) bool { return past(b)[a] }
	under := shot.Payload.(*CheckShot).Setup
	var closes []Record
	for _, r := range records {
		if c, ok := r.Payload.(*Close); ok && c.Setup == under && c.Good() {
			closes = append(closes, r)
		}
	}
	closed := slices.ContainsFunc(closes, func(c Record) bool { return before(shot.ID, c.ID) })
	for _, r := range records {
		if _, ok := r.Payload.(*LaserEvent); !ok || r.Kind() == KindDropped || before(r.ID, under) || before(shot.ID, r.ID) {
			continue
		}
		if !slices.ContainsFunc(closes, func(c Record) bool { return before(r.ID, c.ID) && before(c.ID, shot.ID) }) {
			return false
		}
	}
	return closed
}

// TestGoodAgainstThePlainRule: law 4. A shot that replay calls good is good by
// the rule written plainly; on days of set-up, shots, closes and alarms alone
// both say the same.
func TestGoodAgainstThePlainRule(t *testing.T) {
	both := [2]int{}
	rapid.Check(t, func(rt *rapid.T) {
		s := newSite(t, "a", "b", "c")
		one := s.add(s.phones[0], setup("A1"))
		var shots []Record
		for i := range rapid.IntRange(1, 20).Draw(rt, "records") {
			p := s.phones[rapid.IntRange(0, 2).Draw(rt, "phone")]
			switch rapid.IntRange(0, 4).Draw(rt, "kind") {
			case 0:
				s.add(p, happened(KindAlarm))
			case 1, 2:
				s.add(p, closeOf(one, "BM1", 0))
			default:
				shots = append(shots, s.add(p, shotAt(one, string(rune('A'+i)), 0)))
			}
			if rapid.Bool().Draw(rt, "sync") {
				s.sync()
			}
		}
		st := s.state()
		for _, shot := range shots {
			got, want := verdictOf(st, shot.Payload.(*CheckShot).Excavation) == Good, slowGood(s.records(), shot)
			if got != want {
				rt.Fatalf("shot %d of %s is good: %v, by the plain rule %v", shot.Seq, shot.Device, got, want)
			}
			if got {
				both[0]++
			} else {
				both[1]++
			}
		}
	})
	if both[0] == 0 || both[1] == 0 {
		t.Errorf("good %d times and not %d times: the law was not tried both ways", both[0], both[1])
	}
}

// TestWrittenAndReadBack: law 5.
func TestWrittenAndReadBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		for _, r := range randomDay(t, rt).records() {
			line := r.Append(nil)
			back, f := Decode(line)
			if f != nil || !bytes.Equal(back.Append(nil), line) {
				rt.Fatalf("%s comes back as %v, %v", line, back, f)
			}
		}
	})
}
