package draw

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// ladder is the usual round steps of intervals.
var ladder = []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 25, 50, 100, 200, 500, 1000, 2000, 5000}

// interval is the least step of the ladder, times a base in metres, that is at
// least a length.
func interval(least, base float64) float64 {
	for _, k := range ladder {
		if k*base >= least {
			return k * base
		}
	}
	return ladder[len(ladder)-1] * base
}

// corners is the part of the site that the frame shows.
func (s *sitePlan) corners() geom.Box {
	return geom.BoxOf(s.origin, geom.Point{X: s.origin.X + s.Width/s.scale, Y: s.origin.Y - s.Height/s.scale})
}

// levels are the elevations of the contours, ten at most.
func (s *sitePlan) levels() []float64 {
	ground := s.p.Job.Existing
	if ground == nil {
		return nil
	}
	low, high := math.Inf(1), math.Inf(-1)
	ground.Facets(s.corners(), func(a, b, c geom.Point3) bool {
		low, high = min(low, a.Z, b.Z, c.Z), max(high, a.Z, b.Z, c.Z)
		return true
	})
	step := interval((high-low)/10, s.v.base())
	var out []float64
	for z := math.Ceil(low/step) * step; z < high; z += step {
		out = append(out, z)
	}
	return out
}

// contours draws the ground by lines of one elevation.
func (s *sitePlan) contours() {
	for _, z := range s.levels() {
		for _, line := range s.p.Job.Existing.Contour(z) {
			s.clipped(Fine, s.all(line))
		}
	}
}

// contourFigures writes the elevation on the longest line of each contour,
// where its middle is free.
func (s *sitePlan) contourFigures() {
	size := 0.8 * s.size
	for _, z := range s.levels() {
		text := s.v.Style.ElevationFigure(unit.Elevation(z))
		best := []geom.Point{}
		for _, line := range s.p.Job.Existing.Contour(z) {
			if len(line) > len(best) {
				best = line
			}
		}
		for _, k := range []int{len(best) / 2, len(best) / 4, 3 * len(best) / 4} {
			if k >= len(best) {
				continue
			}
			if c := s.at(best[k]); s.free(box(c, size, text)) && !s.crossed(box(c, size, text)) {
				s.write(Ink, Item{Points: []geom.Point{{X: c.X, Y: c.Y + 0.36*size}}, Size: size, Anchor: Middle, Text: text})
				break
			}
		}
	}
}

// gridApart is the least distance between crosses of the grid, in sizes.
const gridApart = 12

// grid draws crosses at round job coordinates and writes those along the lower
// and the left edge.
func (s *sitePlan) grid() {
	base := s.coordinateUnit()
	step := interval(gridApart*s.size/s.scale, base)
	shift := s.p.Job.Origin.Job(geom.Point{})
	b := s.corners()
	size := 0.75 * s.size
	east := rounds(b.Min.X+shift.X, b.Max.X+shift.X, step)
	north := rounds(b.Min.Y+shift.Y, b.Max.Y+shift.Y, step)
	for _, e := range east {
		for _, n := range north {
			s.cross(s.at(geom.Point{X: e - shift.X, Y: n - shift.Y}))
		}
	}
	for _, e := range east {
		x := s.at(geom.Point{X: e - shift.X}).X
		s.edge(Item{Points: []geom.Point{{X: x, Y: s.Height - 1}}, Size: size, Anchor: Middle, Text: s.v.say("draw.east", phrase.With("figure", s.v.Style.Fixed(e/base, 0)))})
	}
	for _, n := range north {
		y := s.at(geom.Point{Y: n - shift.Y}).Y
		s.edge(Item{Points: []geom.Point{{X: 1, Y: y + 0.36*size}}, Size: size, Anchor: Start, Text: s.v.say("draw.north_of", phrase.With("figure", s.v.Style.Fixed(n/base, 0)))})
	}
}

// cross is a small cross that keeps off what is written.
func (s *sitePlan) cross(c geom.Point) {
	if !s.free(around(c, 1, 1)) {
		return
	}
	s.line(Grid, c.Add(geom.Vector{X: -1}), c.Add(geom.Vector{X: 1}))
	s.line(Grid, c.Add(geom.Vector{Y: -1}), c.Add(geom.Vector{Y: 1}))
}

// edge writes a coordinate where it is free; its neighbours tell a missing one.
func (s *sitePlan) edge(it Item) {
	if s.free(it.covers()) {
		s.write(Ink, it)
	}
}

// coordinateUnit is the unit of the job's coordinates in metres: over a state
// plane the two feet lie whole feet apart.
func (s *sitePlan) coordinateUnit() float64 {
	switch s.p.Job.Coordinates {
	case unit.Feet:
		return float64(unit.Foot)
	case unit.SurveyFeet:
		return float64(unit.SurveyFoot)
	}
	return float64(unit.Metre)
}

// rounds are the multiples of a step between two values.
func rounds(low, high, step float64) []float64 {
	var out []float64
	for k := math.Ceil(low / step); float64(k*step) <= high; k++ {
		out = append(out, float64(k*step))
	}
	return out
}

func (s *sitePlan) north() {
	k := s.size
	foot := geom.Point{X: s.Width - 2*k, Y: 4.6 * k}
	s.arrow(Ink, foot, geom.Vector{Y: -3 * k})
	s.block(geom.BoxOf(geom.Point{X: s.Width - 3*k, Y: k}, foot))
	s.write(Ink, Item{Points: []geom.Point{{X: foot.X, Y: foot.Y + 1.2*k}}, Size: 1.1 * k, Anchor: Middle, Text: s.v.say("draw.north")})
}

// bar draws a scale bar of a round length with its figure and the scale that
// holds on paper.
func (s *sitePlan) bar() {
	k := s.size
	length := interval(8*k/s.scale, s.v.base())
	y, x := s.Height-2.4*k, 1.5*k
	end := x + length*s.scale
	s.line(Ink, geom.Point{X: x, Y: y - 0.5*k}, geom.Point{X: x, Y: y}, geom.Point{X: end, Y: y}, geom.Point{X: end, Y: y - 0.5*k})
	s.block(geom.BoxOf(geom.Point{X: x, Y: y - 0.5*k}, geom.Point{X: end, Y: y + 0.2}))
	text := s.v.round(length)
	if s.written != "" { // a window has a scale of its own
		text += " · " + s.v.paper(s.written, s.frame)
	}
	s.write(Ink, Item{Points: []geom.Point{{X: x, Y: y - k}}, Size: 0.9 * k, Anchor: Start, Text: text})
}
