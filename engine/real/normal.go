package real

import "math"

// rootHalf + rootHalfLo is 1/√2, rootTau √(2π).
const (
	rootHalf   = math.Sqrt2 / 2
	rootHalfLo = -4.833646656726457e-17
	rootTau    = 2.50662827463100050242
	logRootTau = 0.91893853320467274178
)

// NormalDensity is the density of the standard normal distribution at x. NaN for
// NaN.
func NormalDensity(x float64) float64 {
	if math.IsInf(x, 0) {
		return 0
	}
	square := float64(x * x)
	rest := math.FMA(x, x, -square) // exact, so far tails keep their digits
	return float64(Exp(-square/2)*(1-rest/2)) / rootTau
}

// NormalCDF is the chance that a standard normal value is at most x, within
// 3 ulp down to where it leaves the normal numbers (x ≈ −37.5). NaN for NaN.
func NormalCDF(x float64) float64 {
	z := -float64(x * rootHalf)
	if math.IsNaN(x) || math.Abs(z) > 30 {
		return 0.5 * Erfc(z)
	}
	// z is rounded; the slope of erfc takes its rounding back.
	dz := math.FMA(-x, rootHalf, -z) - float64(x*rootHalfLo)
	slope := 2 / math.SqrtPi * Exp(-float64(z*z))
	return 0.5 * (Erfc(z) - float64(slope*dz))
}

// NormalLogCDF is the logarithm of NormalCDF, also where that underflows. NaN
// for NaN.
func NormalLogCDF(x float64) float64 {
	switch {
	case x > 0:
		return Log1p(-NormalCDF(-x))
	case x >= -37 || math.IsNaN(x):
		return Log(NormalCDF(x))
	case math.IsInf(x, -1):
		return x
	}
	// Abramowitz & Stegun 26.2.12.
	r := 1 / float64(x*x)
	return -float64(x*x)/2 - Log(-x) - logRootTau + Log(horner(r, 1, -1, 3, -15, 105))
}

// NormalQuantile is the x with NormalCDF(x) = p, to about 1e-15 of it (for p
// near 1 as far as p can tell). ∓Inf for 0 and 1, NaN outside.
// Source: M. J. Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37, 1988.
func NormalQuantile(p float64) float64 {
	switch {
	case math.IsNaN(p) || p < 0 || p > 1:
		return math.NaN()
	case p == 0 || p == 1:
		return math.Inf(int(2*p - 1))
	}
	q := p - 0.5
	if math.Abs(q) <= 0.425 {
		return float64(q * quantileMiddle(0.180625-float64(q*q)))
	}
	tail := math.Min(p, 1-p)
	return math.Copysign(quantileTail(math.Sqrt(-Log(tail))), q)
}

// quantileMiddle is quantile/q, r = 0.425² − q².
func quantileMiddle(r float64) float64 {
	return horner(r,
		3.3871328727963666080e0,
		1.3314166789178437745e2,
		1.9715909503065514427e3,
		1.3731693765509461125e4,
		4.5921953931549871457e4,
		6.7265770927008700853e4,
		3.3430575583588128105e4,
		2.5090809287301226727e3,
	) / horner(r, 1,
		4.2313330701600911252e1,
		6.8718700749205790830e2,
		5.3941960214247511077e3,
		2.1213794301586595867e4,
		3.9307895800092710610e4,
		2.8729085735721942674e4,
		5.2264952788528545610e3)
}

// quantileTail is the size of the quantile, r = √(−log tail).
func quantileTail(r float64) float64 {
	if r > 5 {
		return quantileFar(r - 5)
	}
	r -= 1.6
	return horner(r,
		1.42343711074968357734e0,
		4.63033784615654529590e0,
		5.76949722146069140550e0,
		3.64784832476320460504e0,
		1.27045825245236838258e0,
		2.41780725177450611770e-1,
		2.27238449892691845833e-2,
		7.74545014278341407640e-4,
	) / horner(r, 1,
		2.05319162663775882187e0,
		1.67638483018380384940e0,
		6.89767334985100004550e-1,
		1.48103976427480074590e-1,
		1.51986665636164571966e-2,
		5.47593808499534494600e-4,
		1.05075007164441684324e-9)
}

// quantileFar is quantileTail for tails under e^−25.
func quantileFar(r float64) float64 {
	return horner(r,
		6.65790464350110377720e0,
		5.46378491116411436990e0,
		1.78482653991729133580e0,
		2.96560571828504891230e-1,
		2.65321895265761230930e-2,
		1.24266094738807843860e-3,
		2.71155556874348757815e-5,
		2.01033439929228813265e-7,
	) / horner(r, 1,
		5.99832206555887937690e-1,
		1.36929880922735805310e-1,
		1.48753612908506148525e-2,
		7.86869131145613259100e-4,
		1.84631831751005468180e-5,
		1.42151175831644588870e-7,
		2.04426310338993978564e-15)
}
