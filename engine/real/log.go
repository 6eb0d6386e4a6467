// Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
// Developed at SunPro, a Sun Microsystems, Inc. business. Permission to use,
// copy, modify, and distribute this software is freely granted, provided that
// this notice is preserved. See NOTICE.

package real

import "math"

// Log is the natural logarithm of x, within 1 ulp. −Inf for 0, NaN for x < 0
// and for NaN.
func Log(x float64) float64 {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 1):
		return x
	case x < 0:
		return math.NaN()
	case x == 0:
		return math.Inf(-1)
	}
	m, exponent := math.Frexp(x)
	if m < math.Sqrt2/2 {
		m *= 2
		exponent--
	}
	f, k := m-1, float64(exponent)
	s := f / (2 + f)
	s2 := float64(s * s)
	s4 := float64(s2 * s2)
	t1 := float64(s2 * horner(s4, 6.666666666666735130e-01, 2.857142874366239149e-01,
		1.818357216161805012e-01, 1.479819860511658591e-01))
	t2 := float64(s4 * horner(s4, 3.999999999940941908e-01, 2.222219843214978396e-01,
		1.531383769920937332e-01))
	half := float64(float64(0.5*f) * f)
	low := float64(s*(half+(t1+t2))) + float64(k*ln2Lo)
	return float64(k*ln2Hi) - ((half - low) - f)
}

// Log1p is log(1 + x), within a few ulp also for tiny x. −Inf for −1, NaN below.
// The quotient takes back the rounding of 1 + x (W. Kahan).
func Log1p(x float64) float64 {
	u := 1 + x
	switch {
	case u == 1:
		return x
	case math.IsInf(u, 1) || u <= 0:
		return Log(u)
	}
	return float64(Log(u) * (x / (u - 1)))
}
