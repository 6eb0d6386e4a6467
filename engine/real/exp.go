// Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
// Developed at SunPro, a Sun Microsystems, Inc. business. Permission to use,
// copy, modify, and distribute this software is freely granted, provided that
// this notice is preserved. See NOTICE.

package real

import "math"

// ln2Hi + ln2Lo is ln 2; k·ln2Hi is exact for |k| < 2000.
const (
	ln2Hi = 6.93147180369123816490e-01 // 0x3fe62e42fee00000
	ln2Lo = 1.90821492927058770002e-10 // 0x3dea39ef35793c76
	log2e = 1.44269504088896338700e+00
)

// Exp is e to the x, within 1 ulp where the result is normal. +Inf above
// 709.78, 0 below −745.13, NaN for NaN.
func Exp(x float64) float64 {
	const (
		overflow  = 7.09782712893383973096e+02
		underflow = -7.45133219101941108420e+02
		nearZero  = 1.0 / (1 << 28)
	)
	switch {
	case math.IsNaN(x):
		return x
	case x > overflow:
		return math.Inf(1)
	case x < underflow:
		return 0
	case -nearZero < x && x < nearZero:
		return 1 + x
	}
	k := nearestPowerOf2(x)
	hi := x - float64(float64(k)*ln2Hi)
	lo := float64(float64(k) * ln2Lo)
	return expOf(hi, lo, k)
}

// nearestPowerOf2 is x/ln 2 rounded.
func nearestPowerOf2(x float64) int {
	return int(float64(log2e*x) + math.Copysign(0.5, x))
}

// expOf is e to the hi − lo times 2 to the k, |hi − lo| ≤ ln 2/2.
func expOf(hi, lo float64, k int) float64 {
	r := hi - lo
	t := float64(r * r)
	c := r - float64(t*horner(t,
		1.66666666666666657415e-01,
		-2.77777777770155933842e-03,
		6.61375632143793436117e-05,
		-1.65339022054652515390e-06,
		4.13813679705723846039e-08))
	y := 1 - ((lo - float64(r*c)/(2-c)) - hi)
	return math.Ldexp(y, k)
}
