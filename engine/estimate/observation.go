package estimate

import (
	"fmt"
	"math"
)

// Term is one coefficient of a linear equation.
type Term struct {
	Unknown     int // index from 0
	Coefficient float64
}

// Observation says that the sum of its terms was observed as Value. Weight is
// one over the variance of the noise, or relative to a common unknown variance;
// an observation of weight 0 has a residual but no influence. Terms of one
// unknown add up.
type Observation struct {
	Terms  []Term
	Value  float64
	Weight float64
}

// Problem is a set of observations of a number of unknowns.
type Problem struct {
	Unknowns     int
	Observations []Observation
}

// BadObservation is an observation that no estimate can use: a value,
// coefficient or weight that is not finite, a negative weight, or an unknown
// out of range.
type BadObservation struct {
	Index  int // in Problem.Observations
	Reason string
}

func (e *BadObservation) Error() string {
	return fmt.Sprintf("observation %d: %s", e.Index, e.Reason)
}

// Deficient says that the observations do not determine these unknowns, in
// rising order.
type Deficient struct{ Unknowns []int }

func (e *Deficient) Error() string {
	return fmt.Sprintf("the observations do not determine unknowns %v", e.Unknowns)
}

// check returns the first fault of an observation of n unknowns.
func (o Observation) check(index, n int) error {
	bad := func(reason string) error { return &BadObservation{index, reason} }
	if !finite(o.Value) {
		return bad(fmt.Sprintf("value %g is not a number", o.Value))
	}
	if !finite(o.Weight) || o.Weight < 0 {
		return bad(fmt.Sprintf("weight %g, must be 0 or more", o.Weight))
	}
	for _, t := range o.Terms {
		if t.Unknown < 0 || t.Unknown >= n {
			return bad(fmt.Sprintf("unknown %d of %d", t.Unknown, n))
		}
		if !finite(t.Coefficient) {
			return bad(fmt.Sprintf("coefficient %g is not a number", t.Coefficient))
		}
	}
	return nil
}

// at is the sum of the terms at x.
func (o Observation) at(x []float64) float64 {
	sum := 0.0
	for _, t := range o.Terms {
		sum += float64(t.Coefficient * x[t.Unknown])
	}
	return sum
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
