package trust

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/level"
	"spadework/engine/unit"
)

// Prior is what is known of a laser's plane before any rod is read: standard
// deviations, ≥ 0. Tilt is fresh at each set-up and each dial; the cone belongs
// to the laser.
type Prior struct {
	Tilt      unit.Grade // an axis
	Cone      unit.Grade // mean rise of the beam in every direction
	ConeSigma unit.Grade // 0: the cone is exactly Cone
}

// FromAccuracy is the prior of a stated accuracy, a bound on the error of the
// plane in any direction: rectangular, so bound/√3 an axis (JCGM 100:2008, 4.3.7).
func FromAccuracy(bound unit.Grade) Prior {
	return Prior{Tilt: unit.Grade(rectangular(float64(bound)))}
}

// FromCheck is the prior of an instrument's own four-direction check. The head
// stands anyhow at the next set-up, so that the tilt found is spread over both
// axes: tilt²/2 an axis beside the variance of finding it. The cone is known but
// for that.
func FromCheck(c level.LaserCheck, sigma unit.Grade) Prior {
	tilt := float64(c.Tilt*c.Tilt)/2 + float64(sigma*sigma)
	out := Prior{Tilt: unit.Grade(math.Sqrt(tilt))}
	if c.Coned {
		out.Cone, out.ConeSigma = c.Cone, sigma
	}
	return out
}

// CheckSigma is the standard deviation of the tilt an axis that a four-direction
// check finds from readings of standard deviation s at a distance: the
// difference of two readings over twice the distance. NaN or Inf where the
// distance is not above 0.
func CheckSigma(s, distance unit.Length) unit.Grade {
	return unit.Grade(float64(s) / (math.Sqrt2 * float64(distance)))
}

// Dialling is what a sloped plane adds to the doubt of a level one.
type Dialling struct {
	Gradient geom.Vector // rise per metre east and north; zero is a level beam
	Bearing  unit.Angle  // of the laser's mark
	Axes     int         // sloped by the laser: 1 along the mark, 2 also across
	Step     unit.Grade  // smallest change of the dial, ≥ 0
	Accuracy unit.Grade  // bound on the error of the dialled grade, ≥ 0
	Aiming   unit.Angle  // bound on the error of the mark's direction, ≥ 0
}

// rectangular is the standard deviation of a value somewhere within ± half.
func rectangular(half float64) float64 { return half / math.Sqrt(3) }

// square is the 2×2 covariance of the tilts east and north.
type square [2][2]float64

func (m square) plus(o square) square {
	for i := range m {
		for j := range m[i] {
			m[i][j] += o[i][j]
		}
	}
	return m
}

// along is the covariance of one error of a standard deviation in a direction.
func along(u geom.Vector, sigma float64) square {
	v := float64(sigma * sigma)
	return square{{float64(u.X*u.X) * v, float64(u.X*u.Y) * v}, {float64(u.X*u.Y) * v, float64(u.Y*u.Y) * v}}
}

// inverse of a positive definite square.
func (m square) inverse() square {
	det := float64(m[0][0]*m[1][1]) - float64(m[0][1]*m[1][0])
	return square{{m[1][1] / det, -m[0][1] / det}, {-m[1][0] / det, m[0][0] / det}}
}

// form is v'·m·v.
func (m square) form(v [2]float64) float64 {
	east, both, north := float64(v[0]*v[0]), float64(v[0]*v[1]), float64(v[1]*v[1])
	return float64(east*m[0][0]) + 2*float64(both*m[0][1]) + float64(north*m[1][1])
}

// tilts are the causes of tilt of a set-up, each with its covariance.
func (s Setup) tilts() []cause {
	east, north := geom.Vector{X: 1}, geom.Vector{Y: 1}
	t := float64(s.Prior.Tilt)
	out := []cause{{name: LaserTilt, cov: along(east, t).plus(along(north, t))}}
	d := s.Dial
	if d.Gradient == (geom.Vector{}) {
		return out
	}
	sin, cos := math.Sincos(float64(d.Bearing))
	mark := geom.Vector{X: sin, Y: cos}
	step := float64(d.Step) / math.Sqrt(12)
	grade := rectangular(float64(d.Accuracy))
	steps, grades := along(mark, step), along(mark, grade)
	if d.Axes > 1 {
		steps, grades = steps.plus(along(mark.Right(), step)), grades.plus(along(mark.Right(), grade))
	}
	aim := d.Gradient.Length() * rectangular(float64(d.Aiming))
	return append(out,
		cause{name: DialStep, cov: steps}, cause{name: DialAccuracy, cov: grades},
		cause{name: Aiming, cov: along(d.Gradient.Unit().Right(), aim)})
}
