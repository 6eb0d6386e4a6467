package estimate

import (
	"errors"
	"math"

	"spadework/engine/real"
)

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

// checkedFrom is the redundancy share from which a residual can be told from
// rounding.
const checkedFrom = 1e-9

// LeastSquares minimises the weighted square sum of the residuals by Householder
// reflections. Unknowns that the observations leave open are a *Deficient, an
// observation that is not a number or has a negative weight a *BadObservation.
func LeastSquares(p Problem) (*Solution, error) {
	if p.Unknowns < 1 {
		return nil, errors.New("least squares without unknowns")
	}
	design, values, err := p.weighted()
	if err != nil {
		return nil, err
	}
	qr := NewQR(design)
	x, err := qr.Solve(values)
	if err != nil {
		return nil, err
	}
	s := &Solution{X: x, Cofactor: qr.Cofactor(), Redundancy: design.Rows - p.Unknowns}
	for _, o := range p.Observations {
		s.judge(o)
	}
	return s, nil
}

// weighted is the design matrix and values of the observations that count, each
// row times the root of its weight.
func (p Problem) weighted() (design Matrix, values []float64, err error) {
	var rows []int
	for i, o := range p.Observations {
		if err := o.check(i, p.Unknowns); err != nil {
			return Matrix{}, nil, err
		}
		if o.Weight > 0 {
			rows = append(rows, i)
		}
	}
	design = NewMatrix(len(rows), p.Unknowns)
	for r, i := range rows {
		o := p.Observations[i]
		root := math.Sqrt(o.Weight)
		for _, t := range o.Terms {
			design.Row(r)[t.Unknown] += float64(root * t.Coefficient)
		}
		values = append(values, float64(root*o.Value))
	}
	return design, values, nil
}

// judge adds the figures of one observation to the solution.
func (s *Solution) judge(o Observation) {
	v := o.at(s.X) - o.Value
	share, normalized := 0.0, 0.0
	if o.Weight > 0 {
		share = math.Min(math.Max(1-float64(o.Weight*s.variance(o.Terms)), 0), 1)
		if share > checkedFrom {
			normalized = v * math.Sqrt(o.Weight/share)
		}
	}
	s.Residuals = append(s.Residuals, v)
	s.RedundancyShare = append(s.RedundancyShare, share)
	s.Normalized = append(s.Normalized, normalized)
	s.SquareSum += float64(float64(v*v) * o.Weight)
}

// variance of a linear function of the unknowns at unit variance 1.
func (s *Solution) variance(f []Term) float64 {
	sum := 0.0
	for _, a := range f {
		for _, b := range f {
			sum += float64(float64(a.Coefficient*b.Coefficient) * s.Cofactor.At(a.Unknown, b.Unknown))
		}
	}
	return sum
}

// VarianceFactor is S0², the variance of unit weight that the residuals show;
// ok is false without redundancy.
func (s *Solution) VarianceFactor() (s0sq float64, ok bool) {
	if s.Redundancy < 1 {
		return 0, false
	}
	return s.SquareSum / float64(s.Redundancy), true
}

// StandardError of a linear function of the unknowns where the weights are one
// over known variances.
func (s *Solution) StandardError(f ...Term) float64 { return math.Sqrt(s.variance(f)) }

// EstimatedError of a linear function of the unknowns where the weights are only
// relative: the standard error times S0. NaN without redundancy.
func (s *Solution) EstimatedError(f ...Term) float64 {
	s0sq, ok := s.VarianceFactor()
	if !ok {
		return math.NaN()
	}
	return math.Sqrt(float64(s0sq * s.variance(f)))
}

// Unlikely says that with known variances a square sum as large as this comes up
// with less than chance alpha (chi-square test of the variance factor). False
// without redundancy.
func (s *Solution) Unlikely(alpha float64) bool {
	return s.Redundancy > 0 && real.ChiSquareOver(s.SquareSum, s.Redundancy) < alpha
}
