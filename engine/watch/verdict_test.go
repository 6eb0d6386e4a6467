package watch

import (
	"math"
	"strings"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// threeMarks is a laser on manual slope, three benchmarks around, four digs, and a
// close on all at two hours that reads so far off.
func threeMarks(offs ...unit.Length) Log {
	l := Log{
		Setup: Setup{At: geom.Point{X: 30, Y: 20}, Tilt: 3e-5},
		Habits: Habits{
			Bumps:   []Bump{{Kind: HeightJump, Rate: 0.05, Height: 0.01}, {Kind: TiltJump, Rate: 0.05, Height: 0.01, Tilt: 2e-4}},
			Misread: 0.002, MisreadBy: 0.05, Moved: 0.001, Wrong: 0.002, MovedBy: 0.02,
		},
		Points: []Point{{"BM1", geom.Point{X: 0, Y: 0}, true, 0.001}, {"BM2", geom.Point{X: 60, Y: 0}, true, 0.001}, {"BM3", geom.Point{X: 30, Y: 50}, true, 0.001}},
	}
	for _, p := range l.Points {
		l.Readings = append(l.Readings, Reading{At: 0, Point: p.ID, Sigma: 0.002})
	}
	for i, o := range offs {
		l.Readings = append(l.Readings, Reading{At: 2, Point: l.Points[i].ID, Off: o, Sigma: 0.002})
	}
	for i, at := range []Hours{0.5, 1, 1.5, 1.9} {
		l.Digs = append(l.Digs, Dig{ID: "F" + string(rune('1'+i)), At: geom.Point{X: 10 + 13*float64(i), Y: 20}, Dug: at, Band: band})
	}
	return l
}

func says(t *testing.T, v Verdict, lang phrase.Language) string {
	t.Helper()
	var lines []string
	for _, m := range v.Do {
		lines = append(lines, m.Render(lang, unit.Style{}))
	}
	return strings.Join(lines, "\n")
}

// TestTheSteps: first bad close → read again; the same → another point; the same →
// the beam has moved, with what to shoot. A fitting close holds.
func TestTheSteps(t *testing.T) {
	steps := []struct {
		name  string
		reads []Reading
		state State
		point string
	}{
		{"a fitting close", []Reading{{At: 2, Point: "BM1", Off: 0.001, Sigma: 0.002}}, Holds, ""},
		{"a bad close", []Reading{{At: 2, Point: "BM1", Off: 0.025, Sigma: 0.002}}, ReadAgain, "BM1"},
		{"read again, a misread", []Reading{{At: 2, Point: "BM1", Off: 0.1, Sigma: 0.002}, {At: 2.1, Point: "BM1", Off: 0.001, Sigma: 0.002}}, Holds, ""},
		{"the same again", []Reading{{At: 2, Point: "BM1", Off: 0.025, Sigma: 0.002}, {At: 2.1, Point: "BM1", Off: 0.026, Sigma: 0.002}}, ReadNext, "BM2"},
		{"the next fits", []Reading{{At: 2, Point: "BM1", Off: 0.025, Sigma: 0.002}, {At: 2.1, Point: "BM1", Off: 0.026, Sigma: 0.002},
			{At: 2.2, Point: "BM2", Off: 0, Sigma: 0.002}, {At: 2.3, Point: "BM3", Off: 0.001, Sigma: 0.002}}, PointOff, "BM1"},
		{"all the same", []Reading{{At: 2, Point: "BM1", Off: 0.025, Sigma: 0.002}, {At: 2.1, Point: "BM1", Off: 0.026, Sigma: 0.002},
			{At: 2.2, Point: "BM2", Off: 0.024, Sigma: 0.002}, {At: 2.3, Point: "BM3", Off: 0.025, Sigma: 0.002}}, BeamMoved, ""},
	}
	for _, s := range steps {
		l := threeMarks()
		l.Habits.Bumps = l.Habits.Bumps[:1] // self-levelling
		l.Readings = append(l.Readings, s.reads...)
		v, f := Judge(l, DefaultLimit)
		if f != nil {
			t.Fatal(f)
		}
		if v.State != s.state || v.Point != s.point {
			t.Errorf("%s: %s %q, want %s %q (out %.3f, next %.3f, odds %+v)", s.name, v.State, v.Point, s.state, s.point, v.Out, v.Next, v.Odds[:min(4, len(v.Odds))])
		}
	}
}

// TestLean: a beam tilted down to the east by 4 mm in 10 m is told so from three
// well-spread points, and not from two.
func TestLean(t *testing.T) {
	l := threeMarks(0.012, -0.012, 0)
	l.Readings = append(l.Readings, Reading{At: 2.1, Point: "BM1", Off: 0.012, Sigma: 0.002})
	l.Digs[2].Concrete = true
	v, f := Judge(l, DefaultLimit)
	if f != nil {
		t.Fatal(f)
	}
	if v.State != BeamMoved || !v.Shift.Lean {
		t.Fatalf("a tilted beam is %s, %+v", v.State, v.Shift)
	}
	if !(math.Abs(float64(v.Shift.Falls)-math.Pi/2) <= 0.15) || !(math.Abs(float64(v.Shift.Grade)-4e-4) <= 8e-5) {
		t.Errorf("it leans towards %.3f by %.2g, want 1.571 by 4e-4 (tol 0.15, 8e-5: readings of 2 mm)", v.Shift.Falls, v.Shift.Grade)
	}
	if len(v.Foreman) != 1 || v.Foreman[0].Dig != "F3" || len(v.Shoot) != 3 || v.Shoot[0].Out < v.Shoot[2].Out {
		t.Errorf("foreman %+v, shoot %+v", v.Foreman, v.Shoot)
	}
	for lang, words := range map[phrase.Language][]string{
		phrase.English: {"the beam has moved", "it leans down towards", "F3 has concrete in", "shoot F4 first"},
		phrase.Spanish: {"el rayo se movió", "baja hacia", "F3 ya tiene concreto", "revise primero F4"},
	} {
		got := says(t, v, lang)
		t.Log("\n" + got)
		for _, w := range words {
			if !strings.Contains(got, w) {
				t.Errorf("%s: %q does not say %q", lang, got, w)
			}
		}
	}
	two := threeMarks(0.012, -0.012)
	if v, _ = Judge(two, DefaultLimit); v.Shift.Lean {
		t.Errorf("a direction of lean from two points: %+v", v.Shift)
	}
	if spread([]geom.Point{{X: 0}, {X: 30, Y: 1}, {X: 60}}) {
		t.Error("three points in a line are well spread")
	}
}

// TestFaults: what cannot be judged is said, with a remedy, in both languages.
func TestFaults(t *testing.T) {
	for key, spoil := range map[string]func(*Log){
		"watch.id_twice":      func(l *Log) { l.Points = append(l.Points, l.Points[0]) },
		"watch.unknown_point": func(l *Log) { l.Readings[0].Point = "BM9" },
		"watch.no_sigma":      func(l *Log) { l.Readings[0].Sigma = 0 },
		"watch.not_finite":    func(l *Log) { l.Readings[1].Off = unit.Length(math.NaN()) },
	} {
		l := oneMark(0)
		spoil(&l)
		_, f := Judge(l, DefaultLimit)
		if f == nil || string(f.What.Key) != key || f.Remedy.IsZero() {
			t.Errorf("%s: %v", key, f)
			continue
		}
		if f.Remedy.Render(phrase.Spanish, unit.Style{}) == f.Remedy.Render(phrase.English, unit.Style{}) {
			t.Errorf("%s has one remedy for both languages", key)
		}
	}
}

// TestOnePointSaysWhatItCannotSee: a close that fits on the only benchmark of a
// laser that may tilt leaves the numbers and says what they rest on; where another
// benchmark is there, it is asked for, without blaming the beam.
func TestOnePointSaysWhatItCannotSee(t *testing.T) {
	l := threeMarks(0)
	l.Habits.Bumps = []Bump{{Kind: TiltJump, Rate: 2, Height: 0.005, Tilt: 1e-3}}
	v, _ := Judge(l, 0.01)
	if v.State != ReadNext || v.Point != "BM2" || !strings.Contains(says(t, v, phrase.English), "the close fits") {
		t.Errorf("one of three points: %s %q %q", v.State, v.Point, says(t, v, phrase.English))
	}
	l.Points, l.Readings = l.Points[:1], append(l.Readings[:1], l.Readings[3])
	v, _ = Judge(l, 0.01)
	if v.State != Holds || !strings.Contains(says(t, v, phrase.Spanish), "no ven toda inclinación") {
		t.Errorf("the only point: %s %q, moved %.3f, before %.3f", v.State, says(t, v, phrase.Spanish), v.Moved, v.Before)
	}
	if a := (Verdict{Out: 0.1, Moved: 0.5}).Alarm(); !(math.Abs(a-0.2) <= 1e-12) {
		t.Errorf("odds of 0.1 against 0.5 = %g, want 0.2", a)
	}
}
