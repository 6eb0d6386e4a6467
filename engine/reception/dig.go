package reception

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Digs is the window of each dig from one laser, in s until it is used again: the
// heights that serve all its targets. Of a dig that no height serves, Why is the
// reason of its first target without a window, else Apart. A dig without targets
// is served at every height.
func (f *Field) Digs(l Laser, digs []Dig, s *Scratch) []Window {
	s.digs = s.digs[:0]
	at := f.stand(&l)
	for i := range digs {
		s.digs = append(s.digs, at.dig(digs[i].Targets, s))
	}
	return s.digs
}

// dig is the window of targets that must all be served.
func (a *stand) dig(targets []Target, s *Scratch) Window {
	out := Window{Low: unit.Elevation(math.Inf(-1)), High: unit.Elevation(math.Inf(1))}
	lowest, highest := 0, 0 // the targets that set the ends
	for i := range targets {
		w := a.window(&targets[i], s, false).Window
		if !w.Open() {
			w.Why.Point = i
			return w
		}
		if w.Low > out.Low {
			out.Low, lowest = w.Low, i
		}
		if w.High < out.High {
			out.High, highest = w.High, i
		}
	}
	if !out.Open() {
		out.Why = Reason{Kind: Apart, By: unit.Length(out.Low - out.High), At: targets[lowest].At,
			Point: lowest, Other: highest, Guidance: targets[lowest].Guidance}
	}
	return out
}

// WhyDig is the reason why the beam at height h does not serve the dig, of its
// first target that it does not; the zero Reason if it serves all.
func (f *Field) WhyDig(l Laser, h unit.Elevation, d Dig) Reason {
	for i, t := range d.Targets {
		if why := f.Why(l, h, t); why.Kind != Served {
			why.Point = i
			return why
		}
	}
	return Reason{}
}

// Foot is a target whose receiver is at a height over the ground at a place: the
// tie of a machine's sensors at its stand. ok is false outside the survey.
func (f *Field) Foot(at geom.Point, lowest, highest unit.Length) (t Target, ok bool) {
	z, ok := f.asked.Height(at)
	return Target{At: at, Bottom: unit.Elevation(z), Lowest: lowest, Highest: highest, Guidance: beam.SensorsBeam}, ok
}
