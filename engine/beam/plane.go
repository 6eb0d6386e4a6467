package beam

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Instrument is a laser as it stands: where, and what is dialled. Its place
// counts for curvature and, where the height does not come from a backsight,
// for the height of a dialled plane.
type Instrument struct {
	At        geom.Point
	Gradient  geom.Vector // rise of the beam per metre east and north
	Accuracy  unit.Grade  // bound on the error of its plane in any direction
	Curvature Curvature
}

// Plane is the beam of one set-up.
type Plane struct {
	At        geom.Point     // the laser
	HI        unit.Elevation // the beam at the laser
	Gradient  geom.Vector    // rise per metre east and north
	Curvature Curvature
}

// FromHI is the plane with the beam at hi over the laser's own place. Under a
// gradient its heights are only as good as that place; see PositionCounts.
func FromHI(in Instrument, hi unit.Elevation) (Plane, *phrase.Fault) {
	if f := in.check(); f != nil {
		return Plane{}, f
	}
	if f := finite(named{"hi", float64(hi)}); f != nil {
		return Plane{}, f
	}
	return Plane{At: in.At, HI: hi, Gradient: in.Gradient, Curvature: in.Curvature}, nil
}

// FromMeasuredHeight is the plane with the beam measured to stand height over a
// point or datum at the laser's own place.
func FromMeasuredHeight(in Instrument, over unit.Elevation, height unit.Length) (Plane, *phrase.Fault) {
	if f := finite(named{"elevation", float64(over)}, named{"height", float64(height)}); f != nil {
		return Plane{}, f
	}
	return FromHI(in, over.Plus(height))
}

// PositionCounts is the caution that belongs to a dialled plane whose height
// does not come from a backsight read after dialling; zero for a level one.
func (in Instrument) PositionCounts() phrase.Message {
	steepest := in.Gradient.Length()
	if steepest == 0 {
		return phrase.Message{}
	}
	return phrase.New("beam.position_counts", phrase.With("grade", unit.Grade(steepest)))
}

// check refuses figures that are not finite and a negative accuracy.
func (in Instrument) check() *phrase.Fault {
	if f := finite(named{"setup.at", in.At.X}, named{"setup.at", in.At.Y},
		named{"dial.grade", in.Gradient.X}, named{"dial.grade", in.Gradient.Y},
		named{"accuracy", float64(in.Accuracy)}); f != nil {
		return f
	}
	return notNegative(named{"accuracy", float64(in.Accuracy)})
}

// Rise is the beam over the laser's HI at p, curvature included, in metres.
func (pl Plane) Rise(p geom.Point) unit.Length {
	return unit.Length(pl.Gradient.Dot(p.Sub(pl.At))) + pl.Curve(p)
}

// Curve is the part of Rise that curvature and refraction make, ≥ 0.
func (pl Plane) Curve(p geom.Point) unit.Length {
	return unit.Length(pl.Curvature.Drop(p.Distance(pl.At)))
}

// Beam is the elevation of the beam over p: HI + g·(p − At) + c(D). NaN where
// the plane or p is not finite.
func (pl Plane) Beam(p geom.Point) unit.Elevation {
	z := pl.HI.Plus(pl.Rise(p))
	if math.IsInf(float64(z), 0) {
		return unit.Elevation(math.NaN())
	}
	return z
}

// GradeRod is the rod that stands on a bottom at p: Beam(p) − bottom. Negative
// where the beam passes under the bottom; NaN where anything is not finite.
func (pl Plane) GradeRod(p geom.Point, bottom unit.Elevation) unit.Reading {
	rod := unit.Reading(pl.Beam(p).Above(bottom))
	if math.IsInf(float64(rod), 0) {
		return unit.Reading(math.NaN())
	}
	return rod
}

// Foot is the elevation of what a rod stands on at p: Beam(p) − rod.
func (pl Plane) Foot(p geom.Point, rod unit.Reading) unit.Elevation {
	return pl.Beam(p).Plus(unit.Length(-rod))
}
