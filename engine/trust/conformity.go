package trust

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/real"
	"spadework/engine/unit"
)

// CoverageFactor makes an expanded uncertainty of about 95 % out of a standard
// one (JCGM 100:2008, 6.3.3).
const CoverageFactor = 2

// Measured is the deviation of a bottom from its design as measured, with its
// standard uncertainty.
type Measured struct {
	Value unit.Length // + too high
	Sigma unit.Length // NaN where it is not known
}

// Expanded is the expanded uncertainty, CoverageFactor times the standard one.
func (m Measured) Expanded() unit.Length { return CoverageFactor * m.Sigma }

// Conforms is the chance that the true deviation keeps the tolerance, by what was
// measured alone: Φ((TU − y)/u) − Φ((TL − y)/u) (JCGM 106:2012, 7.3). NaN where
// the uncertainty is not known.
func (m Measured) Conforms(t beam.Band) unit.Chance {
	return unit.Chance(Between(-float64(t.Below), float64(t.Above), float64(m.Value), float64(m.Sigma)))
}

// Rule is a decision rule of JCGM 106:2012, clause 8.
type Rule uint8

// The rules.
const (
	SimpleAcceptance  Rule = iota // 8.2: in where the value is in
	GuardedAcceptance             // 8.3.2: in only where it keeps a guard band inside the limits
	GuardedRejection              // 8.3.3: out only where it passes a guard band outside them
)

// Accepts says whether a rule takes the measured value. The guard band is guard:
// the expanded uncertainty as a rule. An unknown one is taken at its worst: no
// guarded acceptance, no guarded rejection.
func (m Measured) Accepts(t beam.Band, r Rule, guard unit.Length) bool {
	low, high := -t.Below, t.Above
	switch r {
	case GuardedAcceptance:
		low, high = low+guard, high-guard
		return m.Value >= low-rounding && m.Value <= high+rounding
	case GuardedRejection:
		low, high = low-guard, high+guard
		return !(m.Value < low-rounding || m.Value > high+rounding)
	}
	return m.Value >= low-rounding && m.Value <= high+rounding
}

// rounding is the difference under which two heights are one.
const rounding = unit.Micrometre / 1000

// Standing is what a measured value proves.
type Standing string

// The standings: in by guarded acceptance, out by guarded rejection, or neither.
const (
	ProvenIn  Standing = "in"
	ProvenOut Standing = "out"
	Open      Standing = "open"
)

// Text is the standing in words.
func (s Standing) Text() phrase.Message { return phrase.New(phrase.Key("trust.standing_" + string(s))) }

// Stands is the standing of a measured value with its expanded uncertainty as
// guard band.
func (m Measured) Stands(t beam.Band) Standing {
	switch {
	case m.Accepts(t, GuardedAcceptance, m.Expanded()):
		return ProvenIn
	case !m.Accepts(t, GuardedRejection, m.Expanded()):
		return ProvenOut
	}
	return Open
}

// GuardFactor is r of the guard band w = r·U for a value at the limit of
// acceptance to conform with a chance, one limit alone: the normal quantile over
// CoverageFactor (JCGM 106:2012, 8.3.2).
func GuardFactor(chance unit.Chance) float64 {
	return real.NormalQuantile(float64(chance)) / CoverageFactor
}

// Shot is the deviation that a shot at p measures: what was read, less what the
// beam and a leaning rod are expected to depart by, with beam, reading, wind and
// lean as its uncertainty. It is blind to nothing but a beam that moved since.
func (b *Belief) Shot(p geom.Point, rod unit.Reading, deviation unit.Length, w Way) Measured {
	d := b.Beam(p)
	if !d.Known {
		return Measured{Value: deviation, Sigma: unit.Length(math.NaN())}
	}
	shake, lean := shakeAt(b.setup.Wind, b.setup.At.Distance(p)), w.lean(float64(rod))
	v := float64(d.Sigma*d.Sigma) + w.reading() + float64(shake*shake) + float64(lean*lean)
	return Measured{Value: deviation + d.Mean + unit.Length(lean), Sigma: unit.Length(math.Sqrt(v))}
}

// Shoot is a shot as a bottom among others under one beam, for Out and AllIn.
func (b *Belief) Shoot(p geom.Point, m Measured, t beam.Band) Bottom {
	d := b.Beam(p)
	own := float64(m.Sigma*m.Sigma) - float64(d.Sigma*d.Sigma)
	return Bottom{At: p, Mean: m.Value - d.Mean, Sigma: unit.Length(math.Sqrt(math.Max(own, 0))), Band: t}
}
