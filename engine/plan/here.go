package plan

import (
	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// Here is what a laser at a place serves.
type Here struct {
	At     geom.Point // local
	HI     *unit.Elevation
	Tripod *beam.Window // the heights that its tripod can set, nil where the ground is not known
	Rod    beam.Rod
	Cells  []HereCell
	Marks  []HereMark
}

// HereCell is a dig, or a part of a long one, seen from a place.
type HereCell struct {
	Excavation string
	Run        bool          // a stretch from First to Last; else an area as a whole
	First      Number        // without a rod
	Last       Number        // likewise
	Windows    []beam.Window // of beam heights that serve it, rising; none: Why tells
	Why        phrase.Message
	Numbers    []Number // at HI, none where it is not served there
	Dialled    bool     // under a plane dialled for one rod
}

// HereMark is a benchmark seen from a place.
type HereMark struct {
	Benchmark string
	Window    *beam.Window // beam heights at which its rod can be read, nil: none
	Rod       unit.Reading // at HI
	Read      bool         // at HI it can be
}

// Here tells what a laser at a place, in job coordinates, serves: at which beam
// heights, and at hi where that is given. needs says what the job must tell
// first.
func (p *Plan) Here(at geom.Point, hi *unit.Elevation) (h *Here, needs phrase.Message, f *phrase.Fault) {
	s, needs, f := p.newSites()
	if s == nil {
		return nil, needs, f
	}
	origin := p.Job.Origin.Job(geom.Point{})
	h = &Here{At: geom.Point{X: at.X - origin.X, Y: at.Y - origin.Y}, HI: hi, Rod: s.crew.rod}
	if pl, ok := s.grounds.tripod(h.At); ok {
		h.Tripod = &beam.Window{Low: pl.Low, High: pl.High}
	}
	for i := range s.cells {
		h.Cells = append(h.Cells, s.seen(&s.cells[i], h))
	}
	var scratch reception.Scratch
	laser := reception.Laser{At: h.At}
	for i, t := range s.benchmarks() {
		m := HereMark{Benchmark: s.marks[i].ID}
		if w := s.field.From(laser, []reception.Target{t}, &scratch)[0]; w.Open() {
			m.Window = &beam.Window{Low: w.Low, High: w.High}
			m.Read = hi != nil && w.Holds(*hi)
		}
		if hi != nil {
			m.Rod = s.standing(h.At, geom.Vector{}, *hi).Plane.GradeRod(t.At, t.Bottom)
		}
		h.Marks = append(h.Marks, m)
	}
	return h, phrase.Message{}, nil
}

// standing is a set-up of the job's laser as it would stand.
func (s *sites) standing(at geom.Point, gradient geom.Vector, hi unit.Elevation) *Setup {
	set := &Setup{Laser: s.laser, source: job.Setup{At: at, Laser: s.laser.ID, Rod: s.crew.rod.ID}}
	s.p.equip(set)
	set.State, set.Known = beam.Live, true
	set.Plane = beam.Plane{At: at, Gradient: gradient, HI: hi, Curvature: s.p.Job.Curvature}
	return set
}

// seen is a cell from a place.
func (s *sites) seen(c *cell, h *Here) HereCell {
	first, last := s.p.row(c.dig, c.points[0]), s.p.row(c.dig, c.points[len(c.points)-1])
	out := HereCell{Excavation: c.dig.Excavation.ID, Run: first.HasStation, First: first, Last: last}
	if len(c.gradients) == 0 {
		out.Why = phrase.New("plan.here_undialled", phrase.With("why", s.undialled[out.Excavation]))
		return out
	}
	laser := reception.Laser{At: h.At, Gradient: s.gradients[c.gradients[0]].gradient}
	out.Dialled = laser.Gradient != geom.Vector{}
	targets, any := s.crew.targets(s.field, c)
	var scratch reception.Scratch
	windows := s.field.From(laser, targets, &scratch)
	out.Windows = together(windows, any)
	if len(out.Windows) == 0 {
		out.Why = s.whyHere(laser, targets, windows)
		return out
	}
	if h.HI == nil {
		return out
	}
	for _, w := range out.Windows {
		if w.Low <= *h.HI && *h.HI <= w.High {
			out.Numbers = s.numbersAt(c, s.standing(h.At, laser.Gradient, *h.HI))
			return out
		}
	}
	for _, t := range targets {
		if why := s.field.Why(laser, *h.HI, t); why.Kind != reception.Served {
			out.Why = s.p.reasonText(why)
			break
		}
	}
	return out
}

// numbersAt are the rods of a cell from a set-up.
func (s *sites) numbersAt(c *cell, set *Setup) []Number {
	var out []Number
	one := serves{setup: set, corners: set.cornersOf(c.dig)}
	for _, pt := range c.points {
		if pt.Kind != dig.Outlet && one.takes(pt) {
			out = append(out, s.p.fromBeam(c.dig, pt, set))
		}
	}
	return out
}

// together is the heights at which a cell is served: those that all of its
// windows hold, or where any one is enough each of them.
func together(windows []reception.Window, any bool) []beam.Window {
	var out []beam.Window
	for i, w := range windows {
		switch {
		case any && w.Open():
			out = append(out, beam.Window{Low: w.Low, High: w.High})
		case !any && i == 0:
			out = append(out, beam.Window{Low: w.Low, High: w.High})
		case !any:
			out[0] = beam.Window{Low: max(out[0].Low, w.Low), High: min(out[0].High, w.High)}
		}
	}
	if !any && len(out) > 0 && !(out[0].Low <= out[0].High) {
		return nil
	}
	return out
}

// whyHere is why no height serves a cell from a place.
func (s *sites) whyHere(l reception.Laser, targets []reception.Target, windows []reception.Window) phrase.Message {
	for _, w := range windows {
		if !w.Open() {
			return s.p.reasonText(w.Why)
		}
	}
	var scratch reception.Scratch
	if len(targets) == 0 {
		return phrase.New("plan.site_no_place")
	}
	return s.p.reasonText(s.field.Digs(l, []reception.Dig{{Targets: targets}}, &scratch)[0].Why)
}

// reasonText is a reason with its place in job coordinates.
func (p *Plan) reasonText(r reception.Reason) phrase.Message {
	r.At = p.Job.Origin.Job(r.At)
	return r.Message()
}
