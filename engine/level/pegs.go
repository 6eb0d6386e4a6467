package level

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// PegTest is a level read on rods on two pegs from two set-ups, as a rule one
// midway and one near a peg. Every sight needs its distance.
type PegTest struct {
	First, Second PegSetup
	Curvature     bool // take curvature and refraction off the readings
}

// PegSetup is the readings from one place.
type PegSetup struct{ A, B Sight }

// Collimation is what a two-peg test shows.
type Collimation struct {
	Tilt unit.Grade  // of the line of sight, rise positive; a rod at D reads too large by Tilt × D
	Rise unit.Length // true rise from peg A to peg B
}

// leastLever is the part of the longest sight that the two set-ups must differ
// in (distance to A less distance to B), else reading noise decides the tilt.
const leastLever = 0.1

// Check finds the tilt of the line of sight. A *phrase.Fault tells of a missing
// sight or distance or of set-ups whose distances do not tell the tilt.
func (t PegTest) Check() (Collimation, error) {
	longest := unit.Length(0)
	for _, s := range []Sight{t.First.A, t.First.B, t.Second.A, t.Second.B} {
		if !s.Taken || !(s.Distance > 0) || !isNumber(float64(s.Distance)) || !isNumber(float64(s.Reading)) {
			return Collimation{}, phrase.NewFault(phrase.New("level.pegs_incomplete"), phrase.New("level.pegs_incomplete.remedy"))
		}
		longest = max(longest, s.Distance)
	}
	rise1, lever1 := t.First.compare(t.Curvature)
	rise2, lever2 := t.Second.compare(t.Curvature)
	lever := lever1 - lever2
	if math.Abs(float64(lever)) < leastLever*float64(longest) {
		return Collimation{}, phrase.NewFault(
			phrase.New("level.pegs_alike", phrase.With("first", lever1), phrase.With("second", lever2)),
			phrase.New("level.pegs_alike.remedy"))
	}
	tilt := unit.Grade((rise1 - rise2) / lever)
	return Collimation{Tilt: tilt, Rise: rise1 - tilt.Over(lever1)}, nil
}

// compare is the rise from A to B as read, and how much farther A is than B.
func (p PegSetup) compare(curvature bool) (rise, lever unit.Length) {
	rise = unit.Length(p.A.Reading - p.B.Reading)
	if curvature {
		rise -= Curvature(p.A.Distance) - Curvature(p.B.Distance)
	}
	return rise, p.A.Distance - p.B.Distance
}

// Correct takes the tilt out of a reading at a distance.
func (c Collimation) Correct(r unit.Reading, d unit.Length) unit.Reading {
	return r - unit.Reading(c.Tilt.Over(d))
}
