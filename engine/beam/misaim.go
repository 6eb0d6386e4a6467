package beam

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Misaim is what a mark aimed aside does to the beam, as sizes.
type Misaim struct{ Along, Aside unit.Length }

// MisaimOf is the effect at a point some way along the line of the dial and some
// way off it when the mark is aimed k aside at slope s: s(1 − cos k) × along and
// s·sin k × aside. Never negative; NaN where an input is.
func MisaimOf(s unit.Grade, k unit.Angle, along, aside unit.Length) Misaim {
	steep := math.Abs(float64(s))
	return Misaim{
		Along: unit.Length(math.Abs(float64(along)) * float64(steep*versine(float64(k)))),
		Aside: unit.Length(math.Abs(float64(aside)) * float64(steep*math.Abs(math.Sin(float64(k))))),
	}
}

// oneDegree is the worse of aiming one degree to the left and to the right.
func oneDegree(r Run, pin geom.Point, d Dial) RunEffect {
	worst := RunEffect{Run: r.ID}
	for _, k := range []unit.Angle{-unit.Degree, unit.Degree} {
		e := effect(r, pin, gradientChange(d, d.turned(k)))
		worst.Start = max(worst.Start, unit.Length(math.Abs(float64(e.Start))))
		worst.End = max(worst.End, unit.Length(math.Abs(float64(e.End))))
	}
	return worst
}

// turned is the dial with the mark aimed k further clockwise.
func (d Dial) turned(k unit.Angle) Dial {
	d.Bearing += k
	return d
}
