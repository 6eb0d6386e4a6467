package beam

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Dial is how a laser is turned and sloped.
type Dial struct {
	Towards string     // the stake its mark is aimed at; "" for a bearing
	Bearing unit.Angle // of the mark, clockwise from north
	Grade   unit.Grade // rise towards the mark
	Cross   unit.Grade // rise to the right of the mark
}

// Gradient is the rise of the beam per metre east and north:
// grade·(sin b, cos b) + cross·(cos b, −sin b).
func (d Dial) Gradient() geom.Vector {
	axis := along(d.Bearing)
	return axis.Scale(float64(d.Grade)).Plus(axis.Right().Scale(float64(d.Cross)))
}

// DialOf is the dial of a gradient with the mark on a bearing; it undoes
// Dial.Gradient.
func DialOf(gradient geom.Vector, bearing unit.Angle) Dial {
	axis := along(bearing)
	return Dial{
		Bearing: bearing,
		Grade:   unit.Grade(gradient.Dot(axis)),
		Cross:   unit.Grade(gradient.Dot(axis.Right())),
	}
}

// IsLevel says that nothing is dialled.
func (d Dial) IsLevel() bool { return d.Grade == 0 && d.Cross == 0 }

// Bearing is the direction from p to q, clockwise from north, in [0, 2π); 0
// where they are one point.
func Bearing(p, q geom.Point) unit.Angle {
	v := q.Sub(p)
	b := math.Atan2(v.X, v.Y)
	if b < 0 {
		b += 2 * math.Pi
	}
	return unit.Angle(b)
}

// along is the unit vector on a bearing.
func along(bearing unit.Angle) geom.Vector {
	sin, cos := math.Sincos(float64(bearing))
	return geom.Vector{X: sin, Y: cos}
}

// Aim is what the laser's mark is turned to: a stake, seen from the laser, or a
// bearing.
type Aim struct {
	Mark    string     // the stake's id; "" takes Bearing
	At      geom.Point // of the stake
	From    geom.Point // the laser
	Bearing unit.Angle
}

// Direction is the bearing of the mark.
func (a Aim) Direction() unit.Angle {
	if a.Mark == "" {
		return a.Bearing
	}
	return Bearing(a.From, a.At)
}

// check refuses an aim that gives no direction.
func (a Aim) check() *phrase.Fault {
	if a.Mark == "" {
		return finite(named{"dial.bearing", float64(a.Bearing)})
	}
	if f := finite(named{"stake.at", a.At.X}, named{"stake.at", a.At.Y},
		named{"setup.at", a.From.X}, named{"setup.at", a.From.Y}); f != nil {
		return f
	}
	if a.At == a.From {
		return phrase.NewFault(phrase.New("beam.aim_at_itself", phrase.With("mark", a.Mark)),
			phrase.New("beam.aim_at_itself_remedy"))
	}
	return nil
}

// Text is the dial as the crew is told it, with the figures this laser shows:
// "aim the mark at T4; the beam must fall 2.18 % towards it; on this laser −2.180".
func (d Dial) Text(l Laser) phrase.Message {
	aim := phrase.New("beam.aim_bearing", phrase.With("bearing", d.Bearing))
	if d.Towards != "" {
		aim = phrase.New("beam.aim_mark", phrase.With("mark", d.Towards))
	}
	shown := l.Shows(d)
	args := []phrase.Arg{
		phrase.With("aim", aim), phrase.With("way", towardsText(d.Grade)),
		phrase.With("shown", keyed(shown.Grade)),
	}
	if d.Cross == 0 {
		return phrase.New("beam.dial_one", args...)
	}
	return phrase.New("beam.dial_two", append(args, phrase.With("cross", crossText(d.Cross)),
		phrase.With("shown_cross", keyed(shown.Cross)))...)
}

// towardsText says what the beam does towards the mark.
func towardsText(g unit.Grade) phrase.Message {
	switch {
	case g < 0:
		return phrase.New("beam.falls_towards", phrase.With("grade", -g))
	case g > 0:
		return phrase.New("beam.rises_towards", phrase.With("grade", g))
	}
	return phrase.New("beam.level_towards")
}

// crossText says what the beam does to the right of the mark.
func crossText(g unit.Grade) phrase.Message {
	if g < 0 {
		return phrase.New("beam.falls_right", phrase.With("grade", -g))
	}
	return phrase.New("beam.rises_right", phrase.With("grade", g))
}

// keyed is a figure with the sign to key.
func keyed(g unit.Grade) phrase.Message {
	switch {
	case g < 0:
		return phrase.New("beam.key_minus", phrase.With("grade", unit.Keyed(-g)))
	case g > 0:
		return phrase.New("beam.key_plus", phrase.With("grade", unit.Keyed(g)))
	}
	return phrase.New("beam.key_zero", phrase.With("grade", unit.Keyed(g)))
}
