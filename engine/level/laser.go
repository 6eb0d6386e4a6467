package level

import "spadework/engine/unit"

// FourWay is a rotating laser read on one rod with its head turned to 0°, 90°,
// 180° and 270°, and the same ring on a near rod at the same elevation.
type FourWay struct {
	Far          [4]unit.Reading
	FarDistance  unit.Length
	Near         [4]unit.Reading
	NearDistance unit.Length // 0: no near ring, no cone
}

// LaserCheck is what four directions show of a laser.
type LaserCheck struct {
	A, B  unit.Grade // tilt of the plane towards the head's 0° and 90°, rise positive
	Tilt  unit.Grade // size of the tilt
	Twist unit.Grade // what neither tilt nor cone explains; reading noise on a sound laser
	Cone  unit.Grade // how much the beam rises in every direction
	Coned bool       // a near ring gave Cone
}

// Check works out a four-direction check. A half turn shows twice the tilt.
func (f FourWay) Check() (LaserCheck, error) { panic("not yet") }

// ThreeStations is a laser read on two staffs from midway (A) and from a like
// distance beyond each end (B beyond I, C beyond II), head always alike.
type ThreeStations struct {
	Between unit.Length  // staff I to staff II
	A, B, C unit.Length  // differences reading I − reading II seen from each
	Known   *unit.Length // true difference, where levelled another way
}

// StationCheck is what three stations show.
type StationCheck struct {
	Cone   unit.Grade
	Tilt   unit.Grade  // along the staffs, rise from II to I; needs Known
	Tilted bool        // Known gave Tilt
	Gap    unit.Length // A less the mean of B and C; 0 but for reading noise
}

// Check works out the three stations (geometry of DIN 18723-8).
func (t ThreeStations) Check() (StationCheck, error) { panic("not yet") }
