package watch

import (
	"math"

	"spadework/engine/estimate"
	"spadework/engine/real"
)

// RunLength is the mean number of values until the chart signals, where independent
// normal values lie shift standard deviations off the aim: 1/(1 − chance within).
func (c Shewhart) RunLength(shift float64) float64 {
	return 1 / (real.NormalCDF(-c.L-shift) + real.NormalCDF(shift-c.L))
}

// nodes of Gauss and Legendre's rule, enough for 10 digits of the run lengths
// that are published.
const nodes = 96

// RunLength is as Shewhart's, from both sums at zero, with K and H in standard
// deviations: 1/L = 1/L₊ + 1/L₋, exact (K. W. Kemp, JRSS B 23, 1961).
func (c Cusum) RunLength(shift float64) float64 {
	return 1 / (1/c.OneSided(shift) + 1/c.OneSided(-shift))
}

// OneSided is the mean run length of the upper sum alone, from zero, by Page's
// integral equation L(z) = 1 + L(0)Φ(k − z − δ) + ∫₀ʰ L(x) φ(x + k − z − δ) dx. NaN
// where H is not over 0.
func (c Cusum) OneSided(shift float64) float64 {
	if !(c.H > 0) {
		return math.NaN()
	}
	x, w := legendre(0, c.H)
	x = append(x, 0) // L(0) is an unknown of its own
	n := len(x)
	a, b := estimate.NewMatrix(n, n), make([]float64, n)
	for i, z := range x {
		for j := range n - 1 {
			a.Set(i, j, -float64(w[j]*real.NormalDensity(x[j]+c.K-z-shift)))
		}
		a.Set(i, n-1, -real.NormalCDF(c.K-z-shift))
		a.Set(i, i, a.At(i, i)+1)
		b[i] = 1
	}
	return solution(a, b, n-1)
}

// RunLength is as Shewhart's, from a mean of zero, by the integral equation L(z) =
// 1 + 1/λ ∫ L(x) φ((x − (1 − λ)z)/λ − δ) dx within the limits (S. V. Crowder,
// Technometrics 29, 1987). NaN where weight or limit is not over 0; a weight under
// 0.02 would take more nodes.
func (c Ewma) RunLength(shift float64) float64 {
	h := c.Limit()
	if !(h > 0 && c.Lambda <= 1) {
		return math.NaN()
	}
	x, w := legendre(-h, h)
	x = append(x, 0)
	n := len(x)
	a, b := estimate.NewMatrix(n, n), make([]float64, n)
	for i, z := range x {
		for j := range n - 1 {
			a.Set(i, j, -float64(w[j]/c.Lambda*real.NormalDensity((x[j]-(1-c.Lambda)*z)/c.Lambda-shift)))
		}
		a.Set(i, i, a.At(i, i)+1)
		b[i] = 1
	}
	return solution(a, b, n-1)
}

// solution is unknown k of a·x = b, NaN where there is none.
func solution(a estimate.Matrix, b []float64, k int) float64 {
	x, err := estimate.NewQR(a).Solve(b)
	if err != nil {
		return math.NaN()
	}
	return x[k]
}

// legendre is Gauss and Legendre's rule from low to high: roots by Newton's steps
// from Tricomi's start (M. Abramowitz and I. A. Stegun, 25.4.30).
func legendre(low, high float64) (x, w []float64) {
	for i := range nodes {
		t := math.Cos(math.Pi * (float64(i) + 0.75) / (nodes + 0.5))
		slope := 0.0
		for range 8 {
			p, q := 1.0, 0.0
			for k := 1; k <= nodes; k++ {
				p, q = (float64(float64(2*k-1)*t*p)-float64(float64(k-1)*q))/float64(k), p
			}
			slope = nodes * (float64(t*p) - q) / (float64(t*t) - 1)
			t -= p / slope
		}
		half := (high - low) / 2
		x = append(x, (high+low)/2-float64(half*t))
		w = append(w, 2*half/((1-float64(t*t))*sq(slope)))
	}
	return x, w
}
