package beam_test

import (
	"math"
	"math/bits"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/beam"
	"spadework/engine/unit"
)

func TestClampStripOfEqualRods(t *testing.T) {
	// Hand-derived, exact: on a rod read to 5 mm, 1.498 and 1.502 both read 1.500;
	// 1.503 reads 1.505.
	rod := beam.Rod{ID: "R1", Step: 0.005}
	groups, f := beam.ClampStrip([]beam.ClampRod{
		rod.Exactly("F3", 1.503), rod.Exactly("F2", 1.502), rod.Exactly("F1", 1.498), rod.Exactly("F4", 0.900),
	}, rod.Step)
	if f != nil {
		t.Fatal(f)
	}
	want := []struct {
		clamp float64
		digs  []string
	}{{0.900, []string{"F4"}}, {1.500, []string{"F1", "F2"}}, {1.505, []string{"F3"}}}
	if len(groups) != len(want) {
		t.Fatalf("ClampStrip = %v, want %v", groups, want)
	}
	for i, w := range want {
		near(t, "clamp", float64(groups[i].Clamp), w.clamp, 1e-12, "exact")
		if got := ids(groups[i]); !slices.Equal(got, w.digs) {
			t.Errorf("group %d = %v, want %v", i, got, w.digs)
		}
	}
}

func TestClampStripWithinTolerance(t *testing.T) {
	// Hand-derived, exact: ±3 mm about 1.500, 1.504, 1.506 and 1.509: the first
	// three meet at 1.503, half way between 1.500 and 1.506.
	band := beam.Band{Above: 0.003, Below: 0.003}
	rods := []beam.ClampRod{
		beam.Within("A", 1.500, band), beam.Within("B", 1.504, band), beam.Within("C", 1.506, band), beam.Within("D", 1.509, band),
	}
	groups, f := beam.ClampStrip(rods, 0.001)
	if f != nil {
		t.Fatal(f)
	}
	if len(groups) != 2 {
		t.Fatalf("ClampStrip = %v, want two groups", groups)
	}
	near(t, "clamp", float64(groups[0].Clamp), 1.503, 1e-9, "exact")
	for i, want := range []float64{0.003, -0.001, -0.003} {
		near(t, "difference of "+groups[0].Digs[i].ID, float64(groups[0].Digs[i].Difference), want, 1e-9, "exact: + digs too deep")
	}
	// Too deep is dearer here: 1 mm below, 6 mm above shortens clamps only.
	deep := beam.Within("A", 1.500, beam.Band{Above: 0.006, Below: 0.001})
	near(t, "low", float64(deep.Low), 1.494, 1e-12, "exact")
	near(t, "high", float64(deep.High), 1.501, 1e-12, "exact")
}

func ids(g beam.ClampGroup) (out []string) {
	for _, d := range g.Digs {
		out = append(out, d.ID)
	}
	return out
}

// fewest is the least number of groups by trying every set of upper ends: a
// clamp that serves a set can always be raised to the least upper end in it.
func fewest(rods []beam.ClampRod) int {
	least := len(rods)
	for set := range 1 << len(rods) {
		served := 0
		for _, r := range rods {
			for j, q := range rods {
				if set>>j&1 == 1 && q.High >= r.Low && q.High <= r.High {
					served++
					break
				}
			}
		}
		if served == len(rods) {
			least = min(least, bits.OnesCount(uint(set)))
		}
	}
	return least
}

// Law: the strip has as few groups as trying all, each dig is in it once and its
// clamp within its limits; the order of the input does not count.
func TestLawClampStripIsFewestAndKeepsLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 9).Draw(t, "n")
		var rods []beam.ClampRod
		for i := range n {
			rod := float64(rapid.IntRange(0, 60).Draw(t, "rod")) / 64 // exact in binary: the referee has no slack
			rods = append(rods, beam.Within(string(rune('A'+i)), unit.Reading(rod), beam.Band{
				Above: unit.Length(rapid.IntRange(0, 8).Draw(t, "above")) / 64,
				Below: unit.Length(rapid.IntRange(0, 8).Draw(t, "below")) / 64,
			}))
		}
		step := unit.Reading(rapid.SampledFrom([]float64{0, 0.001, 0.005}).Draw(t, "step"))
		groups, f := beam.ClampStrip(rods, step)
		if f != nil {
			t.Fatal(f)
		}
		if len(groups) != fewest(rods) {
			t.Fatalf("ClampStrip = %d groups, want %d", len(groups), fewest(rods))
		}
		seen := map[string]bool{}
		for _, g := range groups {
			for _, d := range g.Digs {
				r := rods[d.ID[0]-'A']
				if seen[d.ID] || !(g.Clamp >= r.Low-2e-9 && g.Clamp <= r.High+2e-9) {
					t.Fatalf("dig %s twice or its clamp %g outside [%g, %g]", d.ID, g.Clamp, r.Low, r.High)
				}
				if !(math.Abs(float64(d.Difference)-float64(g.Clamp-r.Rod)) <= 1e-15) {
					t.Fatalf("difference of %s = %g, want %g", d.ID, d.Difference, g.Clamp-r.Rod)
				}
				seen[d.ID] = true
			}
		}
		if len(seen) != n {
			t.Fatalf("%d of %d digs in the strip", len(seen), n)
		}
		slices.Reverse(rods)
		again, _ := beam.ClampStrip(rods, step)
		if !slices.EqualFunc(groups, again, func(a, b beam.ClampGroup) bool { return a.Clamp == b.Clamp && slices.Equal(a.Digs, b.Digs) }) {
			t.Fatalf("ClampStrip of the reversed rods = %v, want %v", again, groups)
		}
	})
}
