package draw

import (
	"math"
	"strconv"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
)

// hatches is how many strokes a place has that serves all there is.
const hatches = 4

// ReachMap shows the site with what each place would serve if the laser stood
// there: as a figure where there is room, and as strokes, none for nothing, four
// for all there is.
func ReachMap(p *plan.Plan, v Voice, f Frame, m plan.ReachMap) Scene {
	s := &sitePlan{Scene: &Scene{Width: f.Width, Height: f.Height}, p: p, v: v, size: f.Type, frame: f, also: geom.EmptyBox()}
	s.labels.scene = s.Scene
	for _, r := range m.Places {
		s.also = s.also.With(r.At)
	}
	s.fit()
	s.contours()
	s.neighbours()
	for _, d := range p.Digs {
		s.dig(d)
	}
	s.north()
	s.bar()
	for _, set := range p.Setups {
		s.setup(set)
	}
	s.points()
	s.avoid(Ink, Bottom, Beam, Planned, Service, Caution)
	s.names()
	s.served(m)
	s.edge(Item{Points: []geom.Point{{X: s.size, Y: 1.4 * s.size}}, Size: 0.8 * s.size, Anchor: Start,
		Text: s.v.say("draw.reach_map", phrase.With("count", m.Cells))})
	return *s.Scene
}

// served draws the strokes and figures of the places.
func (s *sitePlan) served(m plan.ReachMap) {
	side := float64(m.Spacing) * s.scale
	for _, r := range m.Places {
		c := s.at(r.At)
		if !s.inside(c) || m.Cells == 0 {
			continue
		}
		strokes := int(math.Ceil(hatches * float64(r.Cells) / float64(m.Cells)))
		for k := range strokes {
			y := c.Y + side*(float64(k+1)/(hatches+1)-0.5)
			s.line(Reach, geom.Point{X: c.X - 0.38*side, Y: y}, geom.Point{X: c.X + 0.38*side, Y: y})
		}
		size := min(0.7*s.size, 0.45*side)
		it := Item{Points: []geom.Point{{X: c.X, Y: c.Y + 0.36*size}}, Size: size, Anchor: Middle, Text: strconv.Itoa(r.Cells)}
		if size >= 0.35*s.size && s.free(it.covers()) {
			s.write(Ink, it)
		}
	}
}
