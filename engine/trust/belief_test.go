package trust_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/estimate"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

type fatal interface {
	Helper()
	Fatal(...any)
}

func newSite(t fatal, g trust.Control, setups ...trust.Setup) *trust.Site {
	t.Helper()
	s, f := trust.NewSite(g, setups)
	if f != nil {
		t.Fatal(f)
	}
	return s
}

func read(t fatal, s *trust.Site, sights ...trust.Sight) {
	t.Helper()
	for _, r := range sights {
		if f := s.Read(r); f != nil {
			t.Fatal(f)
		}
	}
}

// TestOneBacksight: the variance of the beam is that of benchmark, reading and the
// tilt over the way from the benchmark; the laser's place drops out (algebra).
func TestOneBacksight(t *testing.T) {
	for _, laser := range []geom.Point{{}, {X: 40, Y: -7}, {X: -300, Y: 200}} {
		s := newSite(t, trust.Control{Points: []trust.Point{{ID: "BM", At: geom.Point{X: 10, Y: 20}, Known: true, Sigma: 0.002}}},
			trust.Setup{ID: "S", At: laser, Prior: trust.Prior{Tilt: 3e-5}})
		if d := s.Belief("S").Beam(geom.Point{}); d.Known || !math.IsNaN(float64(d.Sigma)) {
			t.Errorf("before a reading the beam is %+v, want not known", d)
		}
		read(t, s, trust.Sight{Setup: "S", Point: "BM", Sigma: 0.0015})
		d := s.Belief("S").Beam(geom.Point{X: 90, Y: 80})
		want := math.Sqrt(0.002*0.002 + 0.0015*0.0015 + 3e-5*3e-5*(80*80+60*60))
		near(t, "standard error of the beam", float64(d.Sigma), want, 1e-11) // the floor of a nanometre
	}
}

// TestTurningPoint: along a run of set-ups with exact planes the variances of all
// readings add up, as in a level run.
func TestTurningPoint(t *testing.T) {
	g := trust.Control{Points: []trust.Point{{ID: "BM", Known: true, Sigma: 0.003}, {ID: "TP1"}, {ID: "TP2"}}}
	s := newSite(t, g, trust.Setup{ID: "1"}, trust.Setup{ID: "2"}, trust.Setup{ID: "3"})
	read(t, s, trust.Sight{Setup: "1", Point: "BM", Sigma: 0.001})
	if d := s.Point("TP1"); d.Known {
		t.Errorf("a turning point not yet read is %+v, want not known", d)
	}
	read(t, s, trust.Sight{Setup: "1", Point: "TP1", Sigma: 0.001}, trust.Sight{Setup: "2", Point: "TP1", Sigma: 0.001},
		trust.Sight{Setup: "2", Point: "TP2", Sigma: 0.001}, trust.Sight{Setup: "3", Point: "TP2", Sigma: 0.001})
	near(t, "turning point 2", float64(s.Point("TP2").Sigma), math.Sqrt(9+4)*1e-3, 1e-12)
	near(t, "beam of set-up 3", float64(s.Belief("3").Beam(geom.Point{}).Sigma), math.Sqrt(9+5)*1e-3, 1e-12)
	// A close back on the benchmark from set-up 3 takes its own error out of the
	// loop: what is left is the lesser of both ways.
	read(t, s, trust.Sight{Setup: "3", Point: "BM", Sigma: 0.001})
	want := math.Sqrt(9 + 1/(1.0/5+1))
	near(t, "beam of set-up 3 after the close", float64(s.Belief("3").Beam(geom.Point{}).Sigma), want*1e-3, 1e-12)
}

// scene is a random site for the laws.
type scene struct {
	control trust.Control
	setup   trust.Setup
	sights  []trust.Sight
	at      geom.Point
}

func drawScene(t *rapid.T, refraction float64) scene {
	place := func(name string) geom.Point {
		return geom.Point{X: rapid.Float64Range(-150, 150).Draw(t, name), Y: rapid.Float64Range(-150, 150).Draw(t, name)}
	}
	s := scene{at: place("at"), control: trust.Control{Refraction: refraction}}
	s.setup = trust.Setup{ID: "S", Laser: "L", At: place("laser"),
		Prior: trust.Prior{Tilt: unit.Grade(rapid.Float64Range(1e-6, 1e-3).Draw(t, "tilt")), ConeSigma: unit.Grade(rapid.Float64Range(0, 1e-4).Draw(t, "cone"))}}
	if rapid.Bool().Draw(t, "dialled") {
		s.setup.Dial = trust.Dialling{Gradient: geom.Vector{X: rapid.Float64Range(-0.1, 0.1).Draw(t, "g"), Y: 0.01}, Axes: 1,
			Step: 5e-5, Aiming: unit.Degree, Accuracy: 1e-5, Bearing: unit.Angle(rapid.Float64Range(0, 6).Draw(t, "b"))}
	}
	for i := range rapid.IntRange(1, 5).Draw(t, "points") {
		id := string(rune('A' + i))
		s.control.Points = append(s.control.Points, trust.Point{ID: id, At: place(id), Known: true,
			Sigma: unit.Length(rapid.Float64Range(0, 0.01).Draw(t, "known"))})
		s.sights = append(s.sights, trust.Sight{Setup: "S", Point: id, Off: unit.Length(rapid.Float64Range(-0.01, 0.01).Draw(t, "off")),
			Sigma: unit.Length(rapid.Float64Range(0.0005, 0.005).Draw(t, "sigma"))})
	}
	return s
}

func (s scene) site(t fatal, sights ...trust.Sight) *trust.Site {
	site := newSite(t, s.control, s.setup)
	read(t, site, sights...)
	return site
}

// Law 1: more observations never increase a standard error.
func TestMoreReadingsNeverWorsen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t, 0.25)
		last := math.Inf(1)
		for n := 1; n <= len(s.sights); n++ {
			sigma := float64(s.site(t, s.sights[:n]...).Belief("S").Beam(s.at).Sigma)
			if !(sigma <= last*(1+1e-9)) {
				t.Fatalf("after %d readings the beam is ±%g, before ±%g", n, sigma, last)
			}
			last = sigma
		}
	})
}

// Law 2: a reading or a benchmark of no weight changes nothing.
func TestNoWeightChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t, 0.25)
		want := s.site(t, s.sights...).Belief("S").Beam(s.at)
		blind := s.sights[0]
		blind.Sigma, blind.Off = unit.Length(math.Inf(1)), 5
		if got := s.site(t, append(s.sights, blind)...).Belief("S").Beam(s.at); got != want {
			t.Fatalf("a reading without weight makes %+v of %+v", got, want)
		}
		s.control.Points = append(s.control.Points, trust.Point{ID: "TP", At: geom.Point{X: 3}})
		got := s.site(t, append(s.sights, trust.Sight{Setup: "S", Point: "TP", Off: 0.3, Sigma: 0.001})...).Belief("S").Beam(s.at)
		if !(math.Abs(float64(got.Sigma-want.Sigma)) <= 1e-7*float64(want.Sigma)) || !(math.Abs(float64(got.Mean-want.Mean)) <= 1e-9) {
			t.Fatalf("a point of unknown height makes %+v of %+v", got, want)
		}
	})
}

// Law 3: the order of independent readings does not matter.
func TestOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t, 0.25)
		want := s.site(t, s.sights...).Belief("S").Beam(s.at)
		order := rapid.Permutation(s.sights).Draw(t, "order")
		got := s.site(t, order...).Belief("S").Beam(s.at)
		if !(math.Abs(float64(got.Sigma-want.Sigma)) <= 1e-7*float64(want.Sigma)) || !(math.Abs(float64(got.Mean-want.Mean)) <= 1e-9) {
			t.Fatalf("another order makes %+v of %+v", got, want)
		}
	})
}

// Law 4: site and height errors scaled together scale the errors.
func TestScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t, 0)
		want := s.site(t, s.sights...).Belief("S").Beam(s.at)
		k := rapid.Float64Range(0.1, 10).Draw(t, "k")
		by := func(p geom.Point) geom.Point { return geom.Point{X: k * p.X, Y: k * p.Y} }
		s.at, s.setup.At = by(s.at), by(s.setup.At)
		for i := range s.sights {
			s.control.Points[i].At = by(s.control.Points[i].At)
			s.control.Points[i].Sigma *= unit.Length(k)
			s.sights[i].Off *= unit.Length(k)
			s.sights[i].Sigma *= unit.Length(k)
		}
		got := s.site(t, s.sights...).Belief("S").Beam(s.at)
		if !(math.Abs(float64(got.Sigma)/k-float64(want.Sigma)) <= 1e-6*float64(want.Sigma)) || !(math.Abs(float64(got.Mean)/k-float64(want.Mean)) <= 1e-8) {
			t.Fatalf("scaled by %g: %+v of %+v", k, got, want)
		}
	})
}

// Law 5: without a prior it is least squares.
func TestWithoutPriorItIsLeastSquares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t, 0)
		s.setup.Dial, s.setup.Prior = trust.Dialling{}, trust.Prior{Tilt: 1e6}
		corners := []geom.Point{{X: -90, Y: -80}, {X: 100, Y: -70}, {X: 5, Y: 95}}
		p := estimate.Problem{Unknowns: 3}
		for i, c := range corners {
			id := string(rune('a' + i))
			s.control.Points = append(s.control.Points, trust.Point{ID: id, At: c, Known: true})
			s.sights = append(s.sights, trust.Sight{Setup: "S", Point: id, Sigma: 0.001})
		}
		for i, r := range s.sights {
			v := s.control.Points[i].At.Sub(s.setup.At)
			variance := float64(r.Sigma*r.Sigma) + float64(s.control.Points[i].Sigma*s.control.Points[i].Sigma)
			p.Observations = append(p.Observations, estimate.Observation{Value: float64(r.Off), Weight: 1 / variance,
				Terms: []estimate.Term{{Unknown: 0, Coefficient: 1}, {Unknown: 1, Coefficient: v.X}, {Unknown: 2, Coefficient: v.Y}}})
		}
		want, err := estimate.LeastSquares(p)
		if err != nil {
			t.Fatal(err)
		}
		v := s.at.Sub(s.setup.At)
		f := []estimate.Term{{Unknown: 0, Coefficient: 1}, {Unknown: 1, Coefficient: v.X}, {Unknown: 2, Coefficient: v.Y}}
		got := s.site(t, s.sights...).Belief("S").Beam(s.at)
		mean := want.X[0] + want.X[1]*v.X + want.X[2]*v.Y
		if sigma := want.StandardError(f...); !(math.Abs(float64(got.Sigma)-sigma) <= 1e-5*sigma) || !(math.Abs(float64(got.Mean)-mean) <= 1e-7) {
			t.Fatalf("beam %+v, least squares %g ± %g", got, mean, sigma)
		}
	})
}

// Law 6: the contributions of a budget add up to the outlook.
func TestBudgetAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t, 0.25)
		s.setup.Wind, s.setup.WarmUp = 1e-5, 2e-5
		n := trust.Number{Setup: "S", At: s.at, Rod: 2.5, Way: trust.Way{DeadBand: 0.003, Shown: 0.001, Plumb: unit.Degree, Trimming: 0.003}}
		o, rows := s.site(t, s.sights...).Budget(n)
		sum, shares := 0.0, 0.0
		for i, r := range rows {
			sum += float64(r.Sigma * r.Sigma)
			shares += r.Share
			if i > 0 && r.Sigma > rows[i-1].Sigma {
				t.Fatalf("rows are not sorted: %+v", rows)
			}
		}
		if want := float64(o.Final * o.Final); !(math.Abs(sum-want) <= 1e-6*want) || !(math.Abs(shares-1) <= 1e-9) {
			t.Fatalf("contributions make ±%g, the bottom is ±%g; shares %g", math.Sqrt(sum), float64(o.Final), shares)
		}
	})
}

// Law 7: what a second backsight is told to be worth it is worth once read.
func TestSecondBacksightKeepsItsPromise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t, 0.25)
		n := trust.Number{Setup: "S", At: s.at, Way: trust.Way{Trimming: 0.001}}
		s.control.Points = append(s.control.Points, trust.Point{ID: "new", At: geom.Point{X: 120}, Known: true, Sigma: 0.002})
		site := s.site(t, s.sights...)
		before := site.Belief("S").At(n.At, 0, n.Way)
		for _, i := range site.Improvements(n, []string{"new"}, 0.002) {
			if !(i.Sigma < before.Final) {
				t.Fatalf("%s makes ±%v of ±%v", i.Change, i.Sigma, before.Final)
			}
			if i.Change == trust.SecondBacksight {
				if i.Outlook.Mean-before.Mean > 1e-9 || before.Mean-i.Outlook.Mean > 1e-9 {
					t.Fatalf("the promise moves the mean from %v to %v", before.Mean, i.Outlook.Mean)
				}
				read(t, site, trust.Sight{Setup: "S", Point: "new", Off: 0.004, Sigma: 0.002})
				after := site.Belief("S").At(n.At, 0, n.Way)
				if !(math.Abs(float64(after.Final-i.Sigma)) <= 1e-7*float64(i.Sigma)) {
					t.Fatalf("promised ±%v, is ±%v", i.Sigma, after.Final)
				}
			}
		}
	})
}

func TestBadFiguresAreRefused(t *testing.T) {
	nan := math.NaN()
	good := trust.Setup{ID: "S"}
	for name, c := range map[string]struct {
		g trust.Control
		s []trust.Setup
	}{
		"refraction":  {trust.Control{Refraction: nan}, nil},
		"sigma":       {trust.Control{Points: []trust.Point{{ID: "A", Sigma: -1}}}, nil},
		"place":       {trust.Control{Points: []trust.Point{{ID: "A", At: geom.Point{X: nan}}}}, nil},
		"point twice": {trust.Control{Points: []trust.Point{{ID: "A"}, {ID: "A"}}}, nil},
		"setup twice": {trust.Control{}, []trust.Setup{good, good}},
		"accuracy":    {trust.Control{}, []trust.Setup{{ID: "S", Prior: trust.Prior{Tilt: unit.Grade(math.Inf(1))}}}},
		"cone":        {trust.Control{}, []trust.Setup{{ID: "S", Prior: trust.Prior{Cone: unit.Grade(nan)}}}},
		"height":      {trust.Control{}, []trust.Setup{{ID: "S", Height: &trust.Height{Sigma: -1}}}},
		"wind":        {trust.Control{}, []trust.Setup{{ID: "S", Wind: -1}}},
	} {
		if _, f := trust.NewSite(c.g, c.s); f == nil || f.Render(phrase.English, unit.Style{}) == "" {
			t.Errorf("NewSite with a bad %s = %v, want a fault", name, f)
		}
	}
	s := newSite(t, trust.Control{Points: []trust.Point{{ID: "A", Known: true}}}, good)
	for _, r := range []trust.Sight{{Setup: "X", Point: "A"}, {Setup: "S", Point: "X"}, {Setup: "S", Point: "A", Off: unit.Length(nan)}, {Setup: "S", Point: "A", Sigma: -1}} {
		if f := s.Read(r); f == nil {
			t.Errorf("Read(%+v) takes it, want a fault", r)
		}
	}
	if s.Belief("S").Known() {
		t.Error("a refused reading has changed the belief")
	}
}
