package level

import "spadework/engine/unit"

// PegSetup is a level's readings of rods on two pegs, with distances.
type PegSetup struct{ A, B Sight }

// Collimation is what a two-peg test shows.
type Collimation struct {
	Tilt unit.Grade  // of the line of sight, rise positive; a rod at D reads too large by Tilt × D
	Rise unit.Length // true rise from peg A to peg B
}

// TwoPeg finds the tilt of the line of sight from two set-ups, as a rule one
// midway and one near a peg. Curvature is taken off each reading. A *phrase.Fault
// tells of a missing distance or of set-ups whose distances do not tell tilt.
func TwoPeg(first, second PegSetup) (Collimation, error) { panic("not yet") }

// Correct takes the tilt out of a reading at a distance.
func (c Collimation) Correct(r unit.Reading, d unit.Length) unit.Reading { panic("not yet") }
