package real

import "math"

// StudentWithin is the chance that a value of Student's distribution lies within
// ±t, t ≥ 0, to some 1e-15. NaN for dof < 1 or t < 0.
// Source: Abramowitz & Stegun 26.7.3, 26.7.4.
func StudentWithin(t float64, dof int) float64 {
	switch {
	case dof < 1 || !(t >= 0):
		return math.NaN()
	case math.IsInf(t, 1):
		return 1
	}
	nu := float64(dof)
	cos2 := nu / (nu + float64(t*t))
	sin := t / math.Sqrt(nu+float64(t*t))
	if dof%2 == 0 {
		return float64(sin * studentSum(cos2, 2, dof))
	}
	theta := math.Atan(t / math.Sqrt(nu))
	if dof > 1 {
		theta += float64(float64(sin*math.Sqrt(cos2)) * studentSum(cos2, 3, dof))
	}
	return theta * 2 / math.Pi
}

// studentSum is 1 + first−1/first·c + …, a term for each second number below dof.
func studentSum(c float64, first, dof int) float64 {
	sum, term := 1.0, 1.0
	for k := first; k < dof; k += 2 {
		term = float64(float64(term*c) * (float64(k-1) / float64(k)))
		sum += term
	}
	return sum
}

// StudentTwoSided is the t ≥ 0 that a value of Student's distribution passes to
// either side with chance alpha, 0 < alpha < 1, to some 1e-9 of it for alpha
// above 1e-6. NaN outside.
func StudentTwoSided(alpha float64, dof int) float64 {
	if dof < 1 || !(alpha > 0 && alpha < 1) {
		return math.NaN()
	}
	return bisect(func(t float64) bool { return 1-StudentWithin(t, dof) > alpha })
}

// bisect is the least x ≥ 0 at which below turns false, to the last digit.
func bisect(below func(float64) bool) float64 {
	low, high := 0.0, 1.0
	for below(high) && high < 1e12 {
		low, high = high, 2*high
	}
	for range 200 {
		middle := low + float64(0.5*(high-low))
		if middle == low || middle == high {
			break
		}
		if below(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}
