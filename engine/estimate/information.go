package estimate

import (
	"math"

	"spadework/engine/real"
)

// Information is a Gaussian belief about n unknowns as information matrix and
// vector. The fresh one knows nothing, which is allowed: what has not been
// determined yet has no value.
type Information struct {
	matrix Matrix
	vector []float64
	square float64 // Σ weight·value²
	logs   float64 // Σ log(weight/2π)
	count  int     // observations of weight above 0
}

// NewInformation knows nothing about n unknowns.
func NewInformation(n int) *Information {
	return &Information{matrix: NewMatrix(n, n), vector: make([]float64, n)}
}

// Clone is a copy that shares nothing.
func (in *Information) Clone() *Information {
	out := *in
	out.matrix = in.matrix.Clone()
	out.vector = append([]float64(nil), in.vector...)
	return &out
}

// Observe adds one observation; a prior is an observation of an unknown itself.
// A bad observation changes nothing and is a *BadObservation, whose index is the
// count of observations of weight above 0 before it. Values near 0 keep more
// digits: observe elevations less that of a benchmark.
func (in *Information) Observe(o Observation) error {
	if err := o.check(in.count, len(in.vector)); err != nil {
		return err
	}
	if o.Weight == 0 {
		return nil
	}
	for _, a := range o.Terms {
		wa := float64(o.Weight * a.Coefficient)
		in.vector[a.Unknown] += float64(wa * o.Value)
		for _, b := range o.Terms {
			in.matrix.Row(a.Unknown)[b.Unknown] += float64(wa * b.Coefficient)
		}
	}
	in.square += float64(float64(o.Value*o.Value) * o.Weight)
	in.logs += real.Log(o.Weight / (2 * math.Pi))
	in.count++
	return nil
}
