package dig

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// slopingFacets are two triangles over ±50 m with the heights of four corners.
type slopingFacets [4]float64

func (s slopingFacets) Facets(_ geom.Box, visit func(a, b, c geom.Point3) bool) {
	at := func(x, y float64, i int) geom.Point3 { return geom.Point3{X: x, Y: y, Z: s[i]} }
	a, b, c, d := at(-50, -50, 0), at(50, -50, 1), at(50, 50, 2), at(-50, 50, 3)
	if visit(a, b, c) {
		visit(a, c, d)
	}
}

// bits is a figure or structure with every float64 to the last digit: %v writes
// the fewest digits that give a float64 back.
func bits(v any) string { return fmt.Sprintf("%+v", v) }

// TestUprightIsGeneral is the law that the cells laid out beforehand for a cut
// with vertical sides give bit for bit what cells laid out for the ground give.
func TestUprightIsGeneral(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		figure := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		x := Excavation{
			ID: "F", Kind: Footing, At: geom.Point{X: figure("x", -20, 20), Y: figure("y", -20, 20)},
			Size:    [2]unit.Length{unit.Length(figure("a", 0.3, 8)), unit.Length(figure("b", 0.3, 8))},
			Bearing: unit.Angle(figure("bearing", 0, math.Pi)),
			Bottom:  Bottom{Rule: ByElevation, Elevation: unit.Elevation(figure("bottom", 98, 102))},
		}
		d, err := Resolve(x, Site{})
		if err != nil {
			t.Fatal(err)
		}
		fast := d.CutSurface()
		if fast.upright == nil {
			t.Fatal("a footing with vertical sides has no cells laid out beforehand")
		}
		general := fast
		general.upright = nil
		level := figure("level", 99, 103)
		ground := slopingFacets{level, level, level, level}
		if rapid.Bool().Draw(t, "slopes") {
			ground = slopingFacets{level, figure("z1", 97, 104), figure("z2", 97, 104), figure("z3", 97, 104)}
		}
		if got, want := bits(fast.Excavate(ground)), bits(general.Excavate(ground)); got != want {
			t.Errorf("Excavate = %s, by the general way %s", got, want)
		}
		for _, h := range []float64{0, figure("h", 0, 5), 5} {
			if got, want := fast.areaAt(h), general.areaAt(h); math.Float64bits(got) != math.Float64bits(want) {
				t.Errorf("areaAt(%v) = %v, by the general way %v", h, got, want)
			}
		}
	})
}

// TestSlopedIsNotUpright: cells of sides that lean hang on the ground.
func TestSlopedIsNotUpright(t *testing.T) {
	x := Excavation{ID: "F", Kind: Footing, Size: [2]unit.Length{2, 3}, Bottom: Bottom{Rule: ByElevation, Elevation: 100}}
	x.Sides.All.Batter = 1
	d, err := Resolve(x, Site{})
	if err != nil {
		t.Fatal(err)
	}
	if c := d.CutSurface(); c.upright != nil {
		t.Errorf("a footing with sides of 1:1 has %d cells laid out beforehand, want none", len(c.upright))
	}
}
