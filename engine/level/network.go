package level

import "spadework/engine/unit"

// Difference is an observed rise from one point to another.
type Difference struct {
	From, To string
	Rise     unit.Length
	Weight   float64     // 1/variance in 1/m², or relative; 0 takes no part
	Length   unit.Length // of the run, for loop rules; 0 where nobody noted it
}

// Network is a set of runs that share points.
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

// WeightOf is the weight of a run of a length, at a standard error for one
// kilometre.
func WeightOf(length, perKilometre unit.Length) float64 { panic("not yet") }

// Height is an adjusted point.
type Height struct {
	Point         string
	Elevation     unit.Elevation
	StandardError unit.Length // NaN where the scale cannot be shown: relative weights without redundancy
	Fixed         bool
}

// Residual is what the adjustment did to a difference.
type Residual struct {
	Residual   unit.Length // adjusted − observed
	Share      float64     // part of it that the others check, 0 to 1
	Normalized float64     // residual over its standard error
	Blunder    bool        // the largest, and over Critical
}

// Adjusted is an adjusted network.
type Adjusted struct {
	Heights    []Height   // fixed points, then the others, each in the order of first mention
	Residuals  []Residual // one a difference
	Redundancy int
	S0         float64 // standard deviation of unit weight shown by the residuals; NaN without redundancy
	SquareSum  float64 // v'Wv
	Critical   float64 // of Normalized; NaN where too little checks too much
}

// Adjust solves the network by least squares. A *phrase.Fault tells of no fixed
// point, a point fixed twice, points not connected to any fixed point, a value
// that is not a number or a negative weight.
func (n Network) Adjust() (*Adjusted, error) { panic("not yet") }

// Loop is a way through a network that comes back to its start.
type Loop struct {
	Points     []string // first and last the same
	Misclosure unit.Length
	Length     unit.Length // 0 unless every difference has one
	Setups     int
}

// LoopThrough is the loop along the named points, closed to the first; two
// neighbours without a difference are a *phrase.Fault.
func (n Network) LoopThrough(points ...string) (Loop, error) { panic("not yet") }

// Loops are the loops that a spanning tree and each difference outside it make,
// as many as the network without its fixed points checks itself.
func (n Network) Loops() []Loop { panic("not yet") }
