package estimate

import (
	"math"

	"spadework/engine/real"
)

// Suspect is an observation whose residual is too large for chance.
type Suspect struct {
	Index      int     // in Problem.Observations, the first of equals
	Normalized float64 // w where variances are known, τ where estimated
	Critical   float64 // size that chance passes with the level asked for
}

// Variance says what the weights mean to a test of residuals.
type Variance uint8

// The meanings: one over known variances (Baarda's w), or relative (Pope's τ).
const (
	Known Variance = iota
	Estimated
)

// Blunder is the observation with the largest normalized residual if that passes
// the critical value at level alpha (chance of a false flag for one observation,
// two-sided; 0.001 is usual). ok is false if none does. One at a time: take it
// out, look into it, solve again. Equal sizes mean that the observations cannot
// tell which of them it is.
func (s *Solution) Blunder(v Variance, alpha float64) (suspect Suspect, ok bool) {
	critical, ok := s.Critical(v, alpha)
	if !ok {
		return Suspect{}, false
	}
	scale := s.residualScale(v)
	suspect.Critical = critical
	for i, w := range s.Normalized {
		// A residual of rounding only must not decide between equals.
		if size := math.Abs(w / scale); size > math.Abs(suspect.Normalized)*(1+1e-9) {
			suspect.Index, suspect.Normalized = i, w/scale
		}
	}
	return suspect, math.Abs(suspect.Normalized) > critical
}

// residualScale is what Normalized is divided by: 1, or S0.
func (s *Solution) residualScale(v Variance) float64 {
	if v == Known {
		return 1
	}
	s0sq, _ := s.VarianceFactor()
	return math.Sqrt(s0sq)
}

// Critical is the size that a normalized residual passes by chance with level
// alpha; ok is false where the observations check each other too little to tell.
//
// Known: the normal quantile, 3.29 at 0.001 (W. Baarda, A testing procedure for
// use in geodetic networks, 1968). Estimated: for |w|/S0 the limit
// τ = t·√r/√(r−1+t²), t of r−1 degrees of freedom (A. J. Pope, The statistics of
// residuals and the detection of outliers, NOAA TR NOS 65 NGS 1, 1976), which
// needs 2 redundant observations and residuals that are not all 0.
func (s *Solution) Critical(v Variance, alpha float64) (limit float64, ok bool) {
	if !(alpha > 0 && alpha < 1) || s.Redundancy < 1 {
		return 0, false
	}
	if v == Known {
		return -real.NormalQuantile(alpha / 2), true
	}
	if s.Redundancy < 2 || s.SquareSum == 0 {
		return 0, false
	}
	r := float64(s.Redundancy)
	t := real.StudentTwoSided(alpha, s.Redundancy-1)
	return t * math.Sqrt(r/(r-1+float64(t*t))), true
}
