package gradeline

import (
	"math/rand/v2"
	"slices"
	"testing"
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
