package beam

import (
	"spadework/engine/level"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Receiver is a laser receiver on a rod or a stick.
type Receiver struct {
	ID       string
	DeadBand unit.Length // height over which it shows On, ≥ 0
}

// Rod is a grade rod.
type Rod struct {
	ID                string
	Face              unit.Face
	Shortest, Longest unit.Reading // between which a receiver can sit
	Step              unit.Reading // what its face is read to; 0 is not rounded
}

// Round is a reading to the rod's step, halves away from zero.
func (r Rod) Round(rod unit.Reading) unit.Reading {
	return unit.Reading(roundTo(float64(rod), float64(r.Step)))
}

// Reaches is the zero Message if the rod can show the reading, else why not. A
// reading that is NaN is not reached.
func (r Rod) Reaches(rod unit.Reading) phrase.Message {
	switch {
	case rod >= r.Shortest && rod <= r.Longest:
		return phrase.Message{}
	case rod < 0:
		return phrase.New("beam.beam_under_bottom", phrase.With("under", unit.Length(-rod)))
	case rod < r.Shortest:
		return phrase.New("beam.rod_too_long", phrase.With("rod", rod), phrase.With("id", r.ID),
			phrase.With("shortest", r.Shortest))
	case rod > r.Longest:
		return phrase.New("beam.rod_too_short", phrase.With("rod", rod), phrase.With("id", r.ID),
			phrase.With("longest", r.Longest))
	}
	return phrase.New("beam.no_rod", phrase.With("id", r.ID))
}

// PlumbError is what a rod or stick leaning by t makes of a height along it:
// height × (1 − cos t). The rod reads that much too much; teeth under a clamped
// receiver stay that much over the bottom. Never negative for a height ≥ 0; NaN
// and Inf pass through. Source: geometry.
func PlumbError(height unit.Length, t unit.Angle) unit.Length {
	return level.LeanError(unit.Reading(height), t)
}
