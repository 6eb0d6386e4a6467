package reception_test

import (
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/reception"
)

// TestTheBendDecidesWithinAFacet: ground that rises along the ray as fast as the
// beam bends up asks for most in the middle of a facet, 116 m out, 5 µm more than
// at the laser's foot and 10 µm more than at the facet's edges.
func TestTheBendDecidesWithinAFacet(t *testing.T) {
	const k, summit = 6.75e-8, 1.0
	slope := 2 * k * 116
	end := summit - k*144 + k*128*128
	along := []float64{summit - 5e-6, summit - 1e-3, summit - 1e-3, end - 32*slope, end}
	g := ground.GridData{DX: 32, DY: 32, Cols: 5, Rows: 2, Z: append(along, along...)}
	s, err := ground.NewGrid(g)
	if err != nil {
		t.Fatal(err)
	}
	site := reception.Site{Ground: s, Range: 200, Curvature: beam.Combined}
	f, err := reception.New(site)
	if err != nil {
		t.Fatal(err)
	}
	l := reception.Laser{At: geom.Point{Y: 8}}
	target := reception.Target{At: geom.Point{X: 128, Y: 8}, Bottom: 0, Lowest: 0.5, Highest: 3}
	w := f.From(l, []reception.Target{target}, new(reception.Scratch))[0]
	if what := refereeOf(site, s.Bounds()).judge(l, target).wrong(w); what != "" {
		t.Errorf("%s: %+v", what, w)
	}
	// 1e-7 m: the heights are given to 16 digits.
	if low := float64(w.Low); !(low > summit-1e-7 && low < summit+1e-7) {
		t.Errorf("low end = %v, want %v (tol 0.1 µm)", low, summit)
	}
}
