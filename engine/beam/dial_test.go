package beam_test

import (
	"math"
	"strings"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

func tenPercent(axes int) beam.Laser {
	r := beam.GradeRange{Min: -0.10, Max: 0.10}
	return beam.Laser{ID: "L1", Axes: axes, Steepest: [2]beam.GradeRange{r, r}, Step: 0.00001}
}

func english(m phrase.Message) string { return m.Render(phrase.English, unit.Style{}) }

func TestGradientOfADial(t *testing.T) {
	// Hand-derived, exact: gradient = grade·(sin b, cos b) + cross·(cos b, −sin b).
	for _, c := range []struct {
		dial beam.Dial
		want geom.Vector
	}{
		{beam.Dial{Bearing: 0, Grade: 0.02}, geom.Vector{Y: 0.02}},
		{beam.Dial{Bearing: 90 * unit.Degree, Grade: 0.02}, geom.Vector{X: 0.02}},
		{beam.Dial{Bearing: 0, Cross: 0.01}, geom.Vector{X: 0.01}},                 // right of north is east
		{beam.Dial{Bearing: 90 * unit.Degree, Cross: 0.01}, geom.Vector{Y: -0.01}}, // right of east is south
		{beam.Dial{Bearing: 180 * unit.Degree, Grade: -0.03, Cross: 0.01}, geom.Vector{X: -0.01, Y: 0.03}},
	} {
		got := c.dial.Gradient()
		near(t, "gradient east", got.X, c.want.X, 1e-15, "exact but for sin and cos")
		near(t, "gradient north", got.Y, c.want.Y, 1e-15, "exact but for sin and cos")
	}
}

func TestBearings(t *testing.T) {
	for _, c := range []struct {
		q    geom.Point
		want float64
	}{{geom.Point{Y: 1}, 0}, {geom.Point{X: 1}, 90}, {geom.Point{Y: -1}, 180}, {geom.Point{X: -1}, 270}, {geom.Point{X: 3, Y: 3}, 45}, {geom.Point{}, 0}} {
		near(t, "Bearing in degrees", float64(beam.Bearing(geom.Point{}, c.q)/unit.Degree), c.want, 1e-12, "exact")
	}
}

func TestLevelDial(t *testing.T) {
	for _, c := range []struct {
		dial beam.Dial
		want bool
	}{{beam.Dial{Bearing: 1}, true}, {beam.Dial{Grade: 1e-5}, false}, {beam.Dial{Cross: -1e-5}, false}} {
		if got := c.dial.IsLevel(); got != c.want {
			t.Errorf("%v.IsLevel() = %v, want %v", c.dial, got, c.want)
		}
	}
	if got, want := english(beam.Dial{Towards: "T4"}.Text(tenPercent(2))), "aim the mark at T4; the beam must be level towards it; on this laser 0.000"; got != want {
		t.Errorf("Text = %q, want %q", got, want)
	}
}

func TestDialOfTheSewerAsTheCrewIsTold(t *testing.T) {
	run := sewer(sewerBed)
	aim := beam.Aim{Mark: "T4", From: run.From, At: run.To}
	laser := tenPercent(1)
	plan, f := beam.DialForRun(run, laser, aim, run.From)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "grade", float64(plan.Rounded.Grade), -0.0218, 1e-12, "exact to the step of 0.001 %")
	if got, want := english(plan.Text), "aim the mark at T4; the beam must fall 2.18 % towards it; on this laser −2.180"; got != want {
		t.Errorf("Text = %q, want %q", got, want)
	}
	laser.PlusMeans = beam.Down
	plan, f = beam.DialForRun(run, laser, aim, run.From)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "shown", float64(plan.Shown.Grade), 0.0218, 1e-12, "plus means down")
	if got := english(plan.Text); !strings.HasSuffix(got, "fall 2.18 % towards it; on this laser +2.180") {
		t.Errorf("Text of a laser whose plus means down = %q", got)
	}
	// Aimed up the run from its low end, the same plane rises towards the mark.
	back, f := beam.DialForRun(run, tenPercent(1), beam.Aim{Mark: "T1", From: run.To, At: run.From}, run.From)
	if f != nil {
		t.Fatal(f)
	}
	if got := english(back.Text); !strings.Contains(got, "must rise 2.18 % towards it; on this laser +2.180") {
		t.Errorf("Text from the low end = %q", got)
	}
}

func TestRoundingTheDialTellsBothEnds(t *testing.T) {
	// Hand-derived, exact: 1 in 80 over 100 m north is 1.25 %; a step of 0.1 %
	// rounds −1.25 % away from zero to −1.3 %: 0.05 % of 60 m and of 40 m.
	run := beam.Run{ID: "T1", To: geom.Point{Y: 100}, FromElevation: 10, ToElevation: 8.75}
	laser := tenPercent(2)
	laser.Step = 0.001
	plan, f := beam.DialForRun(run, laser, beam.Aim{}, geom.Point{X: 7, Y: 40})
	if f != nil {
		t.Fatal(f)
	}
	near(t, "ideal", float64(plan.Ideal.Grade), -0.0125, 1e-15, "exact")
	near(t, "rounded", float64(plan.Rounded.Grade), -0.013, 1e-15, "exact")
	near(t, "start", float64(plan.Rounding[0].Start), 0.020, 1e-12, "0.05 % of 40 m up the run")
	near(t, "end", float64(plan.Rounding[0].End), -0.030, 1e-12, "0.05 % of 60 m down the run")
}

func TestTwoAxesKeepTheBeamLevelAcrossTheRun(t *testing.T) {
	// Hand-derived, exact: aimed 60° aside of a 2 % fall: −2 % cos 60° along and,
	// the run lying left of the mark, +2 % sin 60° across.
	run := beam.Run{ID: "T1", To: geom.Point{Y: 50}, FromElevation: 1, ToElevation: 0}
	plan, f := beam.DialForRun(run, tenPercent(2), beam.Aim{Bearing: 60 * unit.Degree}, run.From)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "grade", float64(plan.Ideal.Grade), -0.01, 1e-15, "exact")
	near(t, "cross", float64(plan.Ideal.Cross), 0.02*math.Sqrt(3)/2, 1e-15, "exact")
	if got := english(plan.Text); got != "aim the mark on bearing 60.00°; the beam must fall 1 % towards it and rise 1.732 % to the right of it; on this laser −1.000 along and +1.732 across" {
		t.Errorf("Text = %q", got)
	}
	// One axis must be dialled steeper: 2 % / cos 60°.
	plan, f = beam.DialForRun(run, tenPercent(1), beam.Aim{Bearing: 60 * unit.Degree}, run.From)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "one-axis grade", float64(plan.Ideal.Grade), -0.04, 1e-14, "exact")
	near(t, "fall along the run", plan.Ideal.Gradient().Dot(run.Direction()), -0.02, 1e-15, "g·u = −s")
}

func TestWhatTheLaserCannotDial(t *testing.T) {
	run := beam.Run{ID: "T1", To: geom.Point{Y: 50}, FromElevation: 10, ToElevation: 4}
	level := run
	level.ToElevation = level.FromElevation
	gentle := run
	gentle.ToElevation = 9
	lopsided := tenPercent(1)
	lopsided.Steepest[0].Min = -0.01
	for _, c := range []struct {
		what  string
		run   beam.Run
		laser beam.Laser
		aim   beam.Aim
		want  string // "" is no fault
	}{
		{"12 % on 10 %", run, tenPercent(2), beam.Aim{}, "-12 % along the mark: the slope is steeper than the laser dials, -10 % to 10 %"},
		{"level run, level laser", level, tenPercent(0), beam.Aim{}, ""},
		{"falling run, level laser", gentle, tenPercent(0), beam.Aim{}, "it dials 0 axes"},
		{"one axis square to the run", gentle, tenPercent(1), beam.Aim{Bearing: 90 * unit.Degree}, `points square to "T1"`},
		{"level run, one axis square to it", level, tenPercent(1), beam.Aim{Bearing: 90 * unit.Degree}, ""},
		{"one axis nearly square", gentle, tenPercent(1), beam.Aim{Bearing: 88 * unit.Degree}, "steeper than the laser dials"},
		{"2 % down on a laser that goes down 1 %", gentle, lopsided, beam.Aim{}, "-1 % to 10 %"},
		{"the same aimed uphill", gentle, lopsided, beam.Aim{Bearing: 180 * unit.Degree}, ""},
		{"aimed at itself", gentle, tenPercent(1), beam.Aim{Mark: "T4", At: geom.Point{X: 2}, From: geom.Point{X: 2}}, `aimed at "T4", which is where the laser stands`},
		{"no length", beam.Run{ID: "T1"}, tenPercent(1), beam.Aim{}, `"T1" begins and ends at one point`},
	} {
		_, f := beam.DialForRun(c.run, c.laser, c.aim, c.run.From)
		switch {
		case c.want == "" && f != nil:
			t.Errorf("%s: fault %q, want none", c.what, f)
		case c.want != "" && f == nil:
			t.Errorf("%s: no fault, want %q", c.what, c.want)
		case c.want != "" && !strings.Contains(f.Error(), c.want):
			t.Errorf("%s: fault %q, want it to hold %q", c.what, f, c.want)
		}
	}
}

func TestOnePlaneForTwoRuns(t *testing.T) {
	// Hand-derived, exact: 1 % down to the east and 2 % down to the north.
	a := beam.Run{ID: "A", To: geom.Point{X: 40}, FromElevation: 10, ToElevation: 9.6}
	b := beam.Run{ID: "B", From: geom.Point{X: 40}, To: geom.Point{X: 40, Y: 30}, FromElevation: 9.6, ToElevation: 9.0}
	plan, f := beam.DialForTwo(a, b, tenPercent(2), beam.Aim{}, a.From)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "grade", float64(plan.Ideal.Grade), -0.02, 1e-15, "exact")
	near(t, "cross", float64(plan.Ideal.Cross), -0.01, 1e-15, "exact")
	if len(plan.Rounding) != 2 || plan.Rounding[1].Run != "B" {
		t.Errorf("Rounding = %v, want both runs", plan.Rounding)
	}
	// A skew pair: east at 1 %, and north-east at 2 % → g = (−0.01, 0.01 − 0.02√2).
	c := beam.Run{ID: "C", To: geom.Point{X: 10, Y: 10}, FromElevation: 10, ToElevation: unit.Elevation(10 - 0.02*math.Sqrt(200))}
	plan, f = beam.DialForTwo(a, c, tenPercent(2), beam.Aim{}, a.From)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "skew east", plan.Ideal.Gradient().X, -0.01, 1e-12, "exact")
	near(t, "skew north", plan.Ideal.Gradient().Y, 0.01-0.02*math.Sqrt2, 1e-12, "exact")
}

func TestTwoRunsThatOnePlaneCannotServe(t *testing.T) {
	a := beam.Run{ID: "A", To: geom.Point{X: 40}, FromElevation: 10, ToElevation: 9.6}
	parallel := beam.Run{ID: "P", From: geom.Point{Y: 5}, To: geom.Point{X: 40, Y: 5}, FromElevation: 10, ToElevation: 9.2}
	same := beam.Run{ID: "S", From: geom.Point{X: 40, Y: 5}, To: geom.Point{Y: 5}, FromElevation: 8.6, ToElevation: 9.0}
	north := beam.Run{ID: "N", To: geom.Point{Y: 40}, FromElevation: 10, ToElevation: 9.6}
	if _, f := beam.DialForTwo(a, parallel, tenPercent(2), beam.Aim{}, a.From); f == nil ||
		!strings.Contains(f.Error(), `"A" and "P" run the same way but fall 1 % and 2 %`) {
		t.Errorf("parallel runs of other falls: fault %v", f)
	}
	if _, f := beam.DialForTwo(a, same, tenPercent(2), beam.Aim{}, a.From); f != nil {
		t.Errorf("parallel runs of one fall, the second walked uphill: fault %v, want none", f)
	}
	_, f := beam.DialForTwo(a, north, tenPercent(1), beam.Aim{}, a.From)
	if f == nil || !strings.Contains(f.Error(), `laser "L1" dials one axis`) {
		t.Fatalf("two runs, one axis: fault %v", f)
	}
	if got := english(f.Remedy); !strings.Contains(got, "bearing 45.00° and let the beam fall 1.414 % towards it") {
		t.Errorf("remedy = %q, want the one bearing that works", got)
	}
	if _, f := beam.DialForTwo(a, north, tenPercent(1), beam.Aim{Bearing: 45 * unit.Degree}, a.From); f != nil {
		t.Errorf("two runs, one axis, aimed straight down the plane: fault %v, want none", f)
	}
	if _, f := beam.DialForTwo(a, north, tenPercent(0), beam.Aim{}, a.From); f == nil || !strings.Contains(f.Error(), "dials 0 axes") {
		t.Errorf("two runs, a level laser: fault %v", f)
	}
}

func TestAimingAside(t *testing.T) {
	// Hand-derived, exact: s(1 − cos 60°) × 100 m and s·sin 30° × 10 m at 2 %.
	near(t, "along", float64(beam.MisaimOf(0.02, 60*unit.Degree, 100, 0).Along), 1.0, 1e-12, "exact")
	near(t, "aside", float64(beam.MisaimOf(-0.02, -30*unit.Degree, 0, 10).Aside), 0.1, 1e-12, "exact")
	// 2 % over 100 m, 1° aside: 0.305 mm along; 10 m off the line 3.49 mm.
	m := beam.MisaimOf(0.02, unit.Degree, 100, 10)
	near(t, "along at 1°", float64(m.Along), 0.02*100*(1-math.Cos(math.Pi/180)), 1e-15, "formula of design")
	near(t, "aside at 1°", float64(m.Aside), 0.02*10*math.Sin(math.Pi/180), 1e-15, "formula of design")
	// The plan's own figure, pinned at the start: 100 m down the run.
	run := beam.Run{ID: "T1", To: geom.Point{Y: 100}, FromElevation: 2, ToElevation: 0}
	plan, f := beam.DialForRun(run, tenPercent(2), beam.Aim{}, run.From)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "plan at the start", float64(plan.OneDegree[0].Start), 0, 1e-15, "the pin")
	near(t, "plan at the end", float64(plan.OneDegree[0].End), float64(m.Along), 1e-12, "the turned dial itself")
}

func TestProofOfADial(t *testing.T) {
	// Hand-derived, exact: 2 % down to the north, HI 12; 60 m apart along it.
	pl := beam.Plane{HI: 12, Gradient: geom.Vector{Y: -0.02}, Curvature: beam.None}
	points := []beam.Known{
		{ID: "C", At: geom.Point{X: 90, Y: 5}, Elevation: 10},
		{ID: "B", At: geom.Point{Y: 60}, Elevation: 9, Sigma: 0.001},
		{ID: "A", At: geom.Point{}, Elevation: 10, Sigma: 0.002},
	}
	proof, f := beam.ProveDial(pl, 0.0001, points)
	if f != nil {
		t.Fatal(f)
	}
	if proof.A != "A" || proof.B != "B" {
		t.Fatalf("ProveDial picked %s and %s, want A and B: furthest apart along the slope", proof.A, proof.B)
	}
	near(t, "rod on A", float64(proof.RodA), 2.0, 1e-12, "exact")
	near(t, "rod on B", float64(proof.RodB), 1.8, 1e-12, "exact")
	near(t, "difference", float64(proof.Difference), -0.2, 1e-12, "exact")
	near(t, "within", float64(proof.Within), 3*math.Sqrt(4e-6+1e-6+8e-6+36e-6/3), 1e-15, "exact")
	pl.HI = 99
	again, _ := beam.ProveDial(pl, 0.0001, points)
	near(t, "difference at another HI", float64(again.Difference), -0.2, 1e-12, "rests on no HI")
	for _, few := range [][]beam.Known{nil, points[:1], {points[0], {ID: "D", At: geom.Point{X: 3, Y: 5}}}} {
		if _, f := beam.ProveDial(pl, 0, few); f == nil || f.Code != phrase.NotFound {
			t.Errorf("ProveDial(%d points level with each other) fault = %v, want not_found", len(few), f)
		}
	}
}
