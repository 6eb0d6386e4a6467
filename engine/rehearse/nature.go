package rehearse

import (
	"math"

	"spadework/engine/geom"
)

// Nature is how the world errs. The zero Nature errs as package trust assumes:
// normal values, but for dead bands and steps, which are as they are.
type Nature struct {
	Rectangular bool    // plane, benchmarks and hands err evenly within their bounds
	Drift       float64 // metres that the beam rises or sinks over the day, a standard deviation at its end
	StaleTie    float64 // chance that a stand keeps the zero of another place
	StaleBy     float64 // metres that its zero is then out, a standard deviation
}

// err is an error of a standard deviation.
func (n Nature) err(r *Rand, sigma float64) float64 {
	if n.Rectangular {
		half := sigma * math.Sqrt(3)
		return r.Between(-half, half)
	}
	return sigma * r.Normal()
}

// trueBeam is the beam as it stands: a plane turned about its laser, with the
// curvature of the earth and the air of the day.
type trueBeam struct {
	at     geom.Point
	height float64
	normal [3]float64
	curve  float64 // metres per square metre of distance
}

// turned is the plane of a gradient turned by a tilt east and a tilt north: the
// rotations themselves, not their first order.
func turned(g geom.Vector, east, north float64) [3]float64 {
	n := [3]float64{-g.X, -g.Y, 1}
	// About the north axis: what lies east rises.
	s, c := math.Sincos(east)
	n[0], n[2] = float64(c*n[0])-float64(s*n[2]), float64(s*n[0])+float64(c*n[2])
	// About the east axis: what lies north rises.
	s, c = math.Sincos(north)
	n[1], n[2] = float64(c*n[1])-float64(s*n[2]), float64(s*n[1])+float64(c*n[2])
	return n
}

// over is the elevation of the beam over p.
func (b trueBeam) over(p geom.Point) float64 {
	v := p.Sub(b.at)
	plane := -(float64(b.normal[0]*v.X) + float64(b.normal[1]*v.Y)) / b.normal[2]
	return b.height + plane + float64(b.curve*v.Dot(v))
}

// lean is what a rod held out of plumb adds to a height along it, exactly.
func lean(r *Rand, bound, height float64) float64 {
	if bound == 0 {
		return 0
	}
	s := bound / math.Sqrt(3)
	t := math.Sqrt(sq(s*r.Normal()) + sq(s*r.Normal()))
	return height * (1 - math.Cos(t))
}

func sq(x float64) float64 { return float64(x * x) }

// toStep is x on a face of a step.
func toStep(x, step float64) float64 {
	if step == 0 {
		return x
	}
	return math.Round(x/step) * step
}
