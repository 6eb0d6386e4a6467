package real

import "math"

// huge is where e to the −x drowns beside e to the x.
const huge = 22

// Sinh is the hyperbolic sine, within 3 ulp. ±Inf past ±710.47, NaN for NaN.
func Sinh(x float64) float64 {
	a := math.Abs(x)
	if a >= huge {
		return math.Copysign(halfExp(a), x)
	}
	e := Expm1(a)
	return math.Copysign(float64(0.5*(e+e/(e+1))), x)
}

// Cosh is the hyperbolic cosine, within 2 ulp. +Inf past ±710.47, NaN for NaN.
func Cosh(x float64) float64 {
	a := math.Abs(x)
	if a >= huge {
		return halfExp(a)
	}
	e := Exp(a)
	return float64(0.5*e) + 0.5/e
}

// Tanh is the hyperbolic tangent, within 3 ulp. NaN for NaN.
func Tanh(x float64) float64 {
	a := math.Abs(x)
	if a >= huge {
		return math.Copysign(1, x)
	}
	e := Expm1(2 * a)
	return math.Copysign(e/(e+2), x)
}

// halfExp is e to the x over 2, also where e to the x overflows.
func halfExp(x float64) float64 {
	if x < 709 {
		return float64(0.5 * Exp(x))
	}
	e := Exp(0.5 * x)
	return float64(float64(0.5*e) * e)
}
