package machine

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Stroke is the length of a cylinder between its pins, drawn in and run out.
type Stroke struct{ Shortest, Longest unit.Length }

// Cylinder drives a joint directly: one pin on the part before the joint, one on
// the part after it, both in metres from the joint's own pin in the frame of
// their part (x along the part).
type Cylinder struct {
	Stroke
	Base geom.Vector // on the part before the joint
	Rod  geom.Vector // on the part after it
	// Folds is true where running out folds the joint (the stick), false where
	// it lifts it (the boom).
	Folds bool
}

// Angle is the joint's angle at a cylinder length; NaN for a length that the
// pins cannot take. It is the law of cosines at the joint's pin.
func (c Cylinder) Angle(length unit.Length) unit.Angle {
	base, rod := c.Base.Length(), c.Rod.Length()
	cos := (base*base + rod*rod - float64(length)*float64(length)) / (2 * base * rod)
	between := math.Acos(cos)
	if c.Folds {
		between = -between
	}
	return unit.Angle(wrap(direction(c.Base) + between - direction(c.Rod)))
}

// Length is the cylinder's length at a joint angle, the inverse of Angle.
func (c Cylinder) Length(joint unit.Angle) unit.Length {
	turned := polar(c.Rod.Length(), direction(c.Rod)+float64(joint))
	return unit.Length(turned.Plus(c.Base.Scale(-1)).Length())
}

// Angles is what the joint can do over the stroke; NaN as Angle is.
func (c Cylinder) Angles() Range { return rangeOf(c.Angle(c.Shortest), c.Angle(c.Longest)) }

// FourBar drives the bucket: the cylinder ends at the joint of an idler link
// from the stick and a connecting link to the bucket. Places on the stick are in
// metres from the bucket pin in the stick's frame; Pin is the connecting link's
// pin on the bucket, in the bucket's frame (x along pin to teeth).
type FourBar struct {
	Stroke
	Base, Idler geom.Vector
	IdlerLink   unit.Length
	Connecting  unit.Length
	Pin         geom.Vector
}

// Angle is the bucket's angle to the stick at a cylinder length, the idler's end
// on the upper side; NaN for a length the links cannot take.
func (f FourBar) Angle(length unit.Length) unit.Angle {
	joint := meet(arc{f.Base, float64(length)}, arc{f.Idler, float64(f.IdlerLink)}, true)
	pin := meet(arc{joint, float64(f.Connecting)}, arc{geom.Vector{}, f.Pin.Length()}, true)
	return unit.Angle(f.unwrapped(direction(pin) - direction(f.Pin)))
}

// unwrapped brings a bucket's angle into (π/2 - 2π, π/2]: it folds through more
// than half a turn and never opens as far as a right angle above the stick.
func (f FourBar) unwrapped(g float64) float64 {
	g = wrap(g)
	if g > math.Pi/2 {
		g -= 2 * math.Pi
	}
	return g
}

// Length is the cylinder's length at a bucket angle, the inverse of Angle; NaN
// for an angle the links cannot take.
func (f FourBar) Length(g unit.Angle) unit.Length {
	pin := polar(f.Pin.Length(), direction(f.Pin)+float64(g))
	joint := meet(arc{f.Idler, float64(f.IdlerLink)}, arc{pin, float64(f.Connecting)}, true)
	return unit.Length(joint.Plus(f.Base.Scale(-1)).Length())
}

// Angles is what the bucket can do over the stroke; NaN as Angle is.
func (f FourBar) Angles() Range { return rangeOf(f.Angle(f.Shortest), f.Angle(f.Longest)) }

// arc is a circle.
type arc struct {
	centre geom.Vector
	radius float64
}

// meet is where two circles meet, on the left of the line from one centre to
// the other or on the right; NaN where they do not.
func meet(p, q arc, left bool) geom.Vector {
	between := q.centre.Plus(p.centre.Scale(-1))
	d := between.Length()
	along := (d*d + p.radius*p.radius - q.radius*q.radius) / (2 * d)
	off := math.Sqrt(p.radius*p.radius - along*along)
	if left {
		off = -off
	}
	u := between.Unit()
	return p.centre.Plus(u.Scale(along)).Plus(u.Right().Scale(off))
}

// direction is the angle of a vector.
func direction(v geom.Vector) float64 { return math.Atan2(v.Y, v.X) }

func rangeOf(a, b unit.Angle) Range { return Range{min(a, b), max(a, b)} }
