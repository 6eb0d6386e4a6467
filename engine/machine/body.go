package machine

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Type is how a machine stands on the ground.
type Type string

// The types.
const (
	Tracked       Type = "tracked"
	Wheeled       Type = "wheeled"
	BackhoeLoader Type = "backhoe_loader" // digs behind itself, on outriggers
)

// Types lists the types, the default first.
func Types() []Type { return []Type{Tracked, Wheeled, BackhoeLoader} }

// Blade is on which end of the undercarriage a dozer blade is.
type Blade string

// The places of a blade.
const (
	NoBlade    Blade = "none"
	FrontBlade Blade = "front"
	RearBlade  Blade = "rear"
)

// Blades lists the places of a blade, none first.
func Blades() []Blade { return []Blade{NoBlade, FrontBlade, RearBlade} }

// Base is what a machine covers on the ground. Lengths run along the way it
// drives. Zero is not known, but for the blade and the outriggers: none.
type Base struct {
	Length, Width unit.Length // over tracks or wheels
	Behind        unit.Length // of the swing centre: middle of the base to it, + where it lies behind
	TailSwing     unit.Length // radius of the upper structure about the swing centre
	Blade         Blade
	BladeOut      unit.Length // how far the blade stands out beyond the base
	Outriggers    unit.Length // width over the outriggers' feet, 0 none; they stand level with the swing centre
}

// Known says that length and width are known.
func (b Base) Known() bool { return b.Length > 0 && b.Width > 0 }

// Place is where a machine stands: its swing centre and the way it faces.
type Place struct {
	At      geom.Point
	Bearing unit.Angle // the way it drives forward, clockwise from north
}

// forward is the unit vector of the bearing.
func (p Place) forward() geom.Vector {
	sin, cos := math.Sincos(float64(p.Bearing))
	return geom.Vector{X: sin, Y: cos}
}

// Footprint is the ground that tracks or wheels and the blade cover at a place,
// one counter-clockwise rectangle; nil for a base not known.
func (b Base) Footprint(p Place) geom.Ring {
	if !b.Known() {
		return nil
	}
	front, rear := b.Length/2+b.Behind, b.Length/2-b.Behind
	switch b.Blade {
	case FrontBlade:
		front += b.BladeOut
	case RearBlade:
		rear += b.BladeOut
	}
	along := p.forward()
	middle := p.At.Add(along.Scale(float64(front-rear) / 2))
	return geom.Rectangle(middle, along, float64(front+rear), float64(b.Width))
}

// footSize is the side of an outrigger's foot, taken as a square. Assumed by
// this program; common practice 0.3 to 0.5 m.
const footSize = 0.5

// Feet are the outriggers' feet at a place, left then right; nil for none.
func (b Base) Feet(p Place) []geom.Ring {
	if !(b.Outriggers > 0) {
		return nil
	}
	along := p.forward()
	side := along.Right().Scale(float64(b.Outriggers)/2 - footSize/2)
	return []geom.Ring{
		geom.Rectangle(p.At.Add(side.Scale(-1)), along, footSize, footSize),
		geom.Rectangle(p.At.Add(side), along, footSize, footSize),
	}
}

// Swing is which way the arm can turn.
type Swing struct {
	Middle  unit.Angle // of its sector, clockwise from the way the machine faces
	EachWay unit.Angle // from there; half a turn or more is all round
}

// SwingOf is the swing of a type with a limit each way, 0 the usual one: all
// round for an excavator, a quarter turn each way about straight back for a
// backhoe-loader (common practice: 180° to 200° in all).
func SwingOf(t Type, eachWay unit.Angle) Swing {
	s := Swing{EachWay: math.Pi}
	if t == BackhoeLoader {
		s = Swing{Middle: math.Pi, EachWay: math.Pi / 2}
	}
	if eachWay > 0 {
		s.EachWay = eachWay
	}
	return s
}

// AllRound says that the arm turns all round.
func (s Swing) AllRound() bool { return s.EachWay >= math.Pi }

// Turns says that the arm of a machine at a place can point at p; the swing
// centre itself counts as in no direction.
func (s Swing) Turns(p Place, to geom.Point) bool {
	v := to.Sub(p.At)
	if v == (geom.Vector{}) {
		return false
	}
	if s.AllRound() {
		return true
	}
	bearing := math.Atan2(v.X, v.Y)
	off := wrap(bearing - float64(p.Bearing) - float64(s.Middle))
	return math.Abs(off) <= float64(s.EachWay)+angleSlack
}
