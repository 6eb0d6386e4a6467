package reception_test

import (
	"math/rand/v2"
	"testing"

	"spadework/engine/ground"
	"spadework/engine/reception"
)

// A grid one cell wide, either way, and one of a single cell: cells and nodes are
// counted differently there.
func TestGridsOneCellWide(t *testing.T) {
	told := 0
	for _, n := range [][2]int{{2, 40}, {40, 2}, {2, 2}, {2, 9}, {9, 2}, {3, 20}} {
		d := drawn{name: "narrow grid", r: rand.New(rand.NewPCG(uint64(n[0]), uint64(n[1]))), exact: n[0] == 2}
		g := ground.GridData{DX: 1, DY: 0.5, Cols: n[0], Rows: n[1]}
		for range n[0] * n[1] {
			g.Z = append(g.Z, d.height())
		}
		s, err := ground.NewGrid(g)
		if err != nil {
			t.Fatal(err)
		}
		d.box, d.site = s.Bounds(), reception.Site{Ground: s, Range: 100}
		f, err := reception.New(d.site)
		if err != nil {
			t.Fatal(err)
		}
		ref := refereeOf(d.site, d.box.Grown(5))
		var sc reception.Scratch
		for i := range 400 {
			l, target := d.pair()
			if i%2 == 0 { // across, over a side of two cells that lie one behind the other
				y := float64(1+d.r.IntN(n[1]-1)) * 0.5
				l.At.X, l.At.Y, target.At.X, target.At.Y = 0.01, y-0.1*d.r.Float64(), 0.99, y+0.49*d.r.Float64()
				target.Bottom, target.Highest = -2, 8
			}
			got := f.From(l, []reception.Target{target}, &sc)[0]
			if what := ref.judge(l, target).wrong(got); what != "" {
				t.Errorf("%d × %d nodes: %s: From(%+v, %+v) = %+v", n[0], n[1], what, l, target, got)
			}
			if got.Open() {
				told++
			}
		}
	}
	if told < 60 {
		t.Errorf("%d open windows, want 60 so that the comparison tells", told)
	}
}
