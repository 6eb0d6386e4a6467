package guard

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/plan"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// What a job does not tell is that of the reference scenario (docs/trust.md): a
// bump a day of 10 mm, 40″ an axis and 1.5° about the plumb line; a slow settling of
// as much over three hours every tenth day; one reading in 500 misread by 50 mm; a
// benchmark moved by 20 mm every fiftieth day, and as seldom one that is not where
// the job has it.
const (
	usualHours   = 8 // of a shift (common practice)
	usualBumps   = 1.0
	usualJump    = 10 * unit.Millimetre
	usualTilt    = unit.Grade(40 * math.Pi / 180 / 3600)
	usualTwist   = 1.5 * unit.Degree
	usualSettles = 0.1
	settleHours  = 3
	usualMisread = unit.Chance(1.0 / 500)
	misreadBy    = 50 * unit.Millimetre
	usualMoved   = 1.0 / 50
	movedBy      = 20 * unit.Millimetre
)

func orElse[T ~float64](told, usual T) T {
	if told > 0 {
		return told
	}
	return usual
}

// hoursOfDay is the length of a day.
func hoursOfDay(p *plan.Plan) float64 { return orElse(p.Job.Closes.Hours, usualHours) }

// habitsOf is what laser, ground and crew are taken to do: a laser that levels
// itself comes back at another height, and under a dialled plane turned; one that
// does not, or whose dialled slope does not, stays tilted.
func habitsOf(p *plan.Plan, l beam.Laser, gradient geom.Vector, points int) watch.Habits {
	r, day := p.Job.Risk, hoursOfDay(p)
	rate := orElse(r.BumpsPerDay, usualBumps) / day
	height, tilt := orElse(r.Jump, usualJump), orElse(r.Tilt, usualTilt)
	b := watch.Bump{Kind: kindOf(l, gradient), Rate: rate, Height: height}
	switch b.Kind {
	case watch.TiltJump:
		b.Tilt = tilt
	case watch.TwistJump:
		b.Twist = orElse(r.Twist, usualTwist)
	}
	h := watch.Habits{
		Bumps: []watch.Bump{b}, SettleRate: orElse(r.SettlingsPerDay, usualSettles) / day, SettleBy: height / settleHours,
		Misread: orElse(r.Misread, usualMisread), MisreadBy: misreadBy,
		Moved: usualMoved / day / float64(max(points, 1)), Wrong: usualMoved, MovedBy: movedBy,
	}
	if b.Kind == watch.TiltJump {
		h.SettleTilt = tilt / settleHours
	}
	if l.Alarm {
		h.Sees, h.Arms = l.AlarmSees, watch.Hours(l.ArmsAfter/3600)
	}
	return h
}

// kindOf is what a bump does to the beam of a laser.
func kindOf(l beam.Laser, gradient geom.Vector) watch.Kind {
	dialled := gradient != geom.Vector{}
	switch {
	case !l.SelfLevels || dialled && l.ManualSlope:
		return watch.TiltJump
	case dialled:
		return watch.TwistJump
	}
	return watch.HeightJump
}

// alarmFrom is the chance of a dig out because of the beam from which numbers go.
func alarmFrom(p *plan.Plan) unit.Chance { return orElse(p.Job.Risk.BeamAlarm, watch.DefaultLimit) }
