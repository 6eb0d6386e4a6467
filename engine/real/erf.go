// Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
// Developed at SunPro, a Sun Microsystems, Inc. business. Permission to use,
// copy, modify, and distribute this software is freely granted, provided that
// this notice is preserved. See NOTICE.

package real

import "math"

// erf1 is erf(1) rounded to 24 bits.
const erf1 = 8.45062911510467529297e-01

// Erf is the error function, (2/√π)∫₀ˣ e^(−t²) dt, within 1 ulp. NaN for NaN.
func Erf(x float64) float64 {
	if x < 0 {
		return -Erf(-x)
	}
	switch {
	case math.IsNaN(x):
		return x
	case x < 1e-300: // the quotient would underflow
		return x + float64(1.28379167095512586316e-01*x)
	case x < 0.84375:
		return x + float64(x*erfSlope(x))
	case x < 1.25:
		return erf1 + erfNear1(x)
	case x < 6:
		return 1 - erfcTail(x)
	}
	return 1
}

// Erfc is 1 − Erf(x), within 1 ulp also where that is tiny; 0 above 27.3. NaN
// for NaN.
func Erfc(x float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x < -6:
		return 2
	case x <= -1.25:
		return 2 - erfcTail(-x)
	case x <= -0.84375:
		return 1 + (erf1 + erfNear1(-x))
	case x < 0.25:
		return 1 - Erf(x)
	case x < 0.84375:
		return 1 - (0.5 + (float64(x*erfSlope(x)) + (x - 0.5)))
	case x < 1.25:
		return 1 - erf1 - erfNear1(x)
	case x < 28:
		return erfcTail(x)
	}
	return 0
}

// erfSlope is erf(x)/x − 1 for 0 ≤ x < 0.84375.
func erfSlope(x float64) float64 {
	z := float64(x * x)
	return horner(z,
		1.28379167095512558561e-01,
		-3.25042107247001499370e-01,
		-2.84817495755985104766e-02,
		-5.77027029648944159157e-03,
		-2.37630166566501626084e-05,
	) / horner(z, 1,
		3.97917223959155352819e-01,
		6.50222499887672944485e-02,
		5.08130628187576562776e-03,
		1.32494738004321644526e-04,
		-3.96022827877536812320e-06)
}

// erfNear1 is erf(x) − erf1 for 0.84375 ≤ x < 1.25.
func erfNear1(x float64) float64 {
	s := x - 1
	return horner(s,
		-2.36211856075265944077e-03,
		4.14856118683748331666e-01,
		-3.72207876035701323847e-01,
		3.18346619901161753674e-01,
		-1.10894694282396677476e-01,
		3.54783043256182359371e-02,
		-2.16637559486879084300e-03,
	) / horner(s, 1,
		1.06420880400844228286e-01,
		5.40397917702171048937e-01,
		7.18286544141962662868e-02,
		1.26171219808761642112e-01,
		1.36370839120290507362e-02,
		1.19844998467991074170e-02)
}

// erfcTail is erfc(x) for 1.25 ≤ x < 28: (1/x) e^(−x² − 0.5625 + R/S), x² taken
// as z² + (x−z)(x+z) with z so short that z² is exact.
func erfcTail(x float64) float64 {
	s := 1 / float64(x*x)
	ratio := erfcMiddle
	if x >= 1/0.35 {
		ratio = erfcFar
	}
	z := math.Float64frombits(math.Float64bits(x) &^ 0xffffffff)
	r := float64(Exp(-float64(z*z)-0.5625) * Exp(float64((z-x)*(z+x))+ratio(s)))
	return r / x
}

// erfcMiddle is R/S for 1.25 ≤ x < 1/0.35, s = 1/x².
func erfcMiddle(s float64) float64 {
	return horner(s,
		-9.86494403484714822705e-03,
		-6.93858572707181764372e-01,
		-1.05586262253232909814e+01,
		-6.23753324503260060396e+01,
		-1.62396669462573470355e+02,
		-1.84605092906711035994e+02,
		-8.12874355063065934246e+01,
		-9.81432934416914548592e+00,
	) / horner(s, 1,
		1.96512716674392571292e+01,
		1.37657754143519042600e+02,
		4.34565877475229228821e+02,
		6.45387271733267880336e+02,
		4.29008140027567833386e+02,
		1.08635005541779435134e+02,
		6.57024977031928170135e+00,
		-6.04244152148580987438e-02)
}

// erfcFar is R/S for 1/0.35 ≤ x < 28.
func erfcFar(s float64) float64 {
	return horner(s,
		-9.86494292470009928597e-03,
		-7.99283237680523006574e-01,
		-1.77579549177547519889e+01,
		-1.60636384855821916062e+02,
		-6.37566443368389627722e+02,
		-1.02509513161107724954e+03,
		-4.83519191608651397019e+02,
	) / horner(s, 1,
		3.03380607434824582924e+01,
		3.25792512996573918826e+02,
		1.53672958608443695994e+03,
		3.19985821950859553908e+03,
		2.55305040643316442583e+03,
		4.74528541206955367215e+02,
		-2.24409524465858183362e+01)
}
