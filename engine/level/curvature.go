package level

import "spadework/engine/unit"

// combined is curvature less refraction in m per km² (Memorial University of
// Newfoundland, ENGI 3703 notes; 0.0206 ft per (1000 ft)²).
const combined = 0.0675

// Curvature is how far a horizontal line of sight runs over the level surface at
// a distance, refraction taken off; a rod there reads too large by it. Never
// negative.
func Curvature(distance unit.Length) unit.Length {
	k := float64(distance) / 1000
	return unit.Length(combined * float64(k*k))
}

// Earth is a sphere and an air for curvature.
type Earth struct {
	Diameter   unit.Length
	Refraction float64 // share of the curvature that the air takes off, 0 to 1
}

// Curvature is Curvature on this earth.
func (e Earth) Curvature(distance unit.Length) unit.Length {
	d := float64(distance)
	return unit.Length(float64(d*d) / float64(e.Diameter) * (1 - e.Refraction))
}
