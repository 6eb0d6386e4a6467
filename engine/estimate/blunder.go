package estimate

// Suspect is an observation whose residual is too large for chance.
type Suspect struct {
	Index      int     // in Problem.Observations
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
// out, look into it, solve again.
//
// Known: |w| against the normal quantile, 3.29 at 0.001 (W. Baarda, A testing
// procedure for use in geodetic networks, 1968). Estimated: |w|/S0 against
// τ = t·√r/√(r−1+t²), t of r−1 degrees of freedom (A. J. Pope, The statistics of
// residuals and the detection of outliers, NOAA TR NOS 65 NGS 1, 1976); with
// fewer than 2 redundant observations nothing can be told.
func (s *Solution) Blunder(v Variance, alpha float64) (suspect Suspect, ok bool) {
	panic("not yet")
}
