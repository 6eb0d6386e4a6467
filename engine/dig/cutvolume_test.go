package dig

import (
	"math"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/unit"
)

const cubicYard = 0.9144 * 0.9144 * 0.9144

// pit is a rectangular pit with bottom a × b under level ground at 0.
func pit(a, b, depth, batter float64) Excavation {
	return Excavation{
		ID: "P", Kind: Pit, Size: [2]unit.Length{unit.Length(a), unit.Length(b)},
		Bottom: Bottom{Rule: ByElevation, Elevation: unit.Elevation(-depth)},
		Sides:  Sides{All: Slope{Batter: batter}}, Tolerance: &Tolerance{},
	}
}

// ditch is a run along x under ground at 0.
func ditch(length, width, depth, batter float64) Excavation {
	return Excavation{
		ID: "T", Kind: Trench, Line: []geom.Point{{}, {X: length}}, Width: unit.Length(width),
		Bottom:    Bottom{Rule: ByElevation, Elevation: unit.Elevation(-depth)},
		Sides:     Sides{Each: []Slope{{Batter: batter}, {}, {Batter: batter}, {}}},
		Tolerance: &Tolerance{},
	}
}

func excavated(t testing.TB, x Excavation, g ground.Surface) Excavated {
	t.Helper()
	d, err := Resolve(x, Site{Existing: g})
	if err != nil {
		t.Fatal(err)
	}
	return d.CutSurface().Excavate(g)
}

// Volumes are those of engine sources as named, at the published rounding, and
// of the closed form abD + s(a+b)D² + (4/3)s²D³ to 1e-9.
func TestPublishedVolumes(t *testing.T) {
	ft := float64(unit.Foot)
	rounded := pit(34, 24, 4, 2)
	rounded.Rounded = true
	for _, c := range []struct {
		name      string
		x         Excavation
		per       float64 // cubic metres of a published unit
		want, tol float64
	}{
		// Worked example read: pit 2H:1V, top 50 × 40 m, depth 4 m.
		{"pit 50 × 40, mitred", pit(34, 24, 4, 2), 1, 16384.0 / 3, 1e-9 * 5461},
		// exact: the same with arcs of a cone round the corners, 4352 + cone 4/12… = abD + s(a+b)D² + (π/3)s²D³
		{"pit 50 × 40, rounded", rounded, 1, 34*24*4 + 2*58*16 + math.Pi/3*4*64, 1e-9 * 5388},
		// USDA Agriculture Handbook 590, excavated pond (from memory; arithmetic exact).
		{"pond 40 × 100 ft", pit(40*ft, 100*ft, 12*ft, 2), cubicYard, 3612, 0.5},
		// Sloped trench, 180 ft long, 12 deep, 7 top, 4 bottom (read).
		{"sloped trench", ditch(180*ft, 4*ft, 12*ft, 0.125), cubicYard, 440, 0.5},
	} {
		got := excavated(t, c.x, ground.Level(0))
		if v := float64(got.Bank) / c.per; !(math.Abs(v-c.want) <= c.tol) || !got.Known() {
			t.Errorf("%s: volume = %.10g (missing %v), want %.10g (tol %.3g)", c.name, v, got.Missing, c.want, c.tol)
		}
		if len(got.Top) != 1 {
			t.Errorf("%s: %d rings of top edge, want 1: %v", c.name, len(got.Top), got.Top)
		} else if a := got.Top[0].Area(); !(math.Abs(a-float64(got.Area)) < 1e-4) {
			t.Errorf("%s: area in the top edge = %.9g, dug %.9g (tol 1e-4: ground counts as dug from 1e-7 m)", c.name, a, got.Area)
		}
	}
}

// Vose, Handbook of Railroad Construction, table of level sections: base 19 ft
// (fitted), 1.5:1, cubic yards per 100 ft.
func TestLevelSectionTable(t *testing.T) {
	ft := float64(unit.Foot)
	for _, c := range []struct{ cut, want float64 }{
		{1, 76}, {2, 163}, {3, 261}, {4, 371}, {5, 491}, {6, 622}, {8, 919}, {9, 1083}, {10, 1260},
	} {
		got := float64(excavated(t, ditch(100*ft, 19*ft, c.cut*ft, 1.5), ground.Level(0)).Bank) / cubicYard
		if !(math.Abs(got-c.want) <= 1.01) {
			t.Errorf("cut of %g ft: %.2f yd³, want %g (tol 1: as printed)", c.cut, got, c.want)
		}
	}
}
