package draw

import (
	"cmp"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/plan"
)

// mostNeighbours is how many digs a key plan shows beside its own.
const mostNeighbours = 40

// KeyPlan shows where one dig lies: it heavy and named, the set-up that its card
// is for, the benchmarks and the nearest other digs, north up. It has no scale.
func KeyPlan(p *plan.Plan, v Voice, f Frame, dig plan.Dig, setup string) Scene {
	s := &sitePlan{Scene: &Scene{Width: f.Width, Height: f.Height}, p: p, v: v, size: f.Type, frame: f}
	s.labels.scene = s.Scene
	set, placed := p.Setup(setup)
	s.window(dig, set, placed)
	for _, d := range nearest(p.Digs, dig, mostNeighbours) {
		for _, part := range d.Parts {
			ring := s.all(part.Outline)
			s.clipped(Fine, append(ring, ring[0]))
		}
	}
	for _, part := range dig.Parts {
		s.ring(Bottom, Tint, s.all(part.Outline)...)
	}
	s.keyNorth()
	if placed {
		c, k := s.at(set.Plane.At), 0.7*s.size
		s.tripod(penOf(set.State), c, k)
		s.block(around(c, k, 1.5*k))
	}
	s.keyPoints()
	s.avoid(Bottom, Beam, Planned, Ink)
	s.name(Ink, s.things(dig), s.size, dig.Excavation.ID)
	if placed {
		k := s.size
		s.name(penOf(set.State), one(around(s.at(set.Plane.At), k, 1.2*k)), k, set.ID)
	}
	for _, b := range p.Job.Benchmarks {
		if b.Placed {
			s.name(Ink, one(around(s.at(b.At), 0.6*s.size, 0.6*s.size)), 0.9*s.size, b.ID)
		}
	}
	return *s.Scene
}

// window scales the paper to the dig and its set-up with room round them.
func (s *sitePlan) window(dig plan.Dig, set plan.Setup, placed bool) {
	b := digBounds(dig)
	if placed {
		b = b.With(set.Plane.At)
	}
	if b.Empty() {
		b = geom.BoxOf(geom.Point{})
	}
	room := 3.2 * s.size
	s.scale = min((s.Width-2*room)/max(b.Width(), 2), (s.Height-2*room)/max(b.Height(), 2))
	c := b.Centre()
	s.origin = geom.Point{X: c.X - s.Width/2/s.scale, Y: c.Y + s.Height/2/s.scale}
}

// keyNorth is a small arrow in the corner.
func (s *sitePlan) keyNorth() {
	k := 0.8 * s.size
	foot := geom.Point{X: s.Width - 1.6*k, Y: 4.4 * k}
	s.arrow(Ink, foot, geom.Vector{Y: -2.6 * k})
	s.block(geom.BoxOf(geom.Point{X: s.Width - 2.6*k, Y: k}, foot))
	s.write(Ink, Item{Points: []geom.Point{{X: foot.X, Y: foot.Y + 1.3*k}}, Size: s.size, Anchor: Middle, Text: s.v.say("draw.north")})
}

// keyPoints draws the benchmarks that the paper shows.
func (s *sitePlan) keyPoints() {
	k := 0.6 * s.size
	for _, b := range s.p.Job.Benchmarks {
		if c := s.at(b.At); b.Placed && geom.BoxOf(geom.Point{X: k, Y: k}, geom.Point{X: s.Width - k, Y: s.Height - k}).Holds(c) {
			s.ring(Ink, Hollow, c.Add(geom.Vector{Y: -k}), c.Add(geom.Vector{X: 0.9 * k, Y: 0.6 * k}), c.Add(geom.Vector{X: -0.9 * k, Y: 0.6 * k}))
			s.block(around(c, k, k))
		}
	}
}

// nearest are the digs nearest to one, without it, nearest first.
func nearest(digs []plan.Dig, own plan.Dig, most int) []plan.Dig {
	type far struct {
		index int
		away  float64
	}
	c := digBounds(own).Centre()
	order := make([]far, 0, len(digs))
	for i, d := range digs {
		if d.Excavation.ID != own.Excavation.ID && len(d.Parts) > 0 {
			order = append(order, far{i, digBounds(d).Centre().Distance(c)})
		}
	}
	slices.SortFunc(order, func(a, b far) int { return cmp.Or(cmp.Compare(a.away, b.away), a.index-b.index) })
	out := make([]plan.Dig, 0, most)
	for _, o := range order[:min(most, len(order))] {
		out = append(out, digs[o.index])
	}
	return out
}
