package gradeline

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"spadework/engine/unit"
)

// TestAClashIsSmallest: its rules cannot be kept together, and without any one
// of them the others can.
func TestAClashIsSmallest(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 8))
	clashes, most := 0, 0
	for i := 0; clashes < 200 && i < 20_000; i++ {
		p := randomProblem(r, 3+r.IntN(25))
		p.Bends = Bends(r.IntN(3))
		w := newWork(&p)
		if w.good(w.bounds) {
			continue
		}
		clashes++
		core := w.explain(nil, w.bounds, false)
		most = max(most, len(core))
		if w.good(core) {
			t.Errorf("problem %d: the clash %v can be kept", i, core)
		}
		for k := range core {
			if !w.good(slices.Delete(slices.Clone(core), k, k+1)) {
				t.Errorf("problem %d: the clash %v does not need %v", i, core, core[k])
			}
		}
		if c := w.clash(); !(c.Short > 0) || len(c.Rules) != len(core) {
			t.Errorf("problem %d: %+v", i, c)
		}
	}
	t.Logf("%d clashes, of at most %d rules", clashes, most)
	if clashes < 200 || most < 3 {
		t.Errorf("%d clashes of at most %d rules, want 200 and one of three", clashes, most)
	}
}

// TestOneFallOnly: where the least fall is the most fall the heights at two
// bends lie on a straight line, which rounding once cut to pieces, so that a
// line was told not to be. The line is the straight one, however many bends.
func TestOneFallOnly(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 10))
	for i := range 2000 {
		p := randomProblem(r, 3+r.IntN(25))
		p.Fixed, p.Passes = nil, nil
		p.Falls.Least = unit.Grade(0.05*r.Float64() - 0.02)
		p.Falls.Most = p.Falls.Least * (1 + unit.Grade(r.IntN(2))*0x1p-52)
		if p.Falls.Most < p.Falls.Least {
			p.Falls.Most = p.Falls.Least
		}
		end := p.Covered[len(p.Covered)-1].Station
		p.At = append(p.At, end/7, end/3, end*0.9)
		p.Bends = AtStations
		bent, err := Find(p)
		if err != nil {
			t.Fatalf("ground %d: %v", i, err)
		}
		p.Bends = Straight
		straight, err := Find(p)
		if err != nil {
			t.Fatalf("ground %d: %v", i, err)
		}
		if !(math.Abs(float64(bent.Digging-straight.Digging)) <= 1e-7) {
			t.Errorf("ground %d: digging %v, want the straight line's %v (tol 1e-7 m³: rounding)", i, bent.Digging, straight.Digging)
		}
	}
}
