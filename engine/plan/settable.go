package plan

import (
	"spadework/engine/beam"
	"spadework/engine/reception"
	"spadework/engine/siting"
	"spadework/engine/unit"
)

// setting is how near a crew sets a beam to the height it aims at, by legs and
// crank (common practice). A planned set-up must leave as much room both ways.
const setting = unit.Inch

// settable receives only where there is room to set the beam.
type settable struct{ field *reception.Field }

// From is the windows of targets, narrower by the setting at both ends.
func (r settable) From(l reception.Laser, targets []reception.Target, s *reception.Scratch) []reception.Window {
	out := r.field.From(l, targets, s)
	for i := range out {
		w := &out[i]
		if !w.Open() {
			continue
		}
		w.Low, w.High = w.Low.Plus(setting), w.High.Plus(-setting)
		if !w.Open() {
			w.Why = reception.Reason{Kind: reception.NoRoom, By: w.Low.Above(w.High), Guidance: targets[i].Guidance}
		}
	}
	return out
}

// Within is the heights that the targets of each dig share, narrower likewise. A
// window may end beyond the band by the setting, so it is asked for wider.
func (r settable) Within(l reception.Laser, low, high unit.Elevation, digs []reception.Dig, s *reception.Scratch) []reception.Window {
	out := r.field.Within(l, low.Plus(-2*setting), high.Plus(2*setting), digs, s)
	for i := range out {
		w := &out[i]
		w.Low, w.High = max(low, w.Low.Plus(setting)), min(high, w.High.Plus(-setting))
	}
	return out
}

// windowOf is the heights of a planned set-up with that room given back, as far
// as its tripod goes.
func windowOf(s siting.Setup, tripod siting.Place) *beam.Window {
	return &beam.Window{Low: max(tripod.Low, s.Low.Plus(-setting)), High: min(tripod.High, s.High.Plus(setting))}
}
