package real

import "math"

// ChiSquareOver is the chance that a chi-square value passes x, to some 1e-13.
// 1 for x ≤ 0, NaN for dof < 1 or NaN.
// Source: Abramowitz & Stegun 26.4.4, 26.4.5; terms are taken as logarithms so
// that none underflows.
func ChiSquareOver(x float64, dof int) float64 {
	switch {
	case dof < 1 || math.IsNaN(x):
		return math.NaN()
	case x <= 0:
		return 1
	case math.IsInf(x, 1):
		return 0
	}
	logX := Log(x)
	sum, term, first := 0.0, -x/2, 2
	if dof%2 == 1 {
		sum = 2 * NormalCDF(-math.Sqrt(x))
		term += math.Ln2 - logRootTau + float64(0.5*logX)
		first = 3
	}
	for k := first; k <= dof; k += 2 {
		sum += Exp(term)
		term += logX - Log(float64(k))
	}
	return math.Min(sum, 1)
}

// ChiSquareLimit is the x that a chi-square value passes with chance alpha,
// 0 < alpha < 1. NaN outside.
func ChiSquareLimit(alpha float64, dof int) float64 {
	if dof < 1 || !(alpha > 0 && alpha < 1) {
		return math.NaN()
	}
	return bisect(func(x float64) bool { return ChiSquareOver(x, dof) > alpha })
}
