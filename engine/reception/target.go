package reception

import (
	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Target is a receiver that must get the beam: the place where it stands, the
// elevation of its foot, and how high over that it may be. Figures that are not
// finite are served by nothing.
type Target struct {
	At      geom.Point
	Bottom  unit.Elevation
	Lowest  unit.Length // of the receiver over Bottom
	Highest unit.Length

	// Guidance says what Lowest and Highest are, for the words of a Reason: rod,
	// the shortest and longest reading; stick receiver, where it can be clamped
	// over the teeth clear of boom and cab; sensors, the heights at which the
	// machine can catch the beam over the ground it stands on.
	Guidance beam.Guidance
}

// Dig is targets that must all be served by one beam.
type Dig struct {
	ID      string
	Targets []Target
}

// Laser is where a laser may stand and how its plane is dialled.
type Laser struct {
	At       geom.Point
	Gradient geom.Vector // rise per metre east and north; zero is level
}
