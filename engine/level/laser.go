package level

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// FourWay is a rotating laser read on one rod with its head turned to 0°, 90°,
// 180° and 270°, and the same ring on a near rod whose foot is as high.
type FourWay struct {
	Far          [4]unit.Reading
	FarDistance  unit.Length
	Near         [4]unit.Reading
	NearDistance unit.Length // 0: no near ring, no cone
	Curvature    bool        // take curvature and refraction off before the cone
}

// LaserCheck is what four directions show of a laser.
type LaserCheck struct {
	A, B  unit.Grade // how much the beam rises to the rod with the head at 0° and at 90°, cone apart
	Tilt  unit.Grade // of the plane, √(A² + B²)
	Twist unit.Grade // what neither tilt nor cone explains; reading noise on a sound laser
	Cone  unit.Grade // how much the beam rises in every direction
	Coned bool       // a near ring gave Cone
}

// Check works out a four-direction check: A = (r0 − r180)/2d, B = (r90 − r270)/2d,
// twist (r0 − r90 + r180 − r270)/4d, cone from the means of both rings. A half
// turn shows twice the tilt. A *phrase.Fault tells of a reading or distance that
// is none, and of rings at one distance.
func (f FourWay) Check() (LaserCheck, error) {
	if !(f.FarDistance > 0) || !isNumber(ringMean(f.Far)) {
		return LaserCheck{}, badLaser("level.laser_incomplete")
	}
	r, d := f.Far, float64(f.FarDistance)
	c := LaserCheck{
		A:     unit.Grade(float64(r[0]-r[2]) / (2 * d)),
		B:     unit.Grade(float64(r[1]-r[3]) / (2 * d)),
		Twist: unit.Grade(float64(r[0]-r[1]+r[2]-r[3]) / (4 * d)),
	}
	c.Tilt = unit.Grade(math.Sqrt(float64(c.A*c.A) + float64(c.B*c.B)))
	if f.NearDistance == 0 {
		return c, nil
	}
	apart := f.FarDistance - f.NearDistance
	if !(f.NearDistance > 0) || apart == 0 || !isNumber(ringMean(f.Near)) {
		return LaserCheck{}, badLaser("level.laser_rings")
	}
	rise := unit.Length(ringMean(f.Far) - ringMean(f.Near))
	if f.Curvature {
		rise -= Curvature(f.FarDistance) - Curvature(f.NearDistance)
	}
	c.Cone, c.Coned = unit.Grade(rise/apart), true
	return c, nil
}

// ringMean is the mean reading of a ring.
func ringMean(r [4]unit.Reading) float64 { return float64(r[0]+r[1]+r[2]+r[3]) / 4 }

func badLaser(key phrase.Key) error {
	return phrase.NewFault(phrase.New(key), phrase.New(key+".remedy"))
}

// ThreeStations is a laser read on two staffs from midway (A) and from a like
// distance beyond each end (B beyond I, C beyond II), head always alike.
type ThreeStations struct {
	Between   unit.Length  // staff I to staff II
	Beyond    unit.Length  // from the nearer staff to B, and to C; counts for curvature only
	A, B, C   unit.Length  // reading II − reading I seen from each
	Known     *unit.Length // true height of I over II, where levelled another way
	Curvature bool         // take curvature and refraction off
}

// StationCheck is what three stations show.
type StationCheck struct {
	Cone   unit.Grade  // how much the beam rises in every direction
	Tilt   unit.Grade  // along the staffs, rise from I to II; needs Known
	Tilted bool        // Known gave Tilt
	Gap    unit.Length // A less the mean of B and C; 0 but for reading noise
}

// Check works out the three stations (geometry of DIN 18723-8): cone
// (B − C)/2·Between, tilt from the mean of all three. From midway the cone drops
// out; a tilt shows from everywhere alike, so that only a known difference or a
// turned head tells it from the ground. A *phrase.Fault tells of a value that is
// not a number or a distance not above 0.
func (t ThreeStations) Check() (StationCheck, error) {
	if !(t.Between > 0) || !(t.Beyond >= 0) || !isNumber(float64(t.Between+t.Beyond)) || !isNumber(float64(t.A+t.B+t.C)) {
		return StationCheck{}, badLaser("level.stations_incomplete")
	}
	b, c := t.B, t.C
	if t.Curvature {
		more := Curvature(t.Between+t.Beyond) - Curvature(t.Beyond)
		b, c = b-more, c+more
	}
	out := StationCheck{Cone: unit.Grade((b - c) / (2 * t.Between)), Gap: t.A - (b+c)/2}
	if t.Known != nil {
		if !isNumber(float64(*t.Known)) {
			return StationCheck{}, badLaser("level.stations_incomplete")
		}
		out.Tilt, out.Tilted = unit.Grade(((t.A+b+c)/3-*t.Known)/t.Between), true
	}
	return out, nil
}
