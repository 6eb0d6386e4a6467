package estimate

// Solution is a least-squares estimate.
type Solution struct {
	X        []float64 // the unknowns
	Cofactor Matrix    // covariance of X for a variance of unit weight of 1

	Residuals       []float64 // estimate − observed, one an observation
	RedundancyShare []float64 // part of each observation that others check, 0 to 1; 0 for weight 0
	Normalized      []float64 // w: residual over its standard deviation at unit variance 1; 0 where nothing checks it

	Redundancy int     // observations of weight above 0 less unknowns
	SquareSum  float64 // v'Wv
}

// LeastSquares minimises the weighted square sum of the residuals by Householder
// reflections. Unknowns that the observations leave open are a *Deficient, an
// observation that is not a number or has a negative weight a *BadObservation.
func LeastSquares(p Problem) (*Solution, error) { panic("not yet") }

// VarianceFactor is S0², the variance of unit weight that the residuals show;
// ok is false without redundancy.
func (s *Solution) VarianceFactor() (s0sq float64, ok bool) { panic("not yet") }

// StandardError of unknown i where the weights are one over known variances.
func (s *Solution) StandardError(i int) float64 { panic("not yet") }

// EstimatedError of unknown i where the weights are only relative: the standard
// error times S0. NaN without redundancy.
func (s *Solution) EstimatedError(i int) float64 { panic("not yet") }
