package level

import (
	"math"

	"spadework/engine/estimate"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Difference is an observed rise from one point to another.
type Difference struct {
	From, To string
	Rise     unit.Length
	Weight   float64      // 1/variance in 1/m², or relative; 0 takes no part
	Length   unit.Length  // of the run, for loop rules; 0 where nobody noted it
	Setups   int          // of the run, for loop rules; 0 where nobody noted it
	Place    phrase.Place // where it was read, for faults; may be zero
}

// Network is a set of runs that share points. Fixed points are taken as free of
// error.
type Network struct {
	Fixed       []Mark
	Differences []Difference
	Weights     Weights
	Alpha       float64 // chance of a false flag on one good difference; 0 means 0.001
}

// Weights says what the weights of a network mean.
type Weights uint8

// The meanings: only relative, their scale shown by the residuals; or one over
// the variance in m².
const (
	Relative Weights = iota
	Absolute
)

// usualAlpha is Baarda's customary level, critical value 3.29.
const usualAlpha = 0.001

// WeightOf is the weight of a run of a length, above 0, at a standard error for
// one kilometre: variance grows with length.
func WeightOf(length, perKilometre unit.Length) float64 {
	variance := float64(perKilometre*perKilometre) * float64(length) / 1000
	return 1 / variance
}

// Height is an adjusted point.
type Height struct {
	Point         string
	Elevation     unit.Elevation
	StandardError unit.Length // 0 if fixed; NaN where nothing shows the scale: relative weights without redundancy
	Fixed         bool
}

// Residual is what the adjustment did to a difference.
type Residual struct {
	Residual   unit.Length // adjusted − observed
	Share      float64     // part of it that the others check, 0 to 1
	Normalized float64     // residual over its standard error; 0 where nothing checks it
	Blunder    bool        // among the largest, and over Critical
}

// Adjusted is an adjusted network.
type Adjusted struct {
	Heights    []Height   // fixed points, then the others in the order of first mention
	Residuals  []Residual // one a difference
	Redundancy int
	S0         float64 // standard deviation of unit weight shown by the residuals; NaN without redundancy
	SquareSum  float64 // v'Wv
	Critical   float64 // of Normalized; NaN where too little checks too much
}

// Height is the adjusted point of a name; ok is false if the network does not
// have it.
func (a *Adjusted) Height(point string) (h Height, ok bool) {
	for _, h := range a.Heights {
		if h.Point == point {
			return h, true
		}
	}
	return Height{}, false
}

// Adjust solves the network by least squares. A blunder is flagged by
// estimate.Solution.Critical: by Baarda's test with absolute weights, by Pope's
// with relative ones; all differences that share the largest normalized residual
// are flagged, since nothing tells them apart. A *phrase.Fault tells of no fixed
// point, a point fixed twice, points not connected to any fixed point, a value
// that is not a number or a negative weight.
func (n Network) Adjust() (*Adjusted, error) {
	g, err := n.graph()
	if err != nil {
		return nil, err
	}
	if err := g.connected(); err != nil {
		return nil, err
	}
	if len(g.names) == len(n.Fixed) {
		return nil, phrase.NewFault(phrase.New("level.nothing_to_adjust"), phrase.New("level.nothing_to_adjust.remedy"))
	}
	solution, err := estimate.LeastSquares(g.problem())
	if err != nil {
		return nil, err // the graph has been checked: not the user's doing
	}
	return n.adjusted(g, solution), nil
}

// problem is the network over the heights of its free points above the first
// fixed one.
func (g *graph) problem() estimate.Problem {
	fixed := len(g.fixed)
	p := estimate.Problem{Unknowns: len(g.names) - fixed}
	for i, d := range g.differences {
		o := estimate.Observation{Value: float64(d.Rise), Weight: d.Weight}
		for _, end := range []struct {
			point int
			sign  float64
		}{{g.from[i], -1}, {g.to[i], 1}} {
			if end.point >= fixed {
				o.Terms = append(o.Terms, estimate.Term{Unknown: end.point - fixed, Coefficient: end.sign})
			} else {
				o.Value -= end.sign * float64(g.fixed[end.point].Above(g.fixed[0]))
			}
		}
		p.Observations = append(p.Observations, o)
	}
	return p
}

// adjusted tells a solution in the network's terms.
func (n Network) adjusted(g *graph, s *estimate.Solution) *Adjusted {
	out := &Adjusted{Redundancy: s.Redundancy, SquareSum: s.SquareSum, S0: math.NaN(), Critical: math.NaN()}
	if s0sq, ok := s.VarianceFactor(); ok {
		out.S0 = math.Sqrt(s0sq)
	}
	for i, name := range g.names {
		if i < len(n.Fixed) {
			out.Heights = append(out.Heights, Height{Point: name, Elevation: g.fixed[i], Fixed: true})
			continue
		}
		u := estimate.Term{Unknown: i - len(n.Fixed), Coefficient: 1}
		h := Height{Point: name, Elevation: g.fixed[0].Plus(unit.Length(s.X[u.Unknown]))}
		if h.StandardError = unit.Length(s.StandardError(u)); n.Weights == Relative {
			h.StandardError = unit.Length(s.EstimatedError(u))
		}
		out.Heights = append(out.Heights, h)
	}
	n.flag(out, s)
	return out
}

// sameSize is how near two normalized residuals count as equal, their rounding.
const sameSize = 1e-6

// flag adds the residuals and says which are blunders.
func (n Network) flag(out *Adjusted, s *estimate.Solution) {
	variance, scale := estimate.Known, 1.0
	if n.Weights == Relative {
		variance, scale = estimate.Estimated, out.S0
	}
	suspect, found := s.Blunder(variance, n.alpha())
	if critical, ok := s.Critical(variance, n.alpha()); ok {
		out.Critical = critical
	}
	for i, v := range s.Residuals {
		r := Residual{Residual: unit.Length(v), Share: s.RedundancyShare[i]}
		if s.Normalized[i] != 0 {
			r.Normalized = s.Normalized[i] / scale
		}
		r.Blunder = found && math.Abs(r.Normalized) >= math.Abs(suspect.Normalized)*(1-sameSize)
		out.Residuals = append(out.Residuals, r)
	}
}

func (n Network) alpha() float64 {
	if n.Alpha == 0 {
		return usualAlpha
	}
	return n.Alpha
}
