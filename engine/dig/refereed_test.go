package dig

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// refereeShare is how narrow the referee's interval is made, as a share of the
// volume: well under the 0.1 % that a wrong volume is off in the tests of the
// referee itself.
const refereeShare = 4e-4

// hillOf is uneven ground from −36 to 36 m: bumps of a height, a tilt, places
// jostled so that no side of a triangle runs along the axes.
func hillOf(bumps, tilt, phase float64) hill {
	const n, step = 18, 4.0
	at := func(i, j int) geom.Point3 {
		x := step*float64(i-n/2) + 0.9*math.Sin(float64(7*i+3*j))
		y := step*float64(j-n/2) + 0.9*math.Cos(float64(5*i-2*j))
		return geom.Point3{X: x, Y: y, Z: tilt*x - tilt/2*y + bumps*math.Sin(0.5*x+phase)*math.Cos(0.4*y)}
	}
	var out hill
	for i := range n {
		for j := range n {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			out = append(out, hillSide{a, b, c}, hillSide{a, c, d})
		}
	}
	return out
}

// outlines that the referee is shown, in sizes of the side; the last two have
// reflex corners.
func shapes(s float64) []geom.Ring {
	return []geom.Ring{
		{{}, {X: s}, {X: s, Y: s / 2}, {Y: s / 2}},
		{{}, {X: s}, {X: 1.3 * s, Y: s}, {X: 0.5 * s, Y: 1.4 * s}, {X: -0.2 * s, Y: 0.8 * s}},
		{{}, {X: 2 * s}, {X: 2 * s, Y: s}, {X: s, Y: s}, {X: s, Y: 2 * s}, {Y: 2 * s}},
		{{}, {X: 2.4 * s}, {X: 2.4 * s, Y: s}, {X: 1.6 * s, Y: 0.9 * s}, {X: 1.3 * s, Y: 2 * s}, {X: 0.3 * s, Y: 1.8 * s}},
	}
}

// dug is the pit as an excavation, its outline the other way round if turned.
func (p mitredPit) dug(turned, rounded bool) Excavation {
	x := Excavation{ID: "X", Kind: Pit, Tolerance: &Tolerance{}, Rounded: rounded,
		Bottom: Bottom{Rule: ByElevation, Elevation: unit.Elevation(p.bottom)}}
	x.Outline, x.Sides.Each = slices.Clone(p.corners), slices.Clone(p.sides)
	if turned {
		slices.Reverse(x.Outline)
		slices.Reverse(x.Sides.Each) // side i runs from corner i: the last one is side 0 backwards
		x.Sides.Each = append(x.Sides.Each[1:], x.Sides.Each[0])
	}
	return x
}

// measured is what the room digs of an excavation.
func measured(t failer, x Excavation, g hill) Excavated {
	t.Helper()
	d, err := Resolve(x, Site{})
	if err != nil {
		t.Fatalf("Resolve = %v", err)
	}
	return d.CutSurface().Excavate(g)
}

// Law: over uneven ground the volume lies in the referee's interval, within the
// stated bound: pits of any outline, each side vertical, battered, benched or both.
func TestVolumeLiesInTheReferee(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := hillOf(rapid.Float64Range(0, 0.8).Draw(t, "bumps"), rapid.Float64Range(-0.05, 0.05).Draw(t, "tilt"), rapid.Float64Range(0, 6).Draw(t, "phase"))
		outline := rapid.SampledFrom(shapes(rapid.Float64Range(2, 5).Draw(t, "size"))).Draw(t, "outline")
		p := mitredPit{bottom: rapid.Float64Range(-3, -1).Draw(t, "bottom")}
		m := motion{angle: rapid.Float64Range(0, 6).Draw(t, "turn"), shift: geom.Vector{X: rapid.Float64Range(-3, 3).Draw(t, "x")}}
		p.corners = moveAll(m, outline)
		for range outline {
			p.sides = append(p.sides, someSlope(t))
		}
		if !p.proper(2) { // two sides have met: then all are alike
			for i := range p.sides {
				p.sides[i] = p.sides[0]
			}
		}
		turned := rapid.Bool().Draw(t, "clockwise")
		e := measured(t, p.dug(turned, false), g)
		v := judged(p, g, refereeShare)
		if !e.Known() || !v.holds(float64(e.Bank), float64(e.Bound)) {
			t.Fatalf("volume = %.9g (bound %.2g, missing %v), want within %.9g … %.9g, of %+v", e.Bank, e.Bound, e.Missing, v.least, v.most, p)
		}
	})
}

// Law: so it does under a straight trench that falls and steps, with batters of
// its own on each side.
func TestTrenchLiesInTheReferee(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := hillOf(rapid.Float64Range(0, 0.8).Draw(t, "bumps"), rapid.Float64Range(-0.05, 0.05).Draw(t, "tilt"), 1)
		r := straightRun{at: geom.Point{X: rapid.Float64Range(-9, -5).Draw(t, "x")}, dir: rapid.Float64Range(-0.6, 0.6).Draw(t, "dir"),
			to: rapid.Float64Range(8, 14).Draw(t, "length"), half: 0.45, bottom: -1.5, rise: rapid.Float64Range(-0.06, 0.03).Draw(t, "rise")}
		for i := range r.batter {
			r.batter[i] = rapid.SampledFrom([]float64{0, 0.3, 1, 1.7}).Draw(t, "batter")
		}
		step, drop := rapid.Float64Range(2, 6).Draw(t, "step"), rapid.SampledFrom([]float64{-0.4, 0, 0.3}).Draw(t, "drop")
		x, runs := r.dug(step, drop)
		e := measured(t, x, g)
		var v interval
		for _, run := range runs {
			one := judged(run, g, 2*refereeShare)
			v.least += one.least
			v.most += one.most
		}
		if !e.Known() || !v.holds(float64(e.Bank), float64(e.Bound)) {
			t.Fatalf("volume = %.9g (bound %.2g, missing %v), want within %.9g … %.9g, of %+v", e.Bank, e.Bound, e.Missing, v.least, v.most, runs)
		}
	})
}

// dug is the run as an excavation with a step, and its pieces as the referee sees them.
func (r straightRun) dug(step, drop float64) (Excavation, []straightRun) {
	along := geom.Vector{X: math.Cos(r.dir), Y: math.Sin(r.dir)}
	x := Excavation{ID: "X", Kind: Trench, Tolerance: &Tolerance{}, Width: unit.Length(2 * r.half), Fall: unit.Grade(-r.rise),
		Line:   []geom.Point{r.at, r.at.Add(along.Scale(r.to))},
		Bottom: Bottom{Rule: ByElevation, Elevation: unit.Elevation(r.bottom)}}
	for _, b := range r.batter {
		x.Sides.Each = append(x.Sides.Each, Slope{Batter: b})
	}
	if drop == 0 {
		return x, []straightRun{r}
	}
	x.Steps = []Step{{unit.Station(step), unit.Length(drop)}}
	first, last := r, r
	first.to, first.wall[1] = step, true
	last.from, last.wall[3], last.bottom = step, true, r.bottom+r.rise*step-drop
	return x, []straightRun{first, last}
}

// cases are pits of every sort in one uneven ground.
func cases() []struct {
	name string
	pit  mitredPit
} {
	vertical, plain := Slope{}, Slope{Batter: 1.5}
	bench := Slope{Batter: 0.5, Benches: []Bench{{1, 0.8}, {2, 0.6}}}
	stairs := Slope{Benches: []Bench{{0.8, 0.7}, {1.6, 0.5}}}
	four := shapes(4)
	all := func(s Slope, n int) []Slope { return slices.Repeat([]Slope{s}, n) }
	return []struct {
		name string
		pit  mitredPit
	}{
		{"vertical", mitredPit{four[1], all(vertical, 5), -2.5}},
		{"battered", mitredPit{four[0], all(plain, 4), -2.5}},
		{"benched", mitredPit{four[1], all(bench, 5), -2.5}},
		{"stairs", mitredPit{four[0], all(stairs, 4), -2.5}},
		{"per side", mitredPit{four[0], []Slope{plain, vertical, bench, stairs}, -2.5}},
		{"reflex corner", mitredPit{four[2], all(plain, 6), -2.5}},
		{"reflex corners, per side", mitredPit{four[3], []Slope{plain, bench, vertical, bench, plain, stairs}, -2}},
	}
}

// The referee convicts: a volume 0.1 % off, a bench forgotten, sides of other
// sides, rounded corners for mitred ones, a bottom 5 mm off.
func TestRefereeConvicts(t *testing.T) {
	g := hillOf(0.7, 0.03, 2)
	for _, c := range cases() {
		v := judged(c.pit, g, refereeShare)
		right := measured(t, c.pit.dug(false, false), g)
		if bank := float64(right.Bank); !v.holds(bank, float64(right.Bound)) || v.holds(bank*1.001, float64(right.Bound)) || v.holds(bank*0.999, float64(right.Bound)) {
			t.Errorf("%s: %.9g m³ in %.9g … %.9g, want it in and 0.1 %% more or less out", c.name, bank, v.least, v.most)
		}
		for name, x := range wrongly(c.pit) {
			if e := measured(t, x, g); v.holds(float64(e.Bank), float64(e.Bound)) {
				t.Errorf("%s, %s: %.9g m³ in %.9g … %.9g, want it out", c.name, name, e.Bank, v.least, v.most)
			}
		}
	}
}

// wrongly are a pit's excavations with a mistake each, as far as it can be made.
func wrongly(p mitredPit) map[string]Excavation {
	lower, out := p, map[string]Excavation{}
	lower.bottom -= 0.005
	out["5 mm too deep"] = lower.dug(false, false)
	mixed, benched, leaning := false, false, false
	forgot, round := p, p
	forgot.sides = slices.Clone(p.sides)
	for i, s := range p.sides {
		mixed = mixed || s.Batter != p.sides[0].Batter || len(s.Benches) != len(p.sides[0].Benches)
		leaning = leaning || s.Batter > 0 || len(s.Benches) > 0
		if k := len(s.Benches); k > 0 {
			benched = true
			forgot.sides[i].Benches = s.Benches[:k-1]
		}
	}
	if mixed {
		round.sides = append(slices.Clone(p.sides[1:]), p.sides[0])
		out["sides of the next ones"] = round.dug(false, false)
	} else if leaning {
		out["rounded for mitred"] = p.dug(false, true)
	}
	if benched {
		out["a bench forgotten"] = forgot.dug(false, false)
	}
	return out
}

// Rounded corners lie in the referee's interval within the bound that is stated for
// them, and the mitred ones do not.
func TestRoundedCornersLieInTheReferee(t *testing.T) {
	g := hillOf(0.7, 0.03, 2)
	four := shapes(4)
	for _, p := range []roundedPit{
		{four[0], Slope{Batter: 1}, -2.5},
		{four[1], Slope{Batter: 0.5, Benches: []Bench{{1, 0.8}, {2, 0.6}}}, -2},
		{four[0], Slope{Benches: []Bench{{0.8, 0.7}, {1.6, 0.5}}}, -2.5},
	} {
		v := judged(p, g, 1e-3)
		x := mitredPit{p.corners, []Slope{p.side}, p.bottom}.dug(false, true)
		x.Sides = Sides{All: p.side}
		e := measured(t, x, g)
		x.Rounded = false
		if !v.holds(float64(e.Bank), float64(e.Bound)) || !(float64(e.Bound) < 5e-3*v.least) {
			t.Errorf("volume = %.9g (bound %.2g), want within %.9g … %.9g and a bound under 0.5 %%, of %+v", e.Bank, e.Bound, v.least, v.most, p)
		}
		if e := measured(t, x, g); v.holds(float64(e.Bank), float64(e.Bound)) {
			t.Errorf("mitred volume = %.9g within %.9g … %.9g of rounded corners, want it out", e.Bank, v.least, v.most)
		}
	}
}
