package plan

import (
	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Source says what a number is counted from.
type Source string

// The sources.
const (
	FromBeam   Source = "beam"
	FromHub    Source = "hub"
	FromString Source = "string"
	FromTouch  Source = "touch"
)

// Number is what the crew works to at one point of a dig.
type Number struct {
	Excavation string
	dig.NumberPoint
	HasStation bool
	From       Source
	Guidance   beam.Guidance
	Setup      string // tag, "" where no beam is used
	State      beam.State

	Ground *unit.Elevation // existing, nil outside the survey
	Cut    *unit.Length    // Ground − Bottom

	// Of numbers from a beam.
	Beam      unit.Elevation
	Curvature unit.Length
	Rod       unit.Reading // Beam − Bottom; from a touched point, the point − Bottom

	less unit.Elevation // HI − Rod

	Trust Trust

	Stand string    // that it is dug from, "" not planned
	Stage StageName // that ends at the bottom, "" not planned

	Reference          string         // hub or touched point, "" for a beam
	ReferenceElevation unit.Elevation // of Reference
}

// GroundRod is the rod on the ground before digging, nil where either is not
// known.
func (n Number) GroundRod() *unit.Reading {
	if n.From != FromBeam || n.Ground == nil {
		return nil
	}
	rod := unit.Reading(n.Beam.Above(*n.Ground))
	return &rod
}

// Less is what is taken from today's HI to get the rod of a planned number:
// HI − Less = Rod.
func (n Number) Less() unit.Elevation { return n.less }

// Planned says that some number waits for today's height.
func (p *Plan) Planned() bool {
	for _, n := range p.Numbers {
		if n.State == beam.Planned {
			return true
		}
	}
	return false
}

// number gives every dig its numbers from every set-up that serves it.
func (p *Plan) number() *phrase.Fault {
	p.Numbers = make([]Number, 0, len(p.Digs))
	for i := range p.Digs {
		d := &p.Digs[i]
		points := d.Points(p.Job.Interval)
		serving, fits := p.serving(d, points)
		if !fits {
			p.noteAside(d.Excavation.ID, serving)
		}
		before := len(p.Numbers)
		var left []dig.NumberPoint
		for _, pt := range points {
			if !p.numberPoint(d, pt, serving) {
				left = append(left, pt)
			}
		}
		p.fromHubs(d)
		if len(left) > 0 {
			p.Unserved = append(p.Unserved, p.whyUnserved(d, left, len(p.Numbers) > before))
		}
	}
	return nil
}

// numberPoint gives a point its numbers and says whether it needs no more: it
// has one, or no set-up wants one there.
func (p *Plan) numberPoint(d *Dig, pt dig.NumberPoint, serving []serves) bool {
	wanted, given := len(serving) == 0 && pt.Kind != dig.Corner, false
	for _, s := range serving {
		if !s.takes(pt) {
			continue
		}
		wanted = true
		if !s.setup.isFor(d, pt) {
			continue
		}
		if s.setup.reaches(pt).IsZero() {
			p.Numbers = append(p.Numbers, p.fromBeam(d, pt, s.setup))
			given = true
		}
	}
	if n, ok := p.fromTouch(d, pt); ok {
		p.Numbers = append(p.Numbers, n)
		given = true
	}
	return given || !wanted
}

// row is what a number has from its point whatever it is counted from.
func (p *Plan) row(d *Dig, pt dig.NumberPoint) Number {
	n := Number{Excavation: d.Excavation.ID, NumberPoint: pt, HasStation: onLine(pt.Kind), State: beam.Live}
	if g := p.Job.Existing; g != nil {
		if z, ok := g.Height(pt.At); ok {
			ground := unit.Elevation(z)
			cut := ground.Above(pt.Bottom)
			n.Ground, n.Cut = &ground, &cut
		}
	}
	return n
}

// onLine says that points of a kind lie at a station of a run.
func onLine(k dig.PointKind) bool { return k != dig.Centre && k != dig.Corner && k != dig.Outlet }

// fromBeam is the rod at a point from a set-up.
func (p *Plan) fromBeam(d *Dig, pt dig.NumberPoint, s *Setup) Number {
	n := p.row(d, pt)
	n.From, n.Setup, n.State, n.Guidance = FromBeam, s.ID, s.State, s.Guidance
	n.Beam = s.Plane.Beam(pt.At)
	n.Curvature = s.Plane.Curve(pt.At)
	n.Rod = s.Plane.GradeRod(pt.At, pt.Bottom)
	n.less = pt.Bottom.Plus(-s.Plane.Rise(pt.At))
	return n
}

// fromTouch is the depth under the nearest hard point, for sensors that are
// zeroed by touching one.
func (p *Plan) fromTouch(d *Dig, pt dig.NumberPoint) (Number, bool) {
	if len(p.Job.Machines) == 0 || p.Job.Machines[0].Guidance != beam.SensorsTouch || pt.Kind == dig.Corner {
		return Number{}, false
	}
	best := -1
	for i, b := range p.Job.Benchmarks {
		if !b.Hard || !b.Placed {
			continue
		}
		if best < 0 || b.At.Distance(pt.At) < p.Job.Benchmarks[best].At.Distance(pt.At) {
			best = i
		}
	}
	if best < 0 {
		return Number{}, false
	}
	b := p.Job.Benchmarks[best]
	n := p.row(d, pt)
	n.From, n.Guidance = FromTouch, beam.SensorsTouch
	n.Reference, n.ReferenceElevation = b.ID, b.Elevation
	n.Rod = unit.Reading(beam.TouchDepth(b.Elevation, pt.Bottom))
	return n, true
}

// fromHubs adds the numbers that hubs and strings beside a dig give.
func (p *Plan) fromHubs(d *Dig) {
	for _, s := range p.Stakes {
		if s.Excavation != d.Excavation.ID {
			continue
		}
		n := p.row(d, s.point)
		n.From, n.Guidance = FromHub, beam.NoBeam
		if s.String > 0 {
			n.From = FromString
		}
		n.Reference, n.ReferenceElevation = s.Hub, s.HubElevation
		n.Rod = unit.Reading(s.Cut())
		p.Numbers = append(p.Numbers, n)
	}
}

// serves is a set-up that gives a dig its numbers; an area under a plane that
// is not parallel to its bottom takes them at the corners.
type serves struct {
	setup   *Setup
	corners map[string]bool // parts that need a number at every corner
}

// takes says whether a number is wanted at a point under this set-up.
func (s serves) takes(pt dig.NumberPoint) bool {
	switch pt.Kind {
	case dig.Centre:
		return !s.corners[pt.Part]
	case dig.Corner:
		return s.corners[pt.Part]
	}
	return true
}

// serving picks the set-ups for a dig: all that reach some of it with a level
// beam or one parallel to its bottom; where there is none, all that reach it at
// all, and fits is false.
func (p *Plan) serving(d *Dig, points []dig.NumberPoint) (serving []serves, fits bool) {
	var fit, rest []serves
	for i := range p.Setups {
		s := &p.Setups[i]
		if !s.meantFor(d.Excavation.ID) || !s.reachesAny(points) {
			continue
		}
		corners := s.cornersOf(d)
		one := serves{setup: s, corners: corners}
		if s.Level() || s.parallel(d, corners) {
			fit = append(fit, one)
		} else {
			rest = append(rest, one)
		}
	}
	if len(fit) > 0 {
		return fit, true
	}
	return rest, len(rest) == 0
}

// noteAside remembers a dig that only planes aside of its bottom reach.
func (p *Plan) noteAside(id string, serving []serves) {
	for _, s := range serving {
		s.setup.aside = append(s.setup.aside, id)
	}
}

// cornersOf is the areas of a dig that have no one rod under the beam.
func (s *Setup) cornersOf(d *Dig) map[string]bool {
	if s.Level() {
		return nil
	}
	out := map[string]bool{}
	for _, part := range d.Parts {
		if part.Run() {
			continue
		}
		box := part.Outline.Bounds()
		fits, _, f := beam.LevelUnder(s.Plane, unit.Length(box.Min.Distance(box.Max)), d.band())
		if f != nil || !fits {
			out[part.ID] = true
		}
	}
	return out
}

// parallel says that every part of a dig has one rod under the beam.
func (s *Setup) parallel(d *Dig, corners map[string]bool) bool {
	for _, part := range d.Parts {
		if !part.Run() {
			if corners[part.ID] {
				return false
			}
			continue
		}
		check, f := beam.OneRod(s.Plane, runOf(*d, part), d.band().Share(beam.ToleranceShare))
		if f != nil || !check.Fits {
			return false
		}
	}
	return true
}

// isFor says that a set-up is not planned for other points.
func (s *Setup) isFor(d *Dig, pt dig.NumberPoint) bool {
	return !s.sited || s.spots[spot{d.Excavation.ID, pt.Part, pt.Name}]
}

// reachesAny says that the set-up gives a number somewhere.
func (s *Setup) reachesAny(points []dig.NumberPoint) bool {
	for _, pt := range points {
		if s.reaches(pt).IsZero() {
			return true
		}
	}
	return false
}

// reaches says why the beam gives no number at a point, zero if it does.
func (s *Setup) reaches(pt dig.NumberPoint) phrase.Message {
	if !s.Known {
		return phrase.New("plan.unserved_no_height", phrase.With("setup", s.ID))
	}
	if far := unit.Length(pt.At.Distance(s.Plane.At)); far > s.Laser.Range {
		return phrase.New("plan.unserved_far", phrase.With("setup", s.ID),
			phrase.With("distance", far), phrase.With("range", s.Laser.Range))
	}
	rod := s.Plane.GradeRod(pt.At, pt.Bottom)
	if s.Guidance == beam.ByRod {
		if why := s.Rod.Reaches(rod); !why.IsZero() {
			return phrase.New("plan.unserved_rod", phrase.With("setup", s.ID), phrase.With("why", why))
		}
		return phrase.Message{}
	}
	if rod < 0 {
		return phrase.New("plan.unserved_under", phrase.With("setup", s.ID), phrase.With("under", unit.Length(-rod)))
	}
	if m := s.Machine; s.Guidance == beam.StickReceiver && m != nil && m.Clamp[1] > 0 {
		if h := unit.Length(rod); h < m.Clamp[0] || h > m.Clamp[1] {
			return phrase.New("plan.unserved_clamp", phrase.With("setup", s.ID), phrase.With("height", h),
				phrase.With("low", m.Clamp[0]), phrase.With("high", m.Clamp[1]))
		}
	}
	return phrase.Message{}
}

// whyUnserved gathers the reasons of all set-ups for points without a number,
// as far as the first of them goes. partly says that other points have one.
func (p *Plan) whyUnserved(d *Dig, left []dig.NumberPoint, partly bool) Unserved {
	out := Unserved{Excavation: d.Excavation.ID}
	var reasons []phrase.Message
	for i := range p.Setups {
		s := &p.Setups[i]
		if m := s.reaches(left[0]); s.meantFor(d.Excavation.ID) && !m.IsZero() {
			reasons = append(reasons, m)
		}
	}
	if m := p.noPlace(d); !m.IsZero() {
		reasons = append(reasons, m)
	} else if len(reasons) == 0 && !p.needs.IsZero() {
		reasons = append(reasons, p.needs)
	}
	out.Reason = phrase.New("plan.unserved", phrase.With("reasons", reasons))
	if len(reasons) == 0 {
		out.Reason = phrase.New("plan.unserved_no_setup")
	}
	if partly {
		out.Part = left[0].Part
		out.Reason = phrase.New("plan.unserved_partly", phrase.With("count", len(left)),
			phrase.With("part", left[0].Part), phrase.With("point", left[0].Name), phrase.With("reason", out.Reason))
	}
	return out
}

// noPlace is why no set-up could be planned for a dig, zero where none was
// wanted.
func (p *Plan) noPlace(d *Dig) phrase.Message {
	if m, ok := p.undialled[d.Excavation.ID]; ok {
		return phrase.New("plan.site_undialled", phrase.With("why", m))
	}
	if p.Siting != nil {
		return p.Siting.misses[d.Excavation.ID]
	}
	return phrase.Message{}
}

// guidance is how the crew comes down to its numbers: that of the first machine.
func (p *Plan) guidance() beam.Guidance {
	if len(p.Job.Machines) > 0 {
		return p.Job.Machines[0].Guidance
	}
	return beam.ByRod
}
