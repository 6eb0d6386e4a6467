package real

import "math"

// Hypot is √(p² + q²), within 1 ulp, without overflow on the way. +Inf if either
// is infinite, else NaN if either is NaN.
func Hypot(p, q float64) float64 {
	p, q = math.Abs(p), math.Abs(q)
	if math.IsInf(p, 1) || math.IsInf(q, 1) {
		return math.Inf(1)
	}
	if p < q {
		p, q = q, p
	}
	if p == 0 || math.IsNaN(p) || math.IsNaN(q) {
		return p + q
	}
	_, e := math.Frexp(p) // scaling by a power of two is exact
	a, b := math.Ldexp(p, -e), math.Ldexp(q, -e)
	return math.Ldexp(math.Sqrt(float64(a*a)+float64(b*b)), e)
}
