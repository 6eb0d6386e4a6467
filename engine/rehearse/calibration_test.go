package rehearse

import (
	"fmt"
	"os"
	"runtime"
	"testing"
)

// days is how many set-ups a run judges: 40 000 are asked for, which takes
// minutes; every change runs a part of them.
func days() (count int, mostGap float64) {
	if os.Getenv("SPADEWORK_LONG") != "" {
		return 40_000, 0.01
	}
	return 1_500, 0.05 // 75 set-ups a group: a standard error of a point and a half
}

// tooSlowInThePhone leaves the long runs to the native tests: the golden days show
// that WebAssembly computes the same.
func tooSlowInThePhone(t *testing.T) {
	if runtime.GOARCH == "wasm" {
		t.Skip("minutes in WebAssembly")
	}
}

// seed of every run that docs/trust.md tells.
const seed = 20261125

// report prints a verdict as docs/trust.md tells it.
func report(name string, v Verdict) string {
	gap, z := v.Worst()
	return fmt.Sprintf("| %s | %d | %.1f %% | %.4f | %.2f | %.2g | %d |", name, v.Days, 100*v.Out, gap, z, v.Flat, v.Again)
}

func TestChancesHappenAsToldAndMutantsAreFound(t *testing.T) {
	tooSlowInThePhone(t)
	count, mostGap := days()
	verdicts, f := Judge(Reference(), Nature{}, seed, count, append([]Mutant{Sound}, Mutants()...)...)
	if f != nil {
		t.Fatal(f)
	}
	for i, m := range append([]Mutant{"the program"}, Mutants()...) {
		v := verdicts[i]
		t.Log(report(string(m), v))
		if i == 0 && !v.Sound(mostGap) {
			t.Errorf("the referee finds fault with the program: groups %+v, bins %.4f", v.Groups, v.Shares)
		}
		if i > 0 && v.Sound(mostGap) {
			t.Errorf("the referee finds no fault with the mutant %q", m)
		}
	}
	for _, g := range verdicts[0].Groups {
		t.Logf("  claimed %.4f, happened %.4f, z %+.2f", g.Claimed, g.Happened, g.Z)
	}
	t.Logf("  bins %.4f", verdicts[0].Shares)
}

// TestWrongNatureIsTold reports what happens where the model is wrong. It holds
// only that the program is the same whatever nature does: the figures are for
// docs/trust.md, not tuned away.
func TestWrongNatureIsTold(t *testing.T) {
	tooSlowInThePhone(t)
	count, _ := days()
	if count < 40_000 {
		count = 600 // enough to see what is far off
	}
	for _, c := range []struct {
		name string
		n    Nature
		bad  bool // so far off that any run shows it
	}{
		{"rectangular errors", Nature{Rectangular: true}, false},
		{"beam drifts 3 mm over the day", Nature{Drift: 0.003}, true},
		{"one stand in ten keeps a stale tie, 15 mm out", Nature{StaleTie: 0.1, StaleBy: 0.015}, true},
	} {
		v, f := Judge(Reference(), c.n, seed, count, Sound)
		if f != nil {
			t.Fatal(f)
		}
		t.Log(report(c.name, v[0]))
		for _, g := range v[0].Groups {
			t.Logf("  claimed %.4f, happened %.4f, z %+.2f", g.Claimed, g.Happened, g.Z)
		}
		if c.bad && v[0].Sound(0.05) {
			t.Errorf("%s: the referee finds nothing", c.name)
		}
	}
}
