package machine

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Range is the least and the greatest of something, Low ≤ High.
type Range struct{ Low, High unit.Angle }

// holds says that v is in the range to angleSlack.
func (r Range) holds(v float64) bool {
	return v >= float64(r.Low)-angleSlack && v <= float64(r.High)+angleSlack
}

// angleSlack is what rounding leaves of an angle that is a limit: a hundred
// times what float64 loses over the few operations between.
const angleSlack = 1e-9

// Linkage is the arm between its pins, with what its joints can do.
type Linkage struct {
	Boom, Stick, Bucket unit.Length // between pins; the bucket to the teeth
	FootForward         unit.Length // of the boom foot pin before the swing centre
	FootHeight          unit.Length // of the boom foot pin over the ground
	BoomAngles          Range       // a
	StickAngles         Range       // b, between -π and 0
	BucketAngles        Range       // g
}

// Pose is the three joint angles.
type Pose struct{ Boom, Stick, Bucket unit.Angle }

// Absolute is the bucket's angle from horizontal, pin to teeth.
func (p Pose) Absolute() unit.Angle { return p.Boom + p.Stick + p.Bucket }

// Teeth are where a pose puts the teeth and at what angle from the bucket pin.
type Teeth struct {
	X     unit.Length // from the boom foot pin, forward
	Y     unit.Length // over the boom foot pin
	Angle unit.Angle  // of the bucket from horizontal, pin to teeth
}

// Forward is the place of the teeth of a pose, whether or not the joints can
// take it: x = L1 cos a + L2 cos(a+b) + L3 cos(a+b+g), y likewise with sin.
func (l Linkage) Forward(p Pose) Teeth {
	a, ab, th := float64(p.Boom), float64(p.Boom+p.Stick), float64(p.Absolute())
	w := polar(float64(l.Boom), a).Plus(polar(float64(l.Stick), ab)).Plus(polar(float64(l.Bucket), th))
	return Teeth{unit.Length(w.X), unit.Length(w.Y), unit.Angle(th)}
}

// Inverse is the pose, stick folded down, that puts the teeth at a place and
// angle; ok is false where the arm is too short or too long for it, or a joint
// would pass its limits. b comes from the law of cosines, never above 0.
func (l Linkage) Inverse(t Teeth) (p Pose, ok bool) {
	p, ok = l.pose(t)
	return p, ok && l.allows(p)
}

// pose is Inverse without the limits of the joints.
func (l Linkage) pose(t Teeth) (p Pose, ok bool) {
	w := geom.Vector{X: float64(t.X), Y: float64(t.Y)}.Plus(polar(-float64(l.Bucket), float64(t.Angle)))
	l1, l2 := float64(l.Boom), float64(l.Stick)
	c := (w.Dot(w) - l1*l1 - l2*l2) / (2 * l1 * l2)
	if !(c >= -1-angleSlack && c <= 1+angleSlack) {
		return Pose{}, false
	}
	b := -math.Acos(max(-1, min(1, c)))
	a := math.Atan2(w.Y, w.X) - math.Atan2(l2*math.Sin(b), l1+l2*math.Cos(b))
	a, g := wrap(a), wrap(float64(t.Angle)-a-b)
	return Pose{unit.Angle(a), unit.Angle(b), unit.Angle(l.BucketAngles.nearest(g))}, true
}

// nearest is g or g a full turn away, whichever is in the range: buckets turn
// through more than half a turn, so that their angle passes ±π.
func (r Range) nearest(g float64) float64 {
	for _, turned := range []float64{g, g - 2*math.Pi, g + 2*math.Pi} {
		if r.holds(turned) {
			return turned
		}
	}
	return g
}

// allows says that every joint can take its angle.
func (l Linkage) allows(p Pose) bool {
	return l.BoomAngles.holds(float64(p.Boom)) && l.StickAngles.holds(float64(p.Stick)) && l.BucketAngles.holds(float64(p.Bucket))
}

// polar is the vector of a length at an angle.
func polar(length, angle float64) geom.Vector {
	sin, cos := math.Sincos(angle)
	return geom.Vector{X: length * cos, Y: length * sin}
}

// wrap brings an angle into (-π, π].
func wrap(a float64) float64 {
	for a > math.Pi {
		a -= 2 * math.Pi
	}
	for a <= -math.Pi {
		a += 2 * math.Pi
	}
	return a
}
