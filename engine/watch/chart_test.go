package watch

import (
	"math"
	"math/rand/v2"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.7f, want %.7f (tol %g: digits published)", what, got, want, tol)
	}
}

// TestRunLengthsAsPublished: J. M. Lucas and R. B. Crosier 1982 (CUSUM k 0.5, h 4),
// J. M. Lucas and M. S. Saccucci 1990 (EWMA), and exact values.
func TestRunLengthsAsPublished(t *testing.T) {
	cusum := Cusum{K: 0.5, H: 4}
	for _, c := range []struct{ shift, want, tol float64 }{
		{0, 168, 0.5}, {0.25, 74.2, 0.05}, {0.5, 26.6, 0.05}, {0.75, 13.3, 0.05}, {1, 8.38, 0.005}, {1.5, 4.75, 0.005}, {2, 3.34, 0.005},
		{0, 167.6838, 6e-5}, {1, 8.3831, 6e-5},
	} {
		near(t, "CUSUM run length", cusum.RunLength(c.shift), c.want, c.tol)
	}
	near(t, "one-sided CUSUM, h 4", cusum.OneSided(0), 335.3676, 6e-5)
	near(t, "one-sided CUSUM, h 5", Cusum{K: 0.5, H: 5}.OneSided(0), 930.8870, 6e-5)
	near(t, "EWMA 0.5", Ewma{Lambda: 0.5, C: 3.071}.RunLength(0), 500, 1)
	near(t, "EWMA 0.5 at 1", Ewma{Lambda: 0.5, C: 3.071}.RunLength(1), 17.5, 0.05)
	near(t, "EWMA 0.03", Ewma{Lambda: 0.03, C: 2.437}.RunLength(0), 500, 1)
	near(t, "EWMA 0.03 at 1", Ewma{Lambda: 0.03, C: 2.437}.RunLength(1), 12.6, 0.05)
	near(t, "EWMA 0.25 at 1", Ewma{Lambda: 0.25, C: 3}.RunLength(1), 11.154267016, 2e-9)
	for shift, want := range map[float64]float64{0: 370.3983, 1: 43.8947, 2: 6.3030} {
		near(t, "Shewhart", Shewhart{3}.RunLength(shift), want, 6e-5)
	}
	for _, bad := range []float64{Cusum{}.OneSided(0), Ewma{}.RunLength(0), Ewma{Lambda: 1, C: math.NaN()}.RunLength(0)} {
		if !math.IsNaN(bad) {
			t.Errorf("a chart without limits runs %g values", bad)
		}
	}
	near(t, "EWMA of weight 1", Ewma{Lambda: 1, C: 3}.RunLength(1), Shewhart{3}.RunLength(1), 1e-6)
}

// TestTabularCusum: D. C. Montgomery and G. C. Runger, Applied Statistics, example 16-6.
func TestTabularCusum(t *testing.T) {
	x := []float64{102.0, 94.8, 98.3, 98.4, 102.0, 98.5, 99.0, 97.7, 100.0, 98.1, 101.3, 98.7, 101.1, 98.4, 97.0, 96.7, 100.3, 101.4, 97.2, 101.0}
	upper := []float64{2.0, 0, 0, 0, 2.0, 0.5, 0, 0, 0, 0, 1.3, 0, 1.1, 0, 0, 0, 0.3, 1.7, 0, 1.0}
	lower := []float64{0, 3.2, 2.9, 2.5, 0, 0, 0, 0.3, 0, 0, 0, 0, 0, 0, 1.0, 2.3, 0, 0, 0.8, 0}
	c := Cusum{K: 1, H: 10}
	for i, v := range x {
		c = c.Add(v - 99)
		near(t, "upper sum", c.Upper, upper[i], 1e-9)
		near(t, "lower sum", c.Lower, lower[i], 1e-9)
		if c.Signals() {
			t.Errorf("value %d signals", i+1)
		}
	}
	if !c.Add(20).Signals() || !(Cusum{}).Add(math.NaN()).Signals() {
		t.Error("a value of 20 over, or none, does not signal")
	}
}

// TestChartsSignal at their limits and on what is no figure.
func TestChartsSignal(t *testing.T) {
	for _, c := range []struct {
		what      string
		got, want bool
	}{
		{"Shewhart within", Shewhart{3}.Signals(-2.9), false}, {"Shewhart beyond", Shewhart{3}.Signals(-3.1), true},
		{"Shewhart NaN", Shewhart{3}.Signals(math.NaN()), true},
		{"EWMA within", Ewma{Lambda: 0.25, C: 3}.Add(4).Signals(), false}, {"EWMA beyond", Ewma{Lambda: 0.25, C: 3}.Add(-5).Signals(), true},
		{"EWMA NaN", Ewma{Lambda: 0.25, C: 3}.Add(math.NaN()).Signals(), true},
	} {
		if c.got != c.want {
			t.Errorf("%s signals: %v", c.what, c.got)
		}
	}
}

// TestChartsRunAsLong: the charts themselves, run over seeded normal values, signal
// after as many values as the published run lengths (J. M. Lucas and R. B. Crosier
// 1982; EWMA and Shewhart exact) say, within five standard errors of the mean.
func TestChartsRunAsLong(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 2026))
	const runs = 4000
	for _, c := range []struct {
		what        string
		shift, want float64
		signals     func() func(z float64) bool
	}{
		{"CUSUM at 0", 0, 167.6838, cusumRun}, {"CUSUM at 0.5", 0.5, 26.6, cusumRun}, {"CUSUM at 1", 1, 8.3831, cusumRun}, {"CUSUM at 2", 2, 3.34, cusumRun},
		{"EWMA 0.25 at 1", 1, 11.154267016, ewmaRun},
		{"Shewhart at 1", 1, 43.8947, shewhartRun}, {"Shewhart at 2", 2, 6.3030, shewhartRun},
	} {
		sum, squares := 0.0, 0.0
		for range runs {
			signals, n := c.signals(), 0.0
			for n++; !signals(r.NormFloat64() + c.shift); n++ {
			}
			sum += n
			squares += n * n
		}
		mean := sum / runs
		tol := 5 * math.Sqrt((squares/runs-mean*mean)/runs)
		if !(math.Abs(mean-c.want) <= tol) {
			t.Errorf("%s ran %.3f values, want %.4f (tol %.3f: five standard errors of %d runs)", c.what, mean, c.want, tol, runs)
		}
	}
}

func cusumRun() func(float64) bool {
	c := Cusum{K: 0.5, H: 4}
	return func(z float64) bool { c = c.Add(z); return c.Signals() }
}

func ewmaRun() func(float64) bool {
	c := Ewma{Lambda: 0.25, C: 3}
	return func(z float64) bool { c = c.Add(z); return c.Signals() }
}

func shewhartRun() func(float64) bool { return Shewhart{3}.Signals }
