package draw

import (
	"math"
	"strconv"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// Words are the few texts of a drawing that are not ids.
type Words struct {
	North string
	Scale string // "scale 1:"
}

// sitePlan draws into one scene.
type sitePlan struct {
	*Scene
	labels
	p      *plan.Plan
	style  unit.Style
	origin geom.Point // site place at the upper left of the frame, local metres
	scale  float64    // millimetres of paper per metre
	left   int        // labels that found no place
}

// margin is kept free round the site for labels, north and the scale bar.
const margin = 14 // millimetres

// scales are the usual ones of site plans: 1 to this.
var scales = []float64{50, 100, 200, 250, 500, 1000, 2000, 2500, 5000, 10000, 20000, 50000}

// SitePlan draws digs, set-ups, benchmarks, hubs and services to a standard
// scale in a frame of a width and height in millimetres. Unplaced is how many
// labels found no room.
func SitePlan(p *plan.Plan, style unit.Style, words Words, width, height float64) (scene Scene, unplaced int) {
	s := &sitePlan{Scene: &Scene{Width: width, Height: height}, p: p, style: style}
	s.labels.scene = s.Scene
	denominator := s.fit()
	s.contours()
	s.services()
	for _, d := range p.Digs {
		s.dig(d)
	}
	for _, set := range p.Setups {
		s.setup(set)
	}
	s.points()
	s.north(words.North)
	s.bar(words.Scale, denominator)
	s.names()
	return *s.Scene, s.left
}

// fit chooses the largest usual scale that shows everything.
func (s *sitePlan) fit() float64 {
	b := s.bounds()
	denominator := scales[len(scales)-1]
	for _, d := range scales {
		if b.Width()*1000/d <= s.Width-2*margin && b.Height()*1000/d <= s.Height-2*margin {
			denominator = d
			break
		}
	}
	s.scale = 1000 / denominator
	c := b.Centre()
	s.origin = geom.Point{X: c.X - s.Width/2/s.scale, Y: c.Y + s.Height/2/s.scale}
	return denominator
}

// bounds is the box of what is drawn.
func (s *sitePlan) bounds() geom.Box {
	b := geom.EmptyBox()
	for _, d := range s.p.Digs {
		for _, part := range d.Parts {
			b = b.Union(part.Outline.Bounds())
		}
	}
	for _, set := range s.p.Setups {
		b = b.With(set.Plane.At)
	}
	for _, m := range s.p.Job.Benchmarks {
		if m.Placed {
			b = b.With(m.At)
		}
	}
	if b.Empty() {
		b = geom.BoxOf(geom.Point{})
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

// contours draws the ground by lines a usual step apart, ten at most.
func (s *sitePlan) contours() {
	ground := s.p.Job.Existing
	if ground == nil {
		return
	}
	low, high := math.Inf(1), math.Inf(-1)
	frame := geom.BoxOf(s.origin, geom.Point{X: s.origin.X + s.Width/s.scale, Y: s.origin.Y - s.Height/s.scale})
	ground.Facets(frame, func(a, b, c geom.Point3) bool {
		low, high = min(low, a.Z, b.Z, c.Z), max(high, a.Z, b.Z, c.Z)
		return true
	})
	step := contourStep(high-low, s.style.System)
	for z := math.Ceil(low/step) * step; z < high; z += step {
		for _, line := range ground.Contour(z) {
			for i := 1; i < len(line); i++ {
				if a, b := s.at(line[i-1]), s.at(line[i]); s.inside(a) && s.inside(b) {
					s.line(Fine, a, b)
				}
			}
		}
	}
}

// contourStep is the least usual step that gives ten lines at most.
func contourStep(range_ float64, system unit.System) float64 {
	base := float64(unit.Metre)
	if system == unit.Imperial {
		base = float64(unit.Foot)
	}
	for _, k := range []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50} {
		if range_/(k*base) <= 10 {
			return k * base
		}
	}
	return 100 * base
}

func (s *sitePlan) services() {
	for _, u := range s.p.Job.Utilities {
		points := s.all(u.Line)
		s.line(Service, points...)
		s.text(Service, points[0].Toward(points[len(points)-1], 0.5), 3, Middle, u.ID)
	}
}

// dig draws the dug outline, heavy, and the concrete inside it.
func (s *sitePlan) dig(d plan.Dig) {
	for _, part := range d.Parts {
		s.ring(Bottom, true, s.all(part.Outline)...)
		s.ring(Neat, false, s.all(part.Neat)...)
	}
}

// setup draws a tripod with its tag, hollow while it is only planned, and the
// way a sloped beam falls.
func (s *sitePlan) setup(set plan.Setup) {
	c := s.at(set.Plane.At)
	pen := Beam
	if set.State == beam.Planned {
		pen = Planned
	}
	for _, foot := range []geom.Vector{{X: -2.4, Y: 3}, {Y: 3.6}, {X: 2.4, Y: 3}} {
		s.line(pen, c, c.Add(foot))
	}
	s.ring(pen, set.State == beam.Live, c.Add(geom.Vector{X: -1.3, Y: -1.6}), c.Add(geom.Vector{X: 1.3, Y: -1.6}), c.Add(geom.Vector{X: 1.3}), c.Add(geom.Vector{X: -1.3}))
	s.block(geom.BoxOf(c.Add(geom.Vector{X: -2.6, Y: -2}), c.Add(geom.Vector{X: 2.6, Y: 3.8})))
	if fall := set.Plane.Gradient.Scale(-1).Unit(); fall != (geom.Vector{}) {
		s.arrow(Beam, c, geom.Vector{X: fall.X, Y: -fall.Y}.Scale(16))
	}
}

// arrow is a line with a head at its end.
func (s *sitePlan) arrow(pen Pen, from geom.Point, v geom.Vector) {
	to := from.Add(v)
	back := v.Unit().Scale(-2.4)
	side := back.Right().Scale(0.45)
	s.line(pen, from, to)
	s.ring(pen, true, to, to.Add(back).Add(side), to.Add(back).Add(side.Scale(-1)))
}

// points draws benchmarks as survey triangles, control points as crosses.
func (s *sitePlan) points() {
	for _, b := range s.p.Job.Benchmarks {
		if b.Placed {
			c := s.at(b.At)
			s.ring(Ink, false, c.Add(geom.Vector{Y: -2}), c.Add(geom.Vector{X: 1.8, Y: 1.2}), c.Add(geom.Vector{X: -1.8, Y: 1.2}))
			s.block(box(c, 3, "O"))
		}
	}
	for _, k := range s.p.Job.Controls {
		c := s.at(k.At)
		s.line(Ink, c.Add(geom.Vector{X: -1.2}), c.Add(geom.Vector{X: 1.2}))
		s.line(Ink, c.Add(geom.Vector{Y: -1.2}), c.Add(geom.Vector{Y: 1.2}))
	}
}

// names writes the ids last, so that they keep clear of everything.
func (s *sitePlan) names() {
	name := func(pen Pen, at geom.Point, size float64, id string) {
		if c := s.at(at); s.inside(c) && !s.put(pen, c, size, id) {
			s.left++
		}
	}
	seen := map[geom.Point]bool{}
	for _, set := range s.p.Setups {
		at := set.Plane.At
		if seen[at] { // another dial on the same tripod stands beside its name
			at.X += 0.5 / s.scale
		}
		seen[set.Plane.At] = true
		name(Beam, at, 4, set.ID)
	}
	for _, b := range s.p.Job.Benchmarks {
		if b.Placed {
			name(Ink, b.At, 3, b.ID)
		}
	}
	for _, k := range s.p.Job.Controls {
		name(Ink, k.At, 3, k.ID)
	}
	for _, d := range s.p.Digs {
		if len(d.Parts) > 0 {
			name(Ink, d.Parts[0].Outline.Centroid(), 3, d.Excavation.ID)
		}
	}
}

func (s *sitePlan) north(word string) {
	foot := geom.Point{X: s.Width - 7, Y: 16}
	s.arrow(Ink, foot, geom.Vector{Y: -9})
	s.text(Ink, geom.Point{X: foot.X, Y: foot.Y + 4}, 3.4, Middle, word)
	s.block(geom.BoxOf(geom.Point{X: s.Width - 13, Y: 4}, geom.Point{X: s.Width, Y: 22}))
}

// bar draws a scale bar of a round length with its figure.
func (s *sitePlan) bar(word string, denominator float64) {
	length := float64(10 * unit.Metre)
	if s.style.System == unit.Imperial {
		length = float64(20 * unit.Foot)
	}
	for length*s.scale > 60 {
		length /= 2
	}
	for length*s.scale < 20 {
		length *= 2
	}
	y, x := s.Height-6, 6.0
	end := x + length*s.scale
	s.line(Ink, geom.Point{X: x, Y: y - 1.5}, geom.Point{X: x, Y: y}, geom.Point{X: end, Y: y}, geom.Point{X: end, Y: y - 1.5})
	label := s.style.Length(unit.Length(length)) + "   " + word + strconv.FormatFloat(denominator, 'f', 0, 64)
	s.text(Ink, geom.Point{X: x, Y: y - 3}, 3, Start, label)
	s.block(geom.BoxOf(geom.Point{X: 0, Y: y - 8}, geom.Point{X: end + 40, Y: s.Height}))
}
