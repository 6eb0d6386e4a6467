package trust

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/real"
	"spadework/engine/unit"
)

// End is a point of a bottom with the rod over it.
type End struct {
	At  geom.Point
	Rod unit.Reading
}

// Difference is the outlook of the bottom at q over that at p, less the design's
// own difference: what both share under one beam drops out. Readings and hands
// count twice.
func (b *Belief) Difference(p, q End, w Way) Outlook {
	from, to := b.At(p.At, p.Rod, w), b.At(q.At, q.Rod, w)
	if !from.Known || !to.Known {
		return Outlook{Mean: unit.Length(math.NaN()), Beam: unit.Length(math.NaN()),
			First: unit.Length(math.NaN()), Final: unit.Length(math.NaN())}
	}
	shared := 2 * b.Covariance(p.At, q.At)
	root := func(a, b unit.Length) unit.Length {
		return unit.Length(math.Sqrt(math.Max(float64(a*a)+float64(b*b)-shared, 0)))
	}
	return Outlook{
		Known: true, Mean: to.Mean - from.Mean,
		Beam: root(from.Beam, to.Beam), First: root(from.First, to.First), Final: root(from.Final, to.Final),
	}
}

// Differs is the chance that the finished difference departs from the design by
// no more than most, either way. NaN where it is not known.
func (o Outlook) Differs(most unit.Length) unit.Chance {
	return unit.Chance(Between(-float64(most), float64(most), float64(o.Mean), float64(o.Final)))
}

// KeepsFall is the chance that a piece which falls by drop from the first end to
// the second does not fall the other way.
func (o Outlook) KeepsFall(drop unit.Length) unit.Chance {
	return unit.Chance(Between(math.Inf(-1), float64(drop), float64(o.Mean), float64(o.Final)))
}

// equalNodes and equalReach are the nodes of the trapezoidal rule over a normal
// value and how far they go: half a sigma apart, whose error for a smooth
// function is under exp(−8π²).
const (
	equalStep  = 0.5
	equalReach = 6.0
)

// Equal is the chance that outlets in a line differ by no more than most, any
// two of them: the range of values that share a beam. Given the beam's slope
// along the line they are independent, and the range of independent values is
// an integral over the lowest. NaN where it is not known; 1 for one outlet.
func (b *Belief) Equal(outlets []End, w Way, most unit.Length) unit.Chance {
	if len(outlets) < 2 {
		return 1
	}
	first, last := outlets[0], outlets[len(outlets)-1]
	length := first.At.Distance(last.At)
	o := b.Difference(first, last, w)
	if !o.Known {
		return unit.Chance(math.NaN())
	}
	own := b.At(first.At, first.Rod, w)
	s := math.Sqrt(math.Max(float64(own.Final*own.Final)-float64(own.Beam*own.Beam), 0))
	means := make([]float64, len(outlets))
	sum, weights := 0.0, 0.0
	for z := -equalReach; z <= equalReach; z += equalStep {
		slope := 0.0
		if length > 0 {
			slope = (float64(o.Mean) + float64(z*float64(o.Beam))) / length
		}
		for i, e := range outlets {
			means[i] = float64(slope * first.At.Distance(e.At))
		}
		density := real.NormalDensity(z)
		sum += float64(density * rangeWithin(means, s, float64(most)))
		weights += density
	}
	return unit.Chance(math.Min(sum/weights, 1))
}

// rangeWithin is the chance that independent normal values of one sigma lie
// within most of each other: over the lowest value z of each, the others above
// it and not over z + most.
func rangeWithin(means []float64, sigma, most float64) float64 {
	if sigma == 0 {
		low, high := means[0], means[0]
		for _, m := range means {
			low, high = min(low, m), max(high, m)
		}
		if high-low <= most {
			return 1
		}
		return 0
	}
	const step, reach = 0.125, 8.0
	sum := 0.0
	for i, m := range means {
		for z := -reach; z <= reach; z += step {
			value, p := m+float64(z*sigma), real.NormalDensity(z)
			for j, other := range means {
				if j != i {
					p *= Between(value, value+most, other, sigma)
				}
			}
			sum += p
		}
	}
	return sum * step
}
