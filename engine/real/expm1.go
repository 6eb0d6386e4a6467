// Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
// Developed at SunPro, a Sun Microsystems, Inc. business. Permission to use,
// copy, modify, and distribute this software is freely granted, provided that
// this notice is preserved. See NOTICE.

package real

import "math"

// Expm1 is e to the x less 1, within 1 ulp also for tiny x. NaN for NaN.
func Expm1(x float64) float64 {
	const (
		overflow = 7.09782712893383973096e+02
		flat     = 3.88162421113569373274e+01 // 56 ln 2, where e to the −x drowns
		tiny     = 1.0 / (1 << 54)
	)
	switch {
	case math.IsNaN(x) || x > overflow:
		return x * math.Inf(1)
	case x <= -flat:
		return -1
	case math.Abs(x) < tiny:
		return x
	}
	r, c, k := reduceExpm1(x)
	return restoreExpm1(r, c, k)
}

// reduceExpm1 writes x as k ln 2 + r + c, |r| ≤ ln 2/2, c the rounding of r.
func reduceExpm1(x float64) (r, c float64, k int) {
	const (
		halfLn2  = 3.46573590279972654709e-01
		half3Ln2 = 1.03972077083991796413e+00
	)
	switch a := math.Abs(x); {
	case a <= halfLn2:
		return x, 0, 0
	case a < half3Ln2:
		k = int(math.Copysign(1, x))
	default:
		k = nearestPowerOf2(x)
	}
	hi := x - float64(float64(k)*ln2Hi)
	lo := float64(float64(k) * ln2Lo)
	r = hi - lo
	return r, (hi - r) - lo, k
}

// restoreExpm1 is e to the (k ln 2 + x + c) less 1.
func restoreExpm1(x, c float64, k int) float64 {
	half := float64(0.5 * x)
	square := float64(x * half)
	r1 := horner(square, 1,
		-3.33333333333331316428e-02,
		1.58730158725481460165e-03,
		-7.93650757867487942473e-05,
		4.00821782732936239552e-06,
		-2.01099218183624371326e-07)
	t := 3 - float64(r1*half)
	e := float64(square * ((r1 - t) / (6 - float64(x*t))))
	if k == 0 {
		return x - (float64(x*e) - square)
	}
	e = float64(x*(e-c)) - c
	e -= square
	return scaleExpm1(x, e, k)
}

// scaleExpm1 is 2 to the k times (1 + x − e) less 1, in the order that keeps
// the digits for each k.
func scaleExpm1(x, e float64, k int) float64 {
	switch {
	case k == -1:
		return float64(0.5*(x-e)) - 0.5
	case k == 1 && x < -0.25:
		return -2 * (e - (x + 0.5))
	case k == 1:
		return 1 + float64(2*(x-e))
	case k <= -2 || k > 56:
		return math.Ldexp(1-(e-x), k) - 1
	case k < 20:
		return math.Ldexp((1-math.Ldexp(1, -k))-(e-x), k)
	}
	return math.Ldexp(x-(e+math.Ldexp(1, -k))+1, k)
}
