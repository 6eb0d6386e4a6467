package reception_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// lawful is a site of quarters, so that it can be moved by whole metres without
// rounding, with a laser and a target.
type lawful struct {
	site   reception.Site
	laser  reception.Laser
	target reception.Target
}

func drawLawful(t *rapid.T) lawful {
	quarter := func(low, high int, name string) float64 {
		return float64(rapid.IntRange(4*low, 4*high).Draw(t, name)) / 4
	}
	place := func(name string) geom.Point { return geom.Point{X: quarter(0, 6, name), Y: quarter(0, 6, name)} }
	g := ground.GridData{DX: 1, DY: 1, Cols: 7, Rows: 7}
	for range 49 {
		g.Z = append(g.Z, quarter(0, 2, "z"))
	}
	s, err := ground.NewGrid(g)
	if err != nil {
		t.Fatal(err)
	}
	out := lawful{site: reception.Site{Ground: s, Range: unit.Length(quarter(1, 9, "range")),
		Curvature: beam.Curvature(rapid.IntRange(0, 1).Draw(t, "curvature"))}}
	for i := range rapid.IntRange(0, 2).Draw(t, "obstacles") {
		at := place("obstacle")
		out.site.Obstacles = append(out.site.Obstacles, reception.Obstacle{
			ID:      string(rune('A' + i)),
			Outline: geom.Ring{at, at.Add(geom.Vector{X: 1}), at.Add(geom.Vector{X: 0.5, Y: 0.25}), at.Add(geom.Vector{X: 0.25, Y: 1.5})},
			Top:     unit.Elevation(quarter(0, 4, "top")),
		})
	}
	out.laser = reception.Laser{At: place("laser"), Gradient: geom.Vector{X: quarter(-1, 1, "gx") / 8, Y: quarter(-1, 1, "gy") / 8}}
	out.target = reception.Target{At: place("target"), Bottom: unit.Elevation(quarter(-2, 1, "bottom")),
		Lowest: 0.25, Highest: unit.Length(quarter(1, 5, "highest"))}
	return out
}

func (l lawful) window(t *rapid.T) reception.Window {
	f, err := reception.New(l.site)
	if err != nil {
		t.Fatal(err)
	}
	return f.From(l.laser, []reception.Target{l.target}, new(reception.Scratch))[0]
}

// moved is l moved by whole metres.
func (l lawful) moved(t *rapid.T, by geom.Vector, up float64) lawful {
	g := l.site.Ground.(*ground.Grid).GridData
	g.Origin = g.Origin.Add(by)
	g.Z = append([]float64(nil), g.Z...)
	for i := range g.Z {
		g.Z[i] += up
	}
	s, err := ground.NewGrid(g)
	if err != nil {
		t.Fatal(err)
	}
	l.site.Ground = s
	var moved []reception.Obstacle
	for _, o := range l.site.Obstacles {
		var ring geom.Ring
		for _, p := range o.Outline {
			ring = append(ring, p.Add(by))
		}
		moved = append(moved, reception.Obstacle{ID: o.ID, Outline: ring, Top: o.Top.Plus(unit.Length(up))})
	}
	l.site.Obstacles = moved
	l.laser.At, l.target.At = l.laser.At.Add(by), l.target.At.Add(by)
	l.target.Bottom = l.target.Bottom.Plus(unit.Length(up))
	return l
}

// holds says that every height of a is one of b.
func inside(a, b reception.Window) bool { return !a.Open() || b.Low <= a.Low && a.High <= b.High }

// Law 1: a shorter range never serves more.
func TestLawShorterRangeServesNoMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLawful(t)
		far := l.window(t)
		l.site.Range /= 2
		if near := l.window(t); !inside(near, far) {
			t.Fatalf("window %v at half the range, %v at all of it", near, far)
		}
	})
}

// Law 2: a higher obstacle, more clearance, or another obstacle never widens.
func TestLawMoreInTheWayServesNoMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLawful(t)
		before := l.window(t)
		switch rapid.IntRange(0, 2).Draw(t, "what") {
		case 0:
			for i := range l.site.Obstacles {
				l.site.Obstacles[i].Top += 0.5
			}
		case 1:
			l.site.Clearance = 0.25
		case 2:
			l.site.Obstacles = append(l.site.Obstacles, reception.Obstacle{
				ID: "Z", Outline: geom.Ring{{X: 1, Y: 1}, {X: 5, Y: 2}, {X: 2, Y: 5}}, Top: 1})
		}
		if after := l.window(t); !inside(after, before) {
			t.Fatalf("window %v with more in the way, %v before", after, before)
		}
	})
}

// Law 3: moved by whole metres in plan nothing changes at all; moved up, level
// and without curvature, the window moves up with it.
func TestLawMovedSiteIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLawful(t)
		a := l.window(t)
		b := l.moved(t, geom.Vector{X: 500_000, Y: 4_900_000}, 0).window(t)
		if a.Open() != b.Open() || a.Open() && (a.Low != b.Low || a.High != b.High) || a.Why.Kind != b.Why.Kind {
			t.Fatalf("moved window %+v, want %+v", b, a)
		}
		up := l.moved(t, geom.Vector{}, 64).window(t)
		// 1e-13 m: steps of float64 at 64 m are wider than at 1 m.
		if a.Open() != up.Open() || a.Open() && !(math.Abs(float64(up.Low-a.Low)-64) <= 1e-13 && math.Abs(float64(up.High-a.High)-64) <= 1e-13) {
			t.Fatalf("raised window %+v, want %+v 64 m higher", up, a)
		}
	})
}

// Law 4: Serves and Why agree with the window at and next to its ends.
func TestLawServesAgreesWithTheWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLawful(t)
		f, err := reception.New(l.site)
		if err != nil {
			t.Fatal(err)
		}
		w := l.window(t)
		tries := []float64{float64(w.Low), float64(w.High), 1, math.NaN(), math.Inf(1), math.Inf(-1)}
		for _, h := range tries[:2] {
			tries = append(tries, math.Nextafter(h, math.Inf(1)), math.Nextafter(h, math.Inf(-1)))
		}
		for _, h := range tries {
			want := w.Open() && float64(w.Low) <= h && h <= float64(w.High)
			got, why := f.Serves(l.laser, unit.Elevation(h), l.target), f.Why(l.laser, unit.Elevation(h), l.target)
			if got != want || want != (why.Kind == reception.Served) || want != why.Message().IsZero() {
				t.Fatalf("Serves(%v) = %v for %v, why %v, want %v", h, got, w, why, want)
			}
		}
	})
}

// Law 5: a dig's window is what its targets' windows have in common, and Best
// finds a height that as many windows hold as the best of all their ends.
func TestLawDigsAndBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLawful(t)
		f, err := reception.New(l.site)
		if err != nil {
			t.Fatal(err)
		}
		targets := []reception.Target{l.target}
		for range rapid.IntRange(0, 4).Draw(t, "more") {
			next := l.target
			next.At = geom.Point{X: float64(rapid.IntRange(0, 6).Draw(t, "x")), Y: float64(rapid.IntRange(0, 6).Draw(t, "y"))}
			next.Bottom += unit.Elevation(rapid.IntRange(0, 4).Draw(t, "up")) / 2
			targets = append(targets, next)
		}
		var s reception.Scratch
		windows := append([]reception.Window(nil), f.From(l.laser, targets, &s)...)
		dig := f.Digs(l.laser, []reception.Dig{{ID: "D", Targets: targets}}, &s)[0]
		h, served := reception.Best(windows, -10, 10)
		count := func(h unit.Elevation) (n int) {
			for _, w := range windows {
				if w.Holds(h) {
					n++
				}
			}
			return n
		}
		most := 0
		for _, w := range windows {
			most = max(most, count(w.Low))
			if all := count(w.Low) == len(windows); all && !dig.Holds(w.Low) {
				t.Fatalf("%v serves all targets, and the dig's window is %v", w.Low, dig)
			}
		}
		if served != most || served > 0 && count(h) != most {
			t.Fatalf("Best = %v, %d (really %d), want %d", h, served, count(h), most)
		}
		if dig.Open() && count(dig.Low) != len(windows) || !dig.Open() && dig.Why.Kind == reception.Served {
			t.Fatalf("the dig's window is %+v, and %d of %d targets are served at its low end", dig, count(dig.Low), len(windows))
		}
	})
}
