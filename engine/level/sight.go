package level

import "spadework/engine/unit"

// Sight is one look at a rod. The zero Sight was not taken. A negative reading
// is of a rod held upside down on something over the line of sight.
type Sight struct {
	Taken    bool
	Reading  unit.Reading
	Distance unit.Length // from level to rod; 0 where nobody noted it
}

// Rod is a sight without a distance.
func Rod(r unit.Reading) Sight { return Sight{Taken: true, Reading: r} }

// RodAt is a sight at a distance.
func RodAt(r unit.Reading, d unit.Length) Sight { return Sight{true, r, d} }

// HeightOfInstrument is the elevation of the line of sight over a point read
// with a backsight.
func HeightOfInstrument(point unit.Elevation, backsight unit.Reading) unit.Elevation {
	return point.Plus(unit.Length(backsight))
}

// Foot is the elevation of the point that a rod stands on.
func Foot(hi unit.Elevation, reading unit.Reading) unit.Elevation {
	return hi.Plus(-unit.Length(reading))
}

// GradeRod is what a rod on the design elevation reads.
func GradeRod(hi, design unit.Elevation) unit.Reading { return unit.Reading(hi.Above(design)) }

// Cut is how far the ground lies over the design; negative is fill.
func Cut(ground, design unit.Elevation) unit.Length { return ground.Above(design) }

// CutByRod is the cut from two readings at one HI: grade rod − ground rod.
func CutByRod(gradeRod, groundRod unit.Reading) unit.Length {
	return unit.Length(gradeRod - groundRod)
}

// GradeRodFromHub is what a rod on grade reads where a rod on a hub reads r and
// the grade lies cut under the hub (negative: over it).
func GradeRodFromHub(r unit.Reading, cut unit.Length) unit.Reading { return r + unit.Reading(cut) }
