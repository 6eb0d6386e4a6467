package dig

import "spadework/engine/unit"

// Step lowers a run from a station onward.
type Step struct {
	Station unit.Station
	Drop    unit.Length // + down, − up, not 0
}

// Invert is the flow line of a pipe at a station. In is the pipe that brings
// the water, Out the one that takes it away; they are equal where the pipe runs
// through. Which side of the station In lies on follows from the way the run
// falls.
type Invert struct {
	Station unit.Station
	In, Out unit.Elevation
}

// Structure is a manhole, catch basin or box in a run. It is dug with an outline
// of its own, square to the line, down to its lower invert less Base and
// Bedding.
type Structure struct {
	ID        string
	Station   unit.Station
	Size      [2]unit.Length // across the line, along it
	Base      unit.Length    // from the invert to the underside of the base, ≥ 0
	Bedding   unit.Length    // under the base, ≥ 0
	Working   unit.Length    // dug beyond Size on each side, ≥ 0
	InvertIn  *unit.Elevation
	InvertOut *unit.Elevation // nil both: taken from the run's inverts
}

// Outlets are those of a distribution box: Count pipes that leave it at one
// level.
type Outlets struct {
	Count           int
	Level           unit.Elevation  // invert of every outlet
	Inlet           *unit.Elevation // invert of the inlet, nil unknown
	LeastInletAbove unit.Length     // least that Inlet lies over Level, 0 not asked
	Base            unit.Length     // from Level to the underside of the box, ≥ 0
}
