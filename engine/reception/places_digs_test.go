package reception_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/reception"
)

// TestPlacesAndDigs is 1 000 digs, range 100 m, on 2 000 × 2 000 nodes at 0.5 m
// from 10 000 places, or from 100 if SPADEWORK_LONG is not set. Brute force in
// float64 judges every pair in range; the rational referee, which takes tens of
// milliseconds a ray, those that float64 cannot tell, those open or shut by less
// than 0.1 mm, and every 400th.
func TestPlacesAndDigs(t *testing.T) {
	places := 100
	if os.Getenv("SPADEWORK_LONG") != "" {
		places = 10_000
	}
	data := wideGrid()
	grid, err := ground.NewGrid(data)
	if err != nil {
		t.Fatal(err)
	}
	site := reception.Site{Ground: grid, Range: 100, Curvature: beam.Combined, Clearance: 0.05}
	slow := bruteForce{data, site}
	f, err := reception.New(site)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(21, 22))
	digs := make([]reception.Target, 0, 1000)
	for len(digs) < cap(digs) {
		d, _ := f.Foot(geom.Point{X: 999 * r.Float64(), Y: 999 * r.Float64()}, 0.3, 2.2)
		d.Bottom -= 1.2
		digs = append(digs, d)
	}
	var s reception.Scratch
	inRange, judged, hidden := 0, 0, 0
	for i := range places {
		l := reception.Laser{At: geom.Point{X: 999 * r.Float64(), Y: 999 * r.Float64()}}
		if i%2 == 1 {
			l.Gradient = geom.Vector{X: 0.02 * r.NormFloat64(), Y: 0.02 * r.NormFloat64()}
		}
		for k, w := range f.From(l, digs, &s) {
			if w.Why.Kind == reception.TooFar {
				if !(l.At.Distance(digs[k].At) > 99.999) {
					t.Fatalf("place %v, dig %d: too far at %v m", l.At, k, l.At.Distance(digs[k].At))
				}
				continue
			}
			inRange++
			if !w.Open() {
				hidden++
			}
			what, sure := slow.wrong(l, digs[k], w)
			if what != "" {
				t.Fatalf("place %v, dig %d: %s by brute force: %+v", l, k, what, w)
			}
			if sure && inRange%400 != 0 && !tight(w) {
				continue
			}
			judged++
			ref := refereeOf(site, geom.BoxOf(l.At, digs[k].At).Grown(1))
			if what := ref.judge(l, digs[k]).wrong(w); what != "" {
				t.Fatalf("place %v, dig %d: %s: %+v", l, k, what, w)
			}
		}
	}
	t.Logf("%d pairs in range, all judged by brute force, %d without a window, %d judged by the referee", inRange, hidden, judged)
	if hidden < places/10 || judged < places/20 {
		t.Errorf("%d hidden and %d judged pairs, want more: the comparison tells too little", hidden, judged)
	}
}

// tight says that a window is nearly shut or nearly open.
func tight(w reception.Window) bool {
	width := float64(w.High - w.Low)
	if !w.Open() {
		width = float64(w.Why.By)
	}
	return math.Abs(width) <= 1e-4
}

// wideGrid is slopes, mounds and noise at 0.5 m.
func wideGrid() ground.GridData {
	r := rand.New(rand.NewPCG(3, 5))
	g := ground.GridData{DX: 0.5, DY: 0.5, Cols: 2000, Rows: 2000, Z: make([]float64, 4_000_000)}
	for i := range g.Z {
		p := g.Node(i%g.Cols, i/g.Cols)
		g.Z[i] = 0.01*p.X + 0.8*math.Sin(p.X/23)*math.Cos(p.Y/31) + 0.05*r.NormFloat64()
	}
	return g
}
