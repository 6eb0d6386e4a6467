package draw

import (
	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// sitePlan draws into one scene.
type sitePlan struct {
	*Scene
	labels
	p       *plan.Plan
	v       Voice
	more    Marks
	frame   Frame
	size    float64    // of ids
	origin  geom.Point // site place at the upper left of the frame, local metres
	scale   float64    // millimetres of paper per metre
	written string     // the scale in words
	also    geom.Box   // must be seen too
}

// SitePlan draws digs, set-ups, benchmarks, hubs, services and neighbours over
// the ground, to a usual scale and north up. Where even the smallest scale shows
// too little, what lies outside the frame is cut off.
func SitePlan(p *plan.Plan, v Voice, f Frame) Scene { return MarkedPlan(p, v, f, Marks{}) }

// MarkedPlan is SitePlan with what the sheets of a day add to it.
func MarkedPlan(p *plan.Plan, v Voice, f Frame, m Marks) Scene {
	s := &sitePlan{Scene: &Scene{Width: f.Width, Height: f.Height}, p: p, v: v, size: f.Type, frame: f, more: m, also: geom.EmptyBox()}
	s.labels.scene = s.Scene
	for _, stand := range m.Stands {
		s.also = s.also.With(stand.At)
	}
	s.fit()
	s.everything()
	return *s.Scene
}

// everything draws into the frame at the scale that was chosen.
func (s *sitePlan) everything() {
	s.contours()
	s.zones()
	s.reaches()
	s.neighbours()
	for _, d := range s.p.Digs {
		s.dig(d)
	}
	s.hubs()
	s.north()
	s.bar()
	s.services()
	for _, set := range s.p.Setups {
		s.setup(set)
	}
	s.stands()
	s.points()
	s.avoid(Ink, Bottom, Beam, Planned, Service, Caution)
	s.names()
	s.grid()
	s.contourFigures()
}

// margin is kept free round the site for names, north and the scale bar.
func (s *sitePlan) margin() float64 { return 4 * s.size }

// fit chooses the largest usual scale that shows everything.
func (s *sitePlan) fit() {
	b := s.bounds()
	usual := fitting(s.v.Style.System, []reach{{x: b.Min.X}, {x: b.Max.X}}, b.Height(), s.Width-2*s.margin(), s.Height-2*s.margin()-2*s.size)
	s.scale, s.written = 1000/usual.denominator, usual.words
	c := b.Centre()
	// The site stands a line higher than the middle, over the scale bar.
	s.origin = geom.Point{X: c.X - s.Width/2/s.scale, Y: c.Y + (s.Height/2-s.size)/s.scale}
}

// bounds is the box of what must be seen.
func (s *sitePlan) bounds() geom.Box {
	b := geom.EmptyBox()
	for _, d := range s.p.Digs {
		b = b.Union(digBounds(d))
	}
	for _, set := range s.p.Setups {
		b = b.With(set.Plane.At)
	}
	for _, m := range s.p.Job.Benchmarks {
		if m.Placed {
			b = b.With(m.At)
		}
	}
	for _, k := range s.p.Job.Controls {
		b = b.With(k.At)
	}
	for _, ring := range standing(s.p.Job) {
		b = b.Union(ring.Bounds())
	}
	b = b.Union(s.also)
	if b.Empty() {
		b = geom.BoxOf(geom.Point{})
	}
	return b
}

func digBounds(d plan.Dig) geom.Box {
	b := geom.EmptyBox()
	for _, part := range d.Parts {
		b = b.Union(part.Outline.Bounds())
	}
	return b
}

// at is where a site place stands on the paper.
func (s *sitePlan) at(p geom.Point) geom.Point {
	return geom.Point{X: (p.X - s.origin.X) * s.scale, Y: (s.origin.Y - p.Y) * s.scale}
}

func (s *sitePlan) all(points []geom.Point) []geom.Point {
	out := make([]geom.Point, len(points))
	for i, p := range points {
		out[i] = s.at(p)
	}
	return out
}

// inside says that a place on the paper lies in the frame.
func (s *sitePlan) inside(p geom.Point) bool {
	return p.X >= 0 && p.Y >= 0 && p.X <= s.Width && p.Y <= s.Height
}

// dig draws the dug outline, heavy, and the concrete inside it.
func (s *sitePlan) dig(d plan.Dig) {
	for _, part := range d.Parts {
		s.ring(Bottom, Tint, s.all(part.Outline)...)
		s.ring(Neat, Hollow, s.all(part.Neat)...)
	}
	s.handDig(d)
}

// setup draws a tripod, hollow while it is only planned, and the way its dial
// is aimed.
func (s *sitePlan) setup(set plan.Setup) {
	c, k := s.at(set.Plane.At), s.size*0.8
	pen := penOf(set.State)
	s.tripod(pen, c, k)
	s.block(around(c, k, 1.5*k))
	if set.Plan == nil || set.Dial.IsLevel() {
		return
	}
	mark := set.Dial.Gradient()
	if set.Dial.Grade != 0 {
		along := set.Dial
		along.Cross = 0
		mark = along.Gradient().Scale(1 / float64(set.Dial.Grade))
	}
	v := geom.Vector{X: mark.X, Y: -mark.Y}.Unit().Scale(6 * s.size)
	s.arrow(pen, c.Add(v.Scale(0.25)), v)
}

// penOf is the pen of a set-up's beam.
func penOf(state beam.State) Pen {
	if state == beam.Planned {
		return Planned
	}
	return Beam
}

// penOfFigure is the pen of a number.
func penOfFigure(f Figure) Pen {
	if _, planned := f.(PlannedSum); planned {
		return Planned
	}
	return Beam
}

// points draws benchmarks as survey triangles, control points as crosses.
func (s *sitePlan) points() {
	k := s.size * 0.6
	for _, b := range s.p.Job.Benchmarks {
		if b.Placed {
			c := s.at(b.At)
			s.ring(Ink, Hollow, c.Add(geom.Vector{Y: -k}), c.Add(geom.Vector{X: 0.9 * k, Y: 0.6 * k}), c.Add(geom.Vector{X: -0.9 * k, Y: 0.6 * k}))
			s.block(around(c, k, k))
		}
	}
	for _, m := range s.p.Job.Controls {
		c := s.at(m.At)
		s.line(Ink, c.Add(geom.Vector{X: -k}), c.Add(geom.Vector{X: k}))
		s.line(Ink, c.Add(geom.Vector{Y: -k}), c.Add(geom.Vector{Y: k}))
	}
}

// hubs ticks the station that a hub stands beside. On which side it stands the
// job does not tell, so the stake itself is not drawn.
func (s *sitePlan) hubs() {
	for _, st := range s.p.Stakes {
		if c, across, ok := s.hubAt(st); ok {
			s.line(Ink, c.Add(across), c.Add(across.Scale(-1)))
		}
	}
}

// hubAt is the place on its run that a hub belongs to, and the tick's half.
func (s *sitePlan) hubAt(st plan.Stake) (c geom.Point, across geom.Vector, ok bool) {
	d, _ := s.p.Dig(st.Excavation)
	pt, found := d.StationPoint(st.Station)
	if !st.HasStation || !found {
		return c, across, false
	}
	part, _ := d.Part(pt.Part)
	if len(part.Line) < 2 {
		return c, across, false
	}
	v := part.Line[len(part.Line)-1].Sub(part.Line[0]).Right().Unit()
	return s.at(pt.At), geom.Vector{X: v.X, Y: -v.Y}.Scale(s.size), true
}

// names writes the ids last, so that they keep clear of everything.
func (s *sitePlan) names() {
	k := s.size
	for _, set := range s.p.Setups {
		c := s.at(set.Plane.At)
		s.name(penOf(set.State), one(around(c, k, 1.3*k)), 1.2*k, s.setupName(set))
	}
	for _, b := range s.p.Job.Benchmarks {
		if b.Placed {
			s.name(Ink, one(around(s.at(b.At), 0.6*k, 0.6*k)), k, b.ID)
		}
	}
	for _, d := range s.p.Digs {
		if len(d.Parts) > 0 {
			s.name(Ink, s.things(d), k, d.Excavation.ID)
		}
	}
	for _, m := range s.p.Job.Controls {
		s.name(Ink, one(around(s.at(m.At), 0.6*k, 0.6*k)), 0.85*k, m.ID)
	}
	for _, st := range s.p.Stakes {
		if c, _, ok := s.hubAt(st); ok {
			s.name(Ink, one(around(c, 0.2*k, k)), 0.85*k, st.Hub)
		}
	}
}

// setupName is the tag, with how the beam falls towards its mark.
func (s *sitePlan) setupName(set plan.Setup) string {
	name := set.ID
	if set.State == beam.Planned {
		name += " " + s.v.say("sheet.state_planned")
	}
	g := set.Dial.Grade
	switch {
	case set.Plan == nil || g == 0:
		return name
	case g < 0:
		return name + " " + s.v.say("sheet.falls", phrase.With("grade", -g))
	}
	return name + " " + s.v.say("sheet.rises", phrase.With("grade", g))
}

// things are the boxes on paper that a dig's name may stand beside: all of an
// area or a field, a few places along a run.
func (s *sitePlan) things(d plan.Dig) []geom.Box {
	part := d.Parts[0]
	if !part.Run() || d.Excavation.Count > 1 {
		b := digBounds(d)
		return one(geom.BoxOf(s.at(b.Min), s.at(b.Max)))
	}
	var out []geom.Box
	for _, share := range []unit.Station{0.5, 0.3, 0.7, 0.15, 0.85, 0, 1} {
		p := part.PointAt(part.From + share*(part.To-part.From))
		half := float64(d.Excavation.Width) / 2 * s.scale
		out = append(out, around(s.at(p), half, half))
	}
	return out
}

func one(b geom.Box) []geom.Box { return []geom.Box{b} }

// name writes an id beside its thing; what lies outside the frame has none.
func (s *sitePlan) name(pen Pen, things []geom.Box, size float64, id string) {
	if s.inside(things[0].Centre()) {
		s.putBeside(pen, things, size, id)
	}
}

// SitePlace is the site place, in local metres, that SitePlan draws at a point of
// its paper.
func SitePlace(p *plan.Plan, v Voice, f Frame, on geom.Point) geom.Point {
	s := &sitePlan{Scene: &Scene{Width: f.Width, Height: f.Height}, p: p, v: v, size: f.Type, frame: f, also: geom.EmptyBox()}
	s.fit()
	return geom.Point{X: s.origin.X + on.X/s.scale, Y: s.origin.Y - on.Y/s.scale}
}
