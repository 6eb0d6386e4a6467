package guard

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// Head is the verdict on the beam in one line.
func (o Beam) Head() phrase.Message {
	key := phrase.Key("guard.head_" + string(o.State))
	if o.Tag.State == record.TagEnded {
		key = "guard.head_ended"
	}
	return phrase.New(key, phrase.With("tag", o.Tag.Tag), phrase.With("point", o.Verdict.Point))
}

// Laser is what a bump does to this laser, and what its alarm tells of it.
func (o Beam) Laser() []phrase.Message {
	if !o.Judged || len(o.Log.Habits.Bumps) == 0 {
		return nil
	}
	h := o.Log.Habits
	key := map[watch.Kind]phrase.Key{watch.HeightJump: "guard.laser_height", watch.TwistJump: "guard.laser_twist", watch.TiltJump: "guard.laser_tilt"}[h.Bumps[0].Kind]
	args := []phrase.Arg{phrase.With("laser", o.Tag.Laser), phrase.With("chance", h.Sees), phrase.With("seconds", int(math.Round(float64(h.Arms)*3600)))}
	out := []phrase.Message{phrase.New(key, args...)}
	if h.Sees > 0 {
		return append(out, phrase.New("guard.laser_alarm", args...))
	}
	return append(out, phrase.New("guard.laser_no_alarm", args...))
}

// leastBy is the departure from which a dig is told to lie high or low: what no rod
// is read to (common practice).
const leastBy = unit.Millimetre

// Text is what the readings say of the dig.
func (d DigRisk) Text() phrase.Message {
	by := max(d.By, -d.By)
	args := []phrase.Arg{phrase.With("dig", d.Excavation), phrase.With("by", by), phrase.With("sigma", 2*d.Sigma), phrase.With("chance", d.Out)}
	switch {
	case !d.Closed:
		return phrase.New("guard.dig_open", args...)
	case d.Moved < leastHappened || by < leastBy:
		return phrase.New("guard.dig_stands", args...)
	case d.By < 0:
		return phrase.New("guard.dig_low", args...)
	}
	return phrase.New("guard.dig_high", args...)
}
