package dig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/unit"
)

// rough is a survey of bumps over −40 … 40 m.
func rough(t *rapid.T, at geom.Vector) ground.Surface {
	amp := rapid.Float64Range(0, 0.8).Draw(t, "bumps")
	tilt := rapid.Float64Range(-0.1, 0.1).Draw(t, "tilt")
	phase := rapid.Float64Range(0, 6).Draw(t, "phase")
	var shots []ground.Shot
	for i := -10; i <= 10; i++ {
		for j := -10; j <= 10; j++ {
			x, y := 4*float64(i)+0.7*math.Sin(float64(7*i+3*j)), 4*float64(j)+0.7*math.Cos(float64(5*i-2*j))
			z := tilt*x + amp*math.Sin(0.4*x+phase)*math.Cos(0.3*y)
			shots = append(shots, ground.Shot{At: geom.Point{X: x, Y: y}.Add(at), Z: z})
		}
	}
	tin, _, err := ground.Build(shots, nil, ground.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return tin
}

// slopes are sides of all sorts.
func someSlope(t *rapid.T) Slope {
	switch rapid.IntRange(0, 3).Draw(t, "side") {
	case 0:
		return Slope{}
	case 1:
		return Slope{Batter: rapid.Float64Range(0.1, 2).Draw(t, "batter")}
	case 2:
		return Slope{Batter: rapid.Float64Range(0.2, 1).Draw(t, "batter"),
			Benches: []Bench{{Height: 0.6, Width: 0.5}, {Height: 1.3, Width: 0.4}}}
	}
	return Slope{Benches: []Bench{{Height: 0.5, Width: 0.7}, {Height: 1.2, Width: 0.3}}}
}

// someDig is a pit of a random outline, convex or not, or a stepped, bent trench.
func someDig(t *rapid.T, at geom.Vector) Dig {
	x := Excavation{ID: "X", Kind: Pit, Tolerance: &Tolerance{},
		Bottom: Bottom{Rule: ByElevation, Elevation: unit.Elevation(rapid.Float64Range(-3.5, -1.6).Draw(t, "bottom"))}}
	x.Rounded = rapid.Bool().Draw(t, "rounded")
	s := rapid.Float64Range(2, 6).Draw(t, "size")
	all := someSlope(t)
	x.Sides.All = all
	shift := geom.Vector{X: rapid.Float64Range(-8, 8).Draw(t, "x"), Y: rapid.Float64Range(-8, 8).Draw(t, "y")}.Plus(at)
	turn := rapid.Float64Range(0, 6).Draw(t, "turn")
	m := motion{angle: turn, shift: shift}
	switch rapid.IntRange(0, 5).Draw(t, "shape") {
	case 0:
		x.At, x.Size, x.Bearing = geom.Point{}.Add(shift), [2]unit.Length{unit.Length(s), unit.Length(s / 2)}, unit.Angle(turn)
		x.Sides.Each = []Slope{all, someSlope(t), all, someSlope(t)}
	case 1:
		x.Outline = geom.Ring{{}, {X: 2 * s}, {X: 2 * s, Y: s / 2}, {X: s / 2, Y: s / 2}, {X: s / 2, Y: s}, {Y: s}}
	case 2:
		x.Outline = geom.Ring{{}, {X: 2 * s}, {X: 2.2 * s, Y: s}, {X: 1.4 * s, Y: s}, {X: 1.2 * s, Y: s / 3}, {X: 0.8 * s, Y: s / 2}, {X: 0.6 * s, Y: s}, {Y: s}}
	case 3:
		x.Outline = geom.Ring{{}, {X: 2 * s}, {X: 2.5 * s, Y: s}, {X: s, Y: 1.5 * s}, {X: -0.3 * s, Y: s}}
	case 4:
		x.Kind, x.Working = Pad, 0.4
		x.At, x.Size, x.Bearing = geom.Point{}.Add(shift), [2]unit.Length{unit.Length(2 * s), unit.Length(s)}, unit.Angle(turn)
		x.Thickened = []Edge{{Sides: SideIndex, Index: 0, Width: 0.5, Depth: 0.3}, {Sides: SideIndex, Index: 1, Width: 0.4, Depth: 0.2}}
	default:
		x.Kind, x.Fall = Trench, 0.02
		x.Line = []geom.Point{{}, {X: s}, {X: s + 3, Y: s}, {X: s + 9, Y: s - 1}}
		x.Width = 0.8
		x.Steps = []Step{{Station: unit.Station(s / 2), Drop: 0.3}}
		for i, p := range x.Line {
			x.Line[i] = m.point(p)
		}
	}
	for i, p := range x.Outline {
		x.Outline[i] = m.point(p)
	}
	d, err := Resolve(x, Site{})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// raster sums ground over cut on a square grid, turned so that no side runs along
// it, by Height alone, which shares no step with the cells.
func raster(c CutSurface, g ground.Surface, box geom.Box, n int) float64 {
	sum := 0.0
	m := motion{0.37, box.Centre().Sub(geom.Point{})}
	size := 1.5 * max(box.Width(), box.Height()) / float64(n)
	for i := range n {
		for j := range n {
			p := m.point(geom.Point{X: (float64(i-n/2) + 0.41) * size, Y: (float64(j-n/2) + 0.37) * size})
			z, known := g.Height(p)
			cut, ok := c.Height(p)
			if known && ok && z > float64(cut) {
				sum += z - float64(cut)
			}
		}
	}
	return sum * size * size
}

// Law: the heights that are told and the volume are of one surface, in all kinds of
// digs: a raster sum of the heights is the volume, as near as refining moves the sum. That the
// volume is right the referee holds (refereed_test.go).
func TestHeightsAreOfTheVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := rough(t, geom.Vector{})
		d := someDig(t, geom.Vector{})
		c := d.CutSurface()
		e := c.Excavate(g)
		if e.Bank == 0 {
			return
		}
		box := e.Bounds.Grown(0.05)
		coarse, fine := raster(c, g, box, 200), raster(c, g, box, 400)
		tol := 2*math.Abs(fine-coarse) + 0.002*fine + 0.01 + float64(e.Bound)
		if !(math.Abs(float64(e.Bank)-fine) <= tol) {
			t.Fatalf("volume %.6g, raster %.6g (from %.6g, tol %.3g) of %+v", e.Bank, fine, coarse, tol, d.Excavation)
		}
		if e.Known() {
			area := 0.0
			for _, r := range e.Top {
				area += r.Area()
			}
			if !(math.Abs(area-float64(e.Area)) <= 1e-4*(1+float64(e.Area))) {
				t.Fatalf("top edge holds %.8g m², dug %.8g (tol 1e-4: no ground under 1e-7 m deep) of %+v: %v", area, e.Area, d.Excavation, e.Top)
			}
		}
	})
}

// Laws: two cuts never take more together than apart nor less than the larger;
// shares add up to both in either order; the deeper keeps its volume.
func TestSharesOfTwoCuts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := rough(t, geom.Vector{})
		a, b := someDig(t, geom.Vector{}).CutSurface(), someDig(t, geom.Vector{}).CutSurface()
		ab := ExcavateAll([]CutSurface{a, b}, g)
		ba := ExcavateAll([]CutSurface{b, a}, g)
		both, back := float64(ab[0].Share+ab[1].Share), float64(ba[0].Share+ba[1].Share)
		va, vb := float64(ab[0].Bank), float64(ab[1].Bank)
		tol := 1e-7 * (1 + va + vb) // ties of planes are 1e-10 m wide, ground under 1e-7 m is not dug
		if !(both <= va+vb+tol) || !(both >= max(va, vb)-tol) || !(math.Abs(both-back) <= tol) {
			t.Fatalf("shares %v + %v = %v, the other way %v, of %v and %v", ab[0].Share, ab[1].Share, both, back, va, vb)
		}
		twice := ExcavateAll([]CutSurface{a, a}, g)
		if !(math.Abs(float64(twice[0].Share)-va) <= tol) || !(float64(twice[1].Share) <= tol) {
			t.Fatalf("the same cut twice shares %v and %v of %v", twice[0].Share, twice[1].Share, va)
		}
	})
}

// Laws: a volume does not move with the site, to eastings of 500 000 or turned;
// a deeper cut takes more.
func TestVolumeMovesWithTheSite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := someDig(t, geom.Vector{})
		m := motion{rapid.Float64Range(0, 6).Draw(t, "angle"), geom.Vector{X: 500000, Y: 4900000}}
		g := ground.Level(0.3)
		here := d.CutSurface().Excavate(g)
		x := d.Excavation
		x.At, x.Bearing = m.point(x.At), x.Bearing-unit.Angle(m.angle)
		x.Outline, x.Line = moveAll(m, x.Outline), moveAll(m, x.Line)
		there, err := Resolve(x, Site{})
		if err != nil {
			t.Fatal(err)
		}
		e := there.CutSurface().Excavate(g)
		tol := 1e-7*(1+float64(here.Bank)) + float64(here.Bound+e.Bound) // a coordinate of 4 900 000 is rounded to 1e-9 m
		if !(math.Abs(float64(e.Bank-here.Bank)) <= tol) {
			t.Fatalf("volume %.12g here, %.12g there (tol %.2g)", here.Bank, e.Bank, tol)
		}
		if lower := d.CutSurface().Excavate(ground.Level(0.4)); !(lower.Bank >= here.Bank) {
			t.Fatalf("volume %v under 0.3, %v under 0.4", here.Bank, lower.Bank)
		}
	})
}

func moveAll(m motion, points []geom.Point) []geom.Point {
	var out []geom.Point
	for _, p := range points {
		out = append(out, m.point(p))
	}
	return out
}
