package real

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestConformity checks p = Φ((TU − y)/u) − Φ((TL − y)/u) at the examples of
// JCGM 106 (inputs from memory) and one exact value.
func TestConformity(t *testing.T) {
	within := func(low, high, y, u float64) float64 {
		return NormalCDF((high-y)/u) - NormalCDF((low-y)/u)
	}
	for _, c := range []struct{ low, high, y, u, want, tol float64 }{
		{-1, 1, 0.5, 0.25, 0.97724987, 5e-9}, // exact, printed to 8 digits
		{math.Inf(-1), -5.40, -5.47, 0.05, 0.919, 5e-4},
		{490, math.Inf(1), 509.7, 8.6, 0.989, 5e-4},
		{12.5, 16.3, 13.6, 1.8, 0.663, 5e-4},
	} {
		got := within(c.low, c.high, c.y, c.u)
		if !(math.Abs(got-c.want) <= c.tol) {
			t.Errorf("within %v..%v at %v, u %v = %v, want %v (tol %g: printed digits)", c.low, c.high, c.y, c.u, got, c.want, c.tol)
		}
	}
}

// TestQuantiles checks two-sided limits that every table prints.
func TestQuantiles(t *testing.T) {
	for _, c := range []struct {
		what           string
		got, want, tol float64
	}{
		{"NormalQuantile(0.975)", NormalQuantile(0.975), 1.959963984540054, 1e-15}, // mpmath
		{"NormalQuantile(0.9995)", NormalQuantile(0.9995), 3.2905, 5e-5},           // Baarda's 3.29
		{"StudentTwoSided(0.05, 1)", StudentTwoSided(0.05, 1), 12.7062, 5e-5},      // common tables
		{"StudentTwoSided(0.05, 10)", StudentTwoSided(0.05, 10), 2.2281, 5e-5},
		{"StudentTwoSided(0.01, 30)", StudentTwoSided(0.01, 30), 2.7500, 5e-5},
		{"ChiSquareLimit(0.05, 1)", ChiSquareLimit(0.05, 1), 3.8415, 5e-5},
		{"ChiSquareLimit(0.05, 10)", ChiSquareLimit(0.05, 10), 18.3070, 5e-5},
		{"ChiSquareLimit(0.95, 100)", ChiSquareLimit(0.95, 100), 77.9295, 5e-5},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s = %v, want %v (tol %g: printed digits)", c.what, c.got, c.want, c.tol)
		}
	}
}

func TestOutside(t *testing.T) {
	for what, got := range map[string]float64{
		"NormalQuantile(-0.1)":    NormalQuantile(-0.1),
		"NormalQuantile(1.1)":     NormalQuantile(1.1),
		"NormalQuantile(NaN)":     NormalQuantile(math.NaN()),
		"NormalCDF(NaN)":          NormalCDF(math.NaN()),
		"NormalLogCDF(NaN)":       NormalLogCDF(math.NaN()),
		"StudentWithin(1, 0)":     StudentWithin(1, 0),
		"StudentWithin(NaN, 3)":   StudentWithin(math.NaN(), 3),
		"StudentTwoSided(0, 3)":   StudentTwoSided(0, 3),
		"ChiSquareOver(1, 0)":     ChiSquareOver(1, 0),
		"ChiSquareLimit(NaN, 10)": ChiSquareLimit(math.NaN(), 10),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s = %v, want NaN", what, got)
		}
	}
	for what, c := range map[string][2]float64{
		"NormalCDF(-Inf)": {NormalCDF(math.Inf(-1)), 0}, "NormalCDF(+Inf)": {NormalCDF(math.Inf(1)), 1},
		"NormalQuantile(0)": {NormalQuantile(0), math.Inf(-1)}, "NormalQuantile(1)": {NormalQuantile(1), math.Inf(1)},
		"NormalDensity(+Inf)": {NormalDensity(math.Inf(1)), 0}, "NormalLogCDF(-Inf)": {NormalLogCDF(math.Inf(-1)), math.Inf(-1)},
		"StudentWithin(+Inf, 3)": {StudentWithin(math.Inf(1), 3), 1}, "ChiSquareOver(-1, 3)": {ChiSquareOver(-1, 3), 1},
	} {
		if c[0] != c[1] {
			t.Errorf("%s = %v, want %v", what, c[0], c[1])
		}
	}
}

// TestNormalLaws: Φ rises, Φ(x) + Φ(−x) = 1, and the quantile undoes it.
func TestNormalLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-37, 8).Draw(t, "x")
		p := NormalCDF(x)
		if up := NormalCDF(x + 1e-3); !(up > p) && x < 7 {
			t.Errorf("NormalCDF(%v) = %v, not under NormalCDF(%v) = %v", x, p, x+1e-3, up)
		}
		if sum := p + NormalCDF(-x); !(math.Abs(sum-1) <= 3e-16) {
			t.Errorf("NormalCDF(±%v) add up to %v, want 1 (tol 3e-16: rounding)", x, sum)
		}
		// p near 1 tells x only to its last digit over the density there.
		tol := 4e-15*(1+math.Abs(x)) + 2e-16/NormalDensity(math.Max(x, 0))
		if back := NormalQuantile(p); !(math.Abs(back-x) <= tol) {
			t.Errorf("NormalQuantile(NormalCDF(%v)) = %v (tol %g)", x, back, tol)
		}
	})
}

func ExampleNormalCDF() {
	// A bottom 0.5 tolerance off, known to a quarter of the tolerance.
	fmt.Printf("%.4f\n", NormalCDF(2)-NormalCDF(-6))
	// Output: 0.9772
}

func ExampleNormalQuantile() {
	fmt.Printf("%.3f\n", NormalQuantile(0.975))
	// Output: 1.960
}
