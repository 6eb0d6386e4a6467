package machine

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

func near(a, b geom.Point) bool {
	return a.Distance(b) <= 1e-12*math.Max(1, math.Abs(b.X)+math.Abs(b.Y))
}

// Rectangles worked by hand: 4 m long, 2 m wide, facing east.
func TestFootprint(t *testing.T) {
	east := Place{geom.Point{X: 10, Y: 20}, math.Pi / 2}
	for _, c := range []struct {
		name     string
		base     Base
		from, to geom.Point // opposite corners of its box
	}{
		{"plain", Base{Length: 4, Width: 2}, geom.Point{X: 8, Y: 19}, geom.Point{X: 12, Y: 21}},
		{"blade in front", Base{Length: 4, Width: 2, Blade: FrontBlade, BladeOut: 0.5}, geom.Point{X: 8, Y: 19}, geom.Point{X: 12.5, Y: 21}},
		{"blade behind", Base{Length: 4, Width: 2, Blade: RearBlade, BladeOut: 0.5}, geom.Point{X: 7.5, Y: 19}, geom.Point{X: 12, Y: 21}},
		{"swing centre 1 m behind the middle", Base{Length: 4, Width: 2, Behind: 1}, geom.Point{X: 9, Y: 19}, geom.Point{X: 13, Y: 21}},
		{"blade up", Base{Length: 4, Width: 2, BladeOut: 0.5}, geom.Point{X: 8, Y: 19}, geom.Point{X: 12, Y: 21}},
	} {
		ring := c.base.Footprint(east)
		box := ring.Bounds()
		if !near(box.Min, c.from) || !near(box.Max, c.to) || !(ring.Area() > 0) {
			t.Errorf("%s: Footprint = %v, want the box %v to %v", c.name, ring, c.from, c.to)
		}
	}
	if got := (Base{Length: 4}).Footprint(east); got != nil {
		t.Errorf("Footprint of no width = %v, want nil", got)
	}
	feet := Base{Length: 4, Width: 2, Outriggers: 3}.Feet(east)
	if len(feet) != 2 || !near(feet[0].Centroid(), geom.Point{X: 10, Y: 21.25}) || !near(feet[1].Centroid(), geom.Point{X: 10, Y: 18.75}) {
		t.Errorf("Feet = %v, want about (10, 21.25) and (10, 18.75)", feet)
	}
}

func TestSwing(t *testing.T) {
	north := Place{At: geom.Point{}}
	loader := SwingOf(BackhoeLoader, 0)
	for _, c := range []struct {
		s    Swing
		to   geom.Point
		want bool
	}{
		{SwingOf(Tracked, 0), geom.Point{X: 1, Y: -3}, true},
		{loader, geom.Point{Y: -5}, true}, {loader, geom.Point{X: 5, Y: -0.01}, true}, {loader, geom.Point{X: 5}, true},
		{loader, geom.Point{X: 5, Y: 0.01}, false}, {loader, geom.Point{Y: 5}, false}, {loader, geom.Point{}, false},
		{SwingOf(Wheeled, 60*unit.Degree), geom.Point{X: 1.7, Y: 1}, true}, {SwingOf(Wheeled, 60*unit.Degree), geom.Point{X: 1.8, Y: 1}, false},
	} {
		if got := c.s.Turns(north, c.to); got != c.want {
			t.Errorf("%v.Turns(%v) = %v, want %v", c.s, c.to, got, c.want)
		}
	}
}

// TestWithinHoldsForEveryPointOfTheRing: where Within says yes every point of the
// ring, drawn inside its sides, lies between near and far and in the swing.
func TestWithinHoldsForEveryPointOfTheRing(t *testing.T) {
	yes := 0
	rapid.Check(t, func(t *rapid.T) {
		f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		m := Machine{Swing: SwingOf(Tracked, unit.Angle(f(0.3, 4, "each way")))}
		p := Place{geom.Point{X: 500_000, Y: 4_900_000}, unit.Angle(f(0, 6.28, "bearing"))}
		middle := p.At.Add(polar(f(0, 9, "out"), f(-math.Pi, math.Pi, "direction")))
		ring := geom.Rectangle(middle, polar(1, f(0, 3, "turned")), f(0.2, 5, "length"), f(0.2, 3, "width"))
		s := Span{2, 8}
		if !m.Within(p, ring, s) {
			return
		}
		yes++
		u, v := f(0, 1, "u"), f(0, 1, "v")
		at := ring[0].Toward(ring[1], u).Add(ring[3].Sub(ring[0]).Scale(v))
		d := at.Distance(p.At)
		if !(d >= 2-1e-6) || !(d <= 8+1e-6) || !m.Swing.Turns(p, at) { // m, at eastings of 5e6
			t.Fatalf("%v is within %v of %v, but its point %v lies %v away, turns %v", ring, s, p, at, d, m.Swing.Turns(p, at))
		}
	})
	if yes == 0 {
		t.Error("no ring was within: the test says nothing")
	}
}

func TestCovers(t *testing.T) {
	e, fault := Sheet{MaxReach: 8, MaxDepth: 4, Floors: []Floor{{-0.5, Span{2, 8}}, {0, Span{2, 8}}, {2, Span{3, 6}}}}.Envelope()
	if fault != nil {
		t.Fatal(fault)
	}
	m := Machine{Envelope: e, Swing: SwingOf(Tracked, 0)}
	cell := geom.Rectangle(geom.Point{X: 4.5}, geom.Vector{X: 1}, 1, 1)
	for _, c := range []struct {
		depth unit.Length
		at    geom.Point
		want  bool
	}{
		{2, geom.Point{}, true},        // 4 to 5 m of 3 to 6
		{2, geom.Point{X: 1.6}, false}, // 2.4 m: nearer than 3
		{1, geom.Point{X: 1.6}, false}, // near is the worse of the floors over and under
		{0, geom.Point{X: 1.6}, true},  // 2 to 8 m at the ground
		{1, geom.Point{X: -2}, false},  // its far corners lie 7.018 m away, far is 7 at 1 m
		{1, geom.Point{X: -1.9}, true}, // 6.92 m
		{2.01, geom.Point{}, false},    // under the last floor
		{2, geom.Point{X: 4.5}, false}, // stands in it
		{unit.Length(math.NaN()), geom.Point{}, false},
	} {
		if got := m.Covers(Place{At: c.at}, cell, c.depth); got != c.want {
			t.Errorf("Covers from %v at depth %v = %v, want %v", c.at, c.depth, got, c.want)
		}
	}
	m.BoomOffset = 3
	if got := m.Plan(Span{4, 6}); !(math.Abs(float64(got.Near)-5) <= 1e-12) || !(math.Abs(float64(got.Far)-math.Sqrt(45)) <= 1e-12) {
		t.Errorf("Plan(4 to 6, offset 3) = %v, want 5 to √45", got)
	}
}

func TestBadSheetsAndLinkagesAreFaults(t *testing.T) {
	for name, s := range map[string]Sheet{
		"nothing": {}, "no depth": {MaxReach: 8}, "level bottom under the deepest": {MaxReach: 8, MaxDepth: 4, LevelDepth: 5},
		"floors mixed up": {Floors: []Floor{{2, Span{3, 6}}, {1, Span{3, 7}}}}, "a depth twice": {Floors: []Floor{{1, Span{3, 6}}, {1, Span{3, 7}}}},
		"near beyond far": {Floors: []Floor{{1, Span{6, 3}}}}, "not a figure": {MaxReach: unit.Length(math.NaN()), MaxDepth: 4},
	} {
		if _, fault := s.Envelope(); fault == nil {
			t.Errorf("sheet with %s: no fault", name)
		}
	}
	for name, change := range map[string]func(*Linkage){
		"no boom": func(l *Linkage) { l.Boom = 0 }, "NaN stick": func(l *Linkage) { l.Stick = unit.Length(math.NaN()) },
		"stick straight": func(l *Linkage) { l.StickAngles.High = 0 }, "boom angles turned": func(l *Linkage) { l.BoomAngles = Range{1, -1} },
		"bucket angles NaN": func(l *Linkage) { l.BucketAngles.Low = unit.Angle(math.NaN()) },
	} {
		l := small
		change(&l)
		if _, fault := l.Envelope(); fault == nil {
			t.Errorf("linkage with %s: no fault", name)
		}
	}
}
