package gradeline_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/gradeline"
	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// drawn is a run over drawn ground; every kind of bends comes up.
func drawn(t *rapid.T) gradeline.Problem {
	p := gradeline.Problem{Width: 0.6, Over: 0.2, Wall: 0.01, Under: 0.11, Falls: gradeline.AnyFall()}
	p.Cover = unit.Length(rapid.Float64Range(0.3, 1.5).Draw(t, "cover"))
	s, z := 0.0, 100.0
	for range rapid.IntRange(2, 25).Draw(t, "points") {
		p.Covered = append(p.Covered, gradeline.Point{Station: unit.Station(s), Z: unit.Elevation(z)})
		s += rapid.Float64Range(0.2, 8).Draw(t, "step")
		z += rapid.Float64Range(-0.6, 0.5).Draw(t, "rise")
	}
	if rapid.Bool().Draw(t, "falls") {
		p.Falls.Least = unit.Grade(rapid.Float64Range(-0.02, 0.03).Draw(t, "least"))
		p.Falls.Most = p.Falls.Least + unit.Grade(rapid.Float64Range(0, 0.1).Draw(t, "more"))
	}
	p.Bends = gradeline.Bends(rapid.IntRange(0, 2).Draw(t, "bends"))
	if p.Bends == gradeline.AtStations {
		for _, c := range p.Covered[1 : len(p.Covered)-1] {
			if rapid.Bool().Draw(t, "bend") {
				p.At = append(p.At, c.Station+0.05)
			}
		}
	}
	return p
}

// find is the line of a problem that has one.
func find(t interface{ Fatal(...any) }, p gradeline.Problem) gradeline.Line {
	l, err := gradeline.Find(p)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Law 1: more cover is never less digging, and each millimetre costs at least
// its width × length where the line keeps its shape: the line goes down with it.
func TestDiggingGrowsWithCover(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		a := find(t, p)
		more := rapid.Float64Range(0.001, 1).Draw(t, "more cover")
		p.Cover += unit.Length(more)
		b := find(t, p)
		length := float64(p.Covered[len(p.Covered)-1].Station)
		if want := float64(a.Digging) + more*length*float64(p.Width); !(math.Abs(float64(b.Digging)-want) <= 1e-7*(1+want)) {
			t.Fatalf("digging %v, with %g m more cover %v, want %v (tol 1e-7: rounding)", a.Digging, more, b.Digging, want)
		}
	})
}

// Law 2: bends allowed are never more digging; a wider range of falls neither.
func TestFreedomNeverCosts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		p.Bends = gradeline.Straight
		straight := find(t, p)
		p.Bends = gradeline.AtStations
		bent := find(t, p)
		p.Bends = gradeline.Anywhere
		free := find(t, p)
		p.Falls.Least -= 0.01
		loose := find(t, p)
		if !(straight.Digging >= bent.Digging-1e-7 && bent.Digging >= free.Digging-1e-7 && free.Digging >= loose.Digging-1e-7) {
			t.Fatalf("digging straight %v, bent %v, free %v, looser %v", straight.Digging, bent.Digging, free.Digging, loose.Digging)
		}
	})
}

// Law 3: raising everything, moving the stations and walking the line the other
// way round change nothing.
func TestShiftAndMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		a := find(t, p)
		up, on := rapid.Float64Range(-500, 3000).Draw(t, "up"), rapid.Float64Range(-100, 5000).Draw(t, "on")
		q := p
		q.Covered, q.At = nil, nil
		for _, c := range p.Covered {
			q.Covered = append(q.Covered, gradeline.Point{Station: c.Station + unit.Station(on), Z: c.Z + unit.Elevation(up)})
		}
		for _, s := range p.At {
			q.At = append(q.At, s+unit.Station(on))
		}
		if b := find(t, q); !(math.Abs(float64(a.Digging-b.Digging)) <= 1e-7*(1+float64(a.Digging))) {
			t.Fatalf("digging %v, shifted %v", a.Digging, b.Digging)
		}
		end := p.Covered[len(p.Covered)-1].Station
		m := p
		m.Covered, m.At = nil, nil
		for i := len(p.Covered) - 1; i >= 0; i-- {
			m.Covered = append(m.Covered, gradeline.Point{Station: end - p.Covered[i].Station, Z: p.Covered[i].Z})
		}
		for _, s := range p.At {
			m.At = append(m.At, end-s)
		}
		m.Falls = gradeline.Falls{Least: -p.Falls.Most, Most: -p.Falls.Least}
		if b := find(t, m); !(math.Abs(float64(a.Digging-b.Digging)) <= 1e-7*(1+float64(a.Digging))) {
			t.Fatalf("digging %v, walked back %v", a.Digging, b.Digging)
		}
	})
}

// Law 4: a site turned, or at eastings of 500 000 and northings of 4 900 000,
// gives the same line.
func TestTurnedSite(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 7))
	var shots []geom.Point3
	for range 200 {
		x, y := 120*r.Float64()-10, 60*r.Float64()-30
		shots = append(shots, geom.Point3{X: x, Y: y, Z: 50 - 0.02*x + math.Sin(x/7)*0.4 + math.Cos(y/5)*0.3})
	}
	line := []geom.Point{{X: 0, Y: -20}, {X: 60, Y: 5}, {X: 100, Y: 20}}
	digging := func(turn, east, north float64) float64 {
		sin, cos := math.Sincos(turn)
		move := func(p geom.Point) geom.Point {
			return geom.Point{X: p.X*cos - p.Y*sin + east, Y: p.X*sin + p.Y*cos + north}
		}
		var moved []ground.Shot
		for _, s := range shots {
			moved = append(moved, ground.Shot{At: move(s.Plan()), Z: s.Z})
		}
		surface := surfaceOf(t, moved)
		var at []geom.Point
		for _, p := range line {
			at = append(at, move(p))
		}
		p := gradeline.Problem{Width: 0.6, Cover: 0.8, Over: 0.15, Wall: 0.005, Under: 0.105, Falls: gradeline.Falls{Least: 0.01, Most: 0.2}, Bends: gradeline.Anywhere}
		for _, pt := range surface.Profile(at) {
			if !pt.Known {
				t.Fatal("the line leaves the survey")
			}
			p.Covered = append(p.Covered, gradeline.Point{Station: unit.Station(pt.Station), Z: unit.Elevation(pt.Z)})
		}
		return float64(find(t, p).Digging)
	}
	want := digging(0, 0, 0)
	for _, c := range []struct{ turn, east, north, tol float64 }{{1, 0, 0, 1e-9}, {2.5, 30, -7, 1e-9}, {0.3, 500_000, 4_900_000, 1e-6}} {
		// At real eastings a float64 has a grain of 1 nm.
		if got := digging(c.turn, c.east, c.north); !(math.Abs(got-want) <= c.tol*want) {
			t.Errorf("digging turned by %g at %g, %g = %.9f m³, want %.9f (tol %g of it)", c.turn, c.east, c.north, got, want, c.tol)
		}
	}
}

func TestByHand(t *testing.T) {
	// Level ground at 10, straight, cover 1, 1 % over 100 m, 0.5 m wide, no pipe:
	// from 9 down to 8; mean depth 1.5 m, 75 m³ (exact).
	p := gradeline.Problem{
		Covered: []gradeline.Point{{Station: 0, Z: 10}, {Station: 100, Z: 10}}, Width: 0.5, Cover: 1,
		Falls: gradeline.Falls{Least: 0.01, Most: unit.Grade(math.Inf(1))},
	}
	l := find(t, p)
	if !(math.Abs(float64(l.Digging)-75) <= 1e-9) || !l.Proven {
		t.Errorf("digging = %v, proven %v, want 75 m³, true", l.Digging, l.Proven)
	}
	if n := len(l.Rests); n != 1 || l.Rests[0].Station != 0 || l.Rests[0].Kind != gradeline.Cover {
		t.Errorf("rests on %v, want the least cover at 0", l.Rests)
	}
	if n := len(l.AtLeast); n != 1 || l.AtLeast[0] != (gradeline.Stretch{From: 0, To: 100}) {
		t.Errorf("least fall on %v, want all along", l.AtLeast)
	}
	// The same under ground finished 2 m over the ground that is dug: only the
	// end is cut. Under 10: from 9 to 8 against ground at 8.5: 50 m out of it,
	// then a wedge of 50 m × 0.5 m deep: 0.5 × 12.5 = 6.25 m³.
	p.Dug = []gradeline.Point{{Station: 0, Z: 8.5}, {Station: 100, Z: 8.5}}
	l = find(t, p)
	if !(math.Abs(float64(l.Digging)-6.25) <= 1e-9) || l.Proven || !(math.Abs(float64(l.OutOf)-50) <= 1e-9) || !(l.Bound <= l.Digging) {
		t.Errorf("digging = %v, bound %v, out of the ground %v, want 6.25, no more, 50", l.Digging, l.Bound, l.OutOf)
	}
}

func TestClash(t *testing.T) {
	level := []gradeline.Point{{Station: 0, Z: 10}, {Station: 50, Z: 10}, {Station: 100, Z: 10}}
	base := gradeline.Problem{Covered: level, Width: 0.5, Cover: 1, Falls: gradeline.Falls{Least: 0.01, Most: unit.Grade(math.Inf(1))}}
	for _, c := range []struct {
		name        string
		change      func(*gradeline.Problem)
		kinds       []gradeline.Kind
		stations    []unit.Station
		short       float64
		least, most bool
	}{
		{"a fixed end over the cover", func(p *gradeline.Problem) { p.Fixed = []gradeline.Fixed{{Station: 100, Invert: 9.2}} },
			[]gradeline.Kind{gradeline.Cover, gradeline.FixedAt}, []unit.Station{0, 100}, 1.2, true, false},
		{"two fixed ends with too little fall", func(p *gradeline.Problem) {
			p.Fixed = []gradeline.Fixed{{Station: 0, Invert: 8}, {Station: 100, Invert: 7.4}}
		}, []gradeline.Kind{gradeline.FixedAt, gradeline.FixedAt}, []unit.Station{0, 100}, 0.4, true, false},
		{"over a service in the ground", func(p *gradeline.Problem) {
			p.Passes = []gradeline.Pass{{ID: "W", Station: 50, Over: true, Level: 8.9, Clearance: 0.3}}
		}, []gradeline.Kind{gradeline.Cover, gradeline.PassOver}, []unit.Station{0, 50}, 0.7, true, false},
		{"under it and up again", func(p *gradeline.Problem) {
			p.Falls = gradeline.Falls{Least: -0.02, Most: 0.02}
			p.Passes = []gradeline.Pass{{ID: "W", Station: 50, Level: 7, Clearance: 0.5}}
			p.Fixed = []gradeline.Fixed{{Station: 100, Invert: 8.5}}
		}, []gradeline.Kind{gradeline.PassUnder, gradeline.FixedAt}, []unit.Station{50, 100}, 1, true, false},
	} {
		for _, bends := range []gradeline.Bends{gradeline.Anywhere, gradeline.AtStations, gradeline.Straight} {
			p := base
			c.change(&p)
			p.Bends, p.At = bends, []unit.Station{50}
			if c.name == "under it and up again" && bends == gradeline.Straight {
				continue // a straight line clashes by another pair
			}
			_, err := gradeline.Find(p)
			var clash *gradeline.Clash
			if !errors.As(err, &clash) {
				t.Errorf("%s, bends %d: %v, want a clash", c.name, bends, err)
				continue
			}
			if len(clash.Rules) != len(c.kinds) || clash.LeastFall != c.least || clash.MostFall != c.most || !(math.Abs(float64(clash.Short)-c.short) <= 2e-6) {
				t.Errorf("%s, bends %d: %+v, want %v at %v, %g short, least %v, most %v (tol 2e-6 m: bisection)", c.name, bends, clash, c.kinds, c.stations, c.short, c.least, c.most)
				continue
			}
			for i, r := range clash.Rules {
				if r.Kind != c.kinds[i] || r.Station != c.stations[i] {
					t.Errorf("%s, bends %d: rule %d is %+v, want %s at %v", c.name, bends, i, r, c.kinds[i], c.stations[i])
				}
			}
			for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
				f := clash.Fault()
				if text := f.Render(lang, unit.Style{}); text == string(f.What.Key) || f.Code != phrase.Conflict {
					t.Errorf("%s has no text in %s", f.What.Key, lang)
				}
			}
		}
	}
}

// surfaceOf triangulates shots.
func surfaceOf(t *testing.T, shots []ground.Shot) ground.Surface {
	t.Helper()
	tin, _, err := ground.Build(shots, nil, ground.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return tin
}

func TestFaults(t *testing.T) {
	nan := unit.Length(math.NaN())
	good := gradeline.Problem{Covered: []gradeline.Point{{Station: 0, Z: 10}, {Station: 100, Z: 10}}, Width: 0.5, Cover: 1, Falls: gradeline.AnyFall()}
	for _, c := range []struct {
		key    phrase.Key
		change func(*gradeline.Problem)
	}{
		{"gradeline.ground_points", func(p *gradeline.Problem) { p.Covered = p.Covered[:1] }},
		{"gradeline.ground_order", func(p *gradeline.Problem) { p.Covered = []gradeline.Point{{Station: 0}, {Station: 0}} }},
		{"gradeline.ground_order", func(p *gradeline.Problem) {
			p.Covered = []gradeline.Point{{Station: 0}, {Station: 5, Z: unit.Elevation(math.NaN())}}
		}},
		{"gradeline.ground_short", func(p *gradeline.Problem) { p.Dug = []gradeline.Point{{Station: 0}, {Station: 99}} }},
		{"gradeline.width", func(p *gradeline.Problem) { p.Width = 0 }},
		{"gradeline.width", func(p *gradeline.Problem) { p.Width = nan }},
		{"gradeline.layers", func(p *gradeline.Problem) { p.Cover = nan }},
		{"gradeline.layers", func(p *gradeline.Problem) { p.Wall = 0.1 }},
		{"gradeline.falls", func(p *gradeline.Problem) { p.Falls = gradeline.Falls{Least: 0.02, Most: 0.01} }},
		{"gradeline.falls", func(p *gradeline.Problem) { p.Falls.Least = unit.Grade(nan) }},
		{"gradeline.beyond", func(p *gradeline.Problem) { p.At = []unit.Station{101} }},
		{"gradeline.beyond", func(p *gradeline.Problem) { p.Fixed = []gradeline.Fixed{{Station: -1}} }},
		{"gradeline.beyond", func(p *gradeline.Problem) { p.Passes = []gradeline.Pass{{Station: 101}} }},
		{"gradeline.clearance", func(p *gradeline.Problem) { p.Passes = []gradeline.Pass{{Station: 5, Clearance: -1}} }},
	} {
		p := good
		c.change(&p)
		_, err := gradeline.Find(p)
		var f *phrase.Fault
		if !errors.As(err, &f) || f.What.Key != c.key {
			t.Errorf("Find gave %v, want %s", err, c.key)
		}
	}
}

// hills is ground of n points, a metre apart.
func hills(n int) []gradeline.Point {
	r := rand.New(rand.NewPCG(4, 9))
	out := make([]gradeline.Point, n)
	for i := range out {
		x := float64(i)
		out[i] = gradeline.Point{Station: unit.Station(x), Z: unit.Elevation(100 + 4*math.Sin(x/90) + math.Sin(x/17) - 0.004*x + 0.1*r.Float64())}
	}
	return out
}

func BenchmarkFind(b *testing.B) {
	every := func(step int) (out []unit.Station) {
		for s := step; s < 10_000; s += step {
			out = append(out, unit.Station(s))
		}
		return out
	}
	for _, c := range []struct {
		name  string
		bends gradeline.Bends
		at    []unit.Station
	}{{"anywhere", gradeline.Anywhere, nil}, {"straight", gradeline.Straight, nil}, {"every100m", gradeline.AtStations, every(100)}, {"every10m", gradeline.AtStations, every(10)}} {
		p := gradeline.Problem{
			Covered: hills(10_000), Width: 0.6, Cover: 0.9, Over: 0.2, Wall: 0.01, Under: 0.11,
			Falls: gradeline.Falls{Least: 0.003, Most: 0.1}, Bends: c.bends, At: c.at,
		}
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := gradeline.Find(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	p := gradeline.Problem{Covered: hills(10_000), Width: 0.6, Cover: 0.9, Falls: gradeline.Falls{Least: 0.003, Most: 0.1}, Bends: gradeline.AtStations, At: every(10),
		Fixed: []gradeline.Fixed{{Station: 0, Invert: 90}, {Station: 9999, Invert: 89}}}
	b.Run("clash", func(b *testing.B) {
		for b.Loop() {
			if _, err := gradeline.Find(p); err == nil {
				b.Fatal("no clash")
			}
		}
	})
}
