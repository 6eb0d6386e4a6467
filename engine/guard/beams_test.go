package guard

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// wantBeam checks state and numbers of the first tag, and that words in both
// languages are said.
func wantBeam(t *testing.T, what string, b Beam, state watch.State, numbers bool, words ...string) {
	t.Helper()
	if b.State != state || b.Numbers != numbers {
		t.Errorf("%s: the beam is %s, numbers %v, want %s, %v\n%s", what, b.State, b.Numbers, state, numbers, spoken(b, phrase.English))
	}
	both := spoken(b, phrase.English) + "\n" + spoken(b, phrase.Spanish)
	for _, w := range words {
		if !strings.Contains(both, w) {
			t.Errorf("%s: %q is not said in\n%s", what, w, both)
		}
	}
}

// TestADayWithABump walks the steps: set up, dig, a good close, a knock that nobody
// saw, a bad close, the same read again, the next points, and what hangs on it.
func TestADayWithABump(t *testing.T) {
	c := newCrew(t, yardPlan(t, tiltingLaser, ""), "a")
	a := c.phones[0]
	s := c.add(a, setup("A1"))
	wantBeam(t, "set up", c.beam(), watch.Holds, true, "the beam holds", "el rayo se mantiene")
	c.add(a, shot(s, 1, 0))
	wantBeam(t, "dug", c.beam(), watch.Holds, true, "F1 not closed", "check shots that agree clear nothing", "coincidan no prueba nada")
	c.add(a, closeOn(s, "BM1", 0.001))
	c.add(a, closeOn(s, "BM2", -0.001))
	c.add(a, closeOn(s, "BM3", 0.001))
	good := c.beam()
	wantBeam(t, "closed", good, watch.Holds, true)
	if len(good.Digs) != 1 || !(good.Digs[0].Out < 0.05) || !good.Digs[0].Closed {
		t.Errorf("closed: digs %+v, want F1 closed and hardly out", good.Digs)
	}
	for n := 2; n <= 6; n++ {
		c.wait(20).add(a, shot(s, n, 0))
	}
	c.add(a, &record.Poured{Excavation: "F3"})
	// It leans down to the east by 5 mm in ten metres about the laser.
	c.add(a, closeOn(s, "BM1", 0.015))
	wantBeam(t, "first bad close", c.beam(), watch.ReadAgain, false, "stop digging to this beam", "read the rod on BM1 again", "deje de excavar", "lea la mira en BM1 otra vez")
	c.add(a, closeOn(s, "BM1", 0.0155))
	wantBeam(t, "read again", c.beam(), watch.ReadNext, false, "it is the same again. Now read BM", "sale lo mismo. Ahora lea BM")
	c.add(a, closeOn(s, "BM2", -0.015))
	two := c.beam()
	if two.Verdict.Shift.Lean {
		t.Error("a direction of lean from two points")
	}
	c.add(a, closeOn(s, "BM3", 0.0005))
	b := c.beam()
	wantBeam(t, "all read", b, watch.BeamMoved, false, "the beam has moved", "el rayo se movió", "it leans down towards", "baja hacia",
		"F3 has concrete in: leave it, and tell the foreman now", "F3 ya tiene concreto")
	if !(math.Abs(float64(b.Verdict.Shift.Falls)-math.Pi/2) <= 0.2) || !(math.Abs(float64(b.Verdict.Shift.Grade)-5e-4) <= 1e-4) {
		t.Errorf("leans towards %.3f by %.2e, want 1.571 by 5e-4 (tol 0.2, 1e-4: readings of 2 mm)", b.Verdict.Shift.Falls, b.Verdict.Shift.Grade)
	}
	for _, d := range b.Digs {
		if d.Excavation == "F1" && !(d.Out < 0.05) {
			t.Errorf("F1, closed before the bump, is out with a chance of %.3f", d.Out)
		}
	}
	if len(b.Verdict.Foreman) != 1 || b.Verdict.Foreman[0].Dig != "F3" || len(b.Verdict.Shoot) != 4 {
		t.Errorf("foreman %v, shoot %v, want F3 and the four others since the last good close", b.Verdict.Foreman, b.Verdict.Shoot)
	}
	c.add(a, setup("A2"))
	all := c.beams()
	wantBeam(t, "set up anew", all[0], watch.BeamMoved, false, "A1 has ended", "the beam had moved before this set-up ended", "under the new set-up shoot")
	wantBeam(t, "the new tag", all[1], watch.Holds, true)
	if all[0].Next != nil || all[1].Next == nil {
		t.Error("an ended tag is to be closed, or the new one never")
	}
}

// TestAMisreadAndAMovedPoint: one odd reading asks for another; an odd point that
// the others do not share is left out, and the beam is not blamed.
func TestAMisreadAndAMovedPoint(t *testing.T) {
	c := newCrew(t, yardPlan(t, levelLaser, ""), "a")
	a := c.phones[0]
	s := c.add(a, setup("A1"))
	c.add(a, shot(s, 1, 0))
	c.add(a, closeOn(s, "BM1", 0.1))
	wantBeam(t, "far off", c.beam(), watch.ReadAgain, false, "read the rod on BM1 again")
	c.add(a, closeOn(s, "BM1", 0.001))
	c.add(a, closeOn(s, "BM2", 0.001))
	wantBeam(t, "a misread", c.beam(), watch.Holds, true)

	c = newCrew(t, yardPlan(t, levelLaser, ""), "a")
	a = c.phones[0]
	s = c.add(a, setup("A1"))
	c.add(a, shot(s, 1, 0))
	for _, one := range []struct {
		point string
		off   unit.Length
	}{{"BM1", 0.025}, {"BM1", 0.026}, {"BM2", 0}, {"BM3", 0.001}} {
		c.add(a, closeOn(s, one.point, one.off))
	}
	b := c.beam()
	if b.State != watch.PointOff || b.Verdict.Point != "BM1" || b.Numbers {
		t.Errorf("a moved benchmark: %s %q, numbers %v, want point_off BM1 without numbers", b.State, b.Verdict.Point, b.Numbers)
	}
}

// TestNoNumberBeforeAClose: after each of these none, until a close.
func TestNoNumberBeforeAClose(t *testing.T) {
	for _, happen := range []record.Payload{event(record.KindStopped), event(record.KindAlarm), event(record.KindRestarted), event(record.KindBattery),
		&record.Handover{Ends: record.EndBreak}} {
		c := newCrew(t, yardPlan(t, levelLaser, ""), "a")
		a := c.phones[0]
		s := c.add(a, setup("A1"))
		c.add(a, happen)
		b := c.beam()
		wantBeam(t, string(happen.Kind()), b, watch.Unclosed, false, "no numbers", "sin números")
		if b.Next == nil || !b.Next.Now || b.Next.Point == "" {
			t.Errorf("%s: no close is due: %+v", happen.Kind(), b.Next)
		}
		c.add(a, closeOn(s, "BM2", 0))
		wantBeam(t, "closed", c.beam(), watch.Holds, true)
	}
	c := newCrew(t, yardPlan(t, levelLaser, ""), "a")
	c.add(c.phones[0], setup("A1"))
	beams, f := Beams(c.p, c.state(), "2026-05-05")
	if f != nil || beams[0].Numbers || beams[0].State != watch.Unclosed {
		t.Errorf("the next morning: %s, numbers %v, %v", beams[0].State, beams[0].Numbers, f)
	}
}

// TestWhatTheLaserDoes: one that levels itself cannot be said to lean, one that is
// dialled may have turned, on manual slope or without a leveller it tilts; an alarm
// that tells three bumps in four leaves a quarter of them once it is armed.
func TestWhatTheLaserDoes(t *testing.T) {
	for _, c := range []struct {
		laser string
		dial  bool
		want  watch.Kind
	}{
		{levelLaser, false, watch.HeightJump}, {levelLaser, true, watch.TwistJump}, {tiltingLaser, false, watch.TiltJump},
		{levelLaser + "manual_slope = true\n", true, watch.TiltJump}, {levelLaser + "manual_slope = true\n", false, watch.HeightJump},
	} {
		crew := newCrew(t, yardPlan(t, c.laser, ""), "a")
		s := setup("A1")
		if c.dial {
			s.Gradient = [2]unit.Grade{0.01, 0}
		}
		crew.add(crew.phones[0], s)
		if got := crew.beam().Log.Habits.Bumps[0].Kind; got != c.want {
			t.Errorf("%q, dialled %v: bumps are of kind %d, want %d", c.laser, c.dial, got, c.want)
		}
	}
	none := newCrew(t, yardPlan(t, levelLaser, ""), "a")
	s := setup("A1")
	s.Laser = "borrowed"
	none.add(none.phones[0], s)
	if got := none.beam().Log.Habits.Bumps[0].Kind; got != watch.TiltJump {
		t.Errorf("of a laser that nobody knows bumps are of kind %d, want the worst, %d", got, watch.TiltJump)
	}
	for laser, words := range map[string][2]string{
		levelLaser: {"levels itself: a bump leaves it at another height", "no se cuenta con ninguna alarma"},
		tiltingLaser + "alarm = true\narms_after = 30\nalarm_sees = 0.75\n": {"its alarm tells 75 % of bumps, from 30 seconds after a start", "no vuelve a nivel"},
	} {
		c := newCrew(t, yardPlan(t, laser, ""), "a")
		c.add(c.phones[0], setup("A1"))
		said := ""
		for _, m := range c.beam().Laser() {
			said += m.Render(phrase.English, unit.Style{}) + "\n" + m.Render(phrase.Spanish, unit.Style{}) + "\n"
		}
		for _, w := range words {
			if !strings.Contains(said, w) {
				t.Errorf("of %q %q is not said:\n%s", laser, w, said)
			}
		}
	}
	moved := func(laser string) unit.Chance {
		c := newCrew(t, yardPlan(t, laser, ""), "a")
		s := c.add(c.phones[0], setup("A1"))
		c.wait(240).add(c.phones[0], closeOn(s, "BM1", 0))
		return c.beam().Verdict.Before
	}
	deaf, heard := moved(levelLaser), moved(levelLaser+"alarm = true\narms_after = 30\nalarm_sees = 0.75\n")
	if !(heard < deaf) || !(heard > deaf/4) {
		t.Errorf("before any reading a beam with an alarm moved with %.3f, without with %.3f", heard, deaf)
	}
}

// TestCheckShotsAccuseAndNeverClear: rods on bottoms that a machine with sensors dug
// before a bump fall out by it; where they agree nothing is closed by them.
func TestCheckShotsAccuseAndNeverClear(t *testing.T) {
	const sensors = `[[machine]]
id = "M1"
type = "tracked"
guidance = "sensors_beam"
receiver = "R1"
depth_accuracy = "5 mm"
max_reach = 8
max_depth = 5
footprint = [2.5, 4]
`
	p := yardPlan(t, levelLaser, sensors)
	day := func(off unit.Length) Beam {
		c := newCrew(t, p, "a")
		a := c.phones[0]
		s := c.add(a, setup("A1"))
		tie := c.add(a, &record.Tie{Setup: s.ID, Machine: "M1", At: &[2]unit.Length{20, 20}, Elevation: ptr(unit.Elevation(101.5))})
		for n := 1; n <= 6; n++ {
			dug := shot(s, n, 0)
			dug.Setup, dug.Tie, dug.Beam, dug.Reading, dug.Call = record.ID{}, tie.ID, nil, nil, record.On
			c.add(a, dug)
		}
		for n := 1; n <= 6; n++ {
			c.wait(10).add(a, shot(s, n, off))
		}
		return c.beam()
	}
	agree, off := day(0), day(0.06)
	if agree.Shots != 6 || agree.Tag.Open == 0 || len(agree.Verdict.Open) != 6 {
		t.Errorf("six rods agree: %d taken in, open %v, want all six still open", agree.Shots, agree.Verdict.Open)
	}
	wantBeam(t, "six rods agree", agree, watch.Holds, true, "check shots that agree clear nothing")
	if !(off.Verdict.Moved > 0.9) || off.Numbers {
		t.Errorf("six rods 60 mm off: moved with %.2f, numbers %v\n%s", off.Verdict.Moved, off.Numbers, spoken(off, phrase.English))
	}
}

// TestBeamMarksCount: a line drawn at the beam is a point to close on.
func TestBeamMarksCount(t *testing.T) {
	c := newCrew(t, yardPlan(t, tiltingLaser, ""), "a")
	a := c.phones[0]
	s := c.add(a, setup("A1"))
	c.add(a, &record.BeamMark{Setup: s.ID, Mark: "post", At: &[2]unit.Length{90, 20}, Words: "gate post"})
	c.add(a, shot(s, 1, 0))
	if b := c.beam(); len(b.Next.Reveals) != 4 || b.Next.Reveals[0] != "post" {
		t.Errorf("points that reveal a lean: %v, want the far post first of four", b.Next.Reveals)
	}
	c.add(a, &record.Close{Setup: s.ID, On: record.OnMark, Point: "post", ProofReading: record.ProofReading{Reading: 1.5, Expected: 1.5, Limit: 0.005}})
	if b := c.beam(); !b.Digs[0].Closed || b.LeftOut != 0 {
		t.Errorf("a close on the mark: %+v, %d left out", b.Digs[0], b.LeftOut)
	}
	c.add(a, &record.Close{Setup: s.ID, On: record.OnMark, Point: "tree", ProofReading: record.ProofReading{Reading: 1.5, Expected: 1.5, Limit: 0.005}})
	wantBeam(t, "a mark without a place", c.beam(), watch.Holds, true, "one reading is on a point without a place")
}

// TestUnknownPlace: where the log does not tell where the laser stands nothing is
// judged and nothing has numbers.
func TestUnknownPlace(t *testing.T) {
	c := newCrew(t, yardPlan(t, levelLaser, ""), "a")
	s := setup("A1")
	s.At = nil
	c.add(c.phones[0], s)
	wantBeam(t, "no place", c.beam(), watch.Unclosed, false, "nothing can be judged", "no se puede juzgar nada")
}

// TestJSON: figures that nobody knows are null, and what is told can be read.
func TestJSON(t *testing.T) {
	c := newCrew(t, yardPlan(t, levelLaser, ""), "a")
	s := c.add(c.phones[0], setup("A1"))
	c.add(c.phones[0], shot(s, 1, 0))
	data, err := json.Marshal(c.beams())
	if err != nil {
		t.Fatal(err)
	}
	var out []struct {
		Tag  string
		Do   []struct{ Key, Text string }
		Digs []struct {
			Excavation string
			Closed     bool
			By         *float64
		}
		Next struct {
			Point string
			By    *string
		}
	}
	if err := json.Unmarshal(data, &out); err != nil {
		t.Fatal(err)
	}
	if len(out) != 1 || out[0].Tag != "A1" || out[0].Digs[0].By != nil || out[0].Digs[0].Closed || out[0].Next.By == nil || len(out[0].Do) == 0 {
		t.Errorf("the beam as data: %s", data)
	}
}

func BenchmarkBeams(b *testing.B) {
	c := newCrew(b, yardPlan(b, tiltingLaser, ""), "a")
	a := c.phones[0]
	s := c.add(a, setup("A1"))
	for i := range 20 {
		for n := 1; n <= 3; n++ {
			c.add(a, shot(s, (3*i+n)%12+1, 0))
		}
		for _, point := range []string{"BM1", "BM2", "BM3"} {
			c.add(a, closeOn(s, point, 0.001))
		}
	}
	st := c.state()
	for b.Loop() {
		if _, f := Beams(c.p, st, ""); f != nil {
			b.Fatal(f)
		}
	}
}
