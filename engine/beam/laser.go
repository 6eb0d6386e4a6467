package beam

import (
	"math"

	"spadework/engine/level"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Way is up or down.
type Way uint8

// The ways.
const (
	Up Way = iota
	Down
)

// GradeRange is the figures a laser takes on one axis, with the sign it shows.
type GradeRange struct{ Min, Max unit.Grade }

// Laser is a rotating laser as its papers describe it.
type Laser struct {
	ID       string
	Accuracy unit.Grade  // bound on the error of its plane in any direction, ≥ 0
	Range    unit.Length // radius in which it is received
	Axes     int         // 0 level only, 1 along the mark, 2 also across it
	Steepest [2]GradeRange
	// Step is the smallest change of the dial; 0 is a dial without steps.
	Step        unit.Grade
	PlusMeans   Way  // where the beam goes towards the mark when + is keyed
	ManualSlope bool // a dialled slope does not level itself again
	SelfLevels  bool
	Alarm       bool
	ArmsAfter   float64        // seconds until the alarm watches, ≥ 0
	AlarmSees   unit.Chance    // share of bumps that its alarm tells, 0 not told: none is counted on
	Heights     [2]unit.Length // lowest and highest beam over its foot

	GradeAccuracy unit.Grade        // bound on the error of a dialled grade, ≥ 0
	Check         *level.LaserCheck // its own four-direction check, nil not made
	CheckSigma    unit.Grade        // standard deviation of what Check found, ≥ 0
	Checked       string            // day of its last check, ISO 8601, "" not told
}

// Shown is the pair of figures to key on a laser, with the sign it wants.
type Shown struct{ Grade, Cross unit.Grade }

// Shows is what a dial reads on this laser.
func (l Laser) Shows(d Dial) Shown {
	if l.PlusMeans == Down {
		return Shown{Grade: 0 - d.Grade, Cross: 0 - d.Cross}
	}
	return Shown{Grade: d.Grade, Cross: d.Cross}
}

// Round is the dial to the laser's step, halves away from zero.
func (l Laser) Round(d Dial) Dial {
	d.Grade = unit.Grade(roundTo(float64(d.Grade), float64(l.Step)))
	d.Cross = unit.Grade(roundTo(float64(d.Cross), float64(l.Step)))
	return d
}

// Takes is nil if the laser can be dialled to d, else the fault that says which
// figure it refuses and why.
func (l Laser) Takes(d Dial) *phrase.Fault {
	if f := finite(named{"dial.bearing", float64(d.Bearing)}, named{"dial.grade", float64(d.Grade)},
		named{"dial.cross", float64(d.Cross)}); f != nil {
		return f
	}
	shown := l.Shows(d)
	if f := l.takesAxis(0, shown.Grade, phrase.New("beam.axis_along")); f != nil {
		return f
	}
	return l.takesAxis(1, shown.Cross, phrase.New("beam.axis_cross"))
}

// takesAxis checks one figure against one axis.
func (l Laser) takesAxis(axis int, shown unit.Grade, name phrase.Message) *phrase.Fault {
	if shown == 0 {
		return nil
	}
	if l.Axes <= axis {
		return phrase.NewFault(
			phrase.New("beam.axis_missing", phrase.With("laser", l.ID), phrase.With("axis", name),
				phrase.With("grade", shown), phrase.With("count", l.Axes)),
			phrase.New("beam.axis_missing_remedy"))
	}
	r := l.Steepest[axis]
	if shown >= r.Min && shown <= r.Max {
		return nil
	}
	return phrase.NewFault(
		phrase.New("beam.too_steep", phrase.With("laser", l.ID), phrase.With("axis", name),
			phrase.With("grade", shown), phrase.With("min", r.Min), phrase.With("max", r.Max)),
		phrase.New("beam.too_steep_remedy"))
}

// roundTo is x to the nearest multiple of step, halves away from zero; x itself
// where step is not positive.
func roundTo(x, step float64) float64 {
	if !(step > 0) {
		return x
	}
	return float64(math.Round(x/step) * step)
}
