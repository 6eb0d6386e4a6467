package draw

import (
	"math"
	"slices"

	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// section is the upright drawing across an area.
type section struct {
	*upright
	centre geom.Point
	way    geom.Vector // across the paper to the right
	cuts   []cutSide   // where the line crosses outlines, from the left
	inside bool        // the level mark of the bottom stands inside the dig
}

// cutSide is a crossing of the section with the side of a part's outline.
type cutSide struct {
	x     float64
	part  int
	side  int
	slant float64 // how much flatter a side looks in this section, ≥ 1
}

// Section draws an area across its bearing through the centre, to one scale both
// ways: ground, cut sides, bottom with its tolerance, concrete where its
// thickness is known, the beam with its grade rod, and the cut. ok is false for
// a dig that is no area.
func Section(c Cut, v Voice, f Frame) (scene Scene, ok bool) {
	if !c.Dig.Excavation.Kind.Area() || len(c.Dig.Parts) == 0 {
		return Scene{}, false
	}
	s := &section{upright: newUpright(c, v, f)}
	s.aim()
	if len(s.cuts) < 2 {
		return Scene{}, false
	}
	bottom := s.bottom()
	if len(bottom) == 0 {
		return Scene{}, false
	}
	number, hasRod := s.number()
	foot := bottom[len(bottom)-1]
	ground := s.ground(bottom[0].x-groundReach, foot.x+groundReach)
	left, leftKnown := s.side(s.cuts[0], bottom[0], -1, ground)
	right, rightKnown := s.side(s.cuts[len(s.cuts)-1], foot, 1, ground)
	e := s.extent(append(slices.Concat(left, right), bottom...), ground)
	s.inside = s.betterInside(e, left, right)
	s.fit(e, s.reaches(left, right), []float64{1})
	from, to := s.edges()
	ground = window(ground, from, to)
	s.earth(ground, boundary(ground, left, bottom, right))
	for _, g := range ground {
		s.line(Ground, s.all(g)...)
	}
	s.concrete(bottom)
	s.sideLine(left, leftKnown)
	s.sideLine(right, rightKnown)
	s.bottoms(bottom)
	if s.hasBeam {
		s.ray(func(x float64) float64 { return float64(s.set.Plane.Beam(s.plan(x))) })
	}
	if hasRod && !s.rod(rodLine{number, s.across(number.At), -1.4 * s.size, 1.2 * s.size}) {
		s.Unplaced++
	}
	s.avoid(Ray, Planned, Ground, Dug, Bottom)
	s.marks(ground, left, foot)
	s.cut(number, hasRod)
	s.caption(s.low, s.texts(leftKnown && rightKnown)...)
	return *s.Scene, true
}

// aim lays the section through the centre of the first part across the bearing.
func (s *section) aim() {
	along := float64(s.Dig.Excavation.Bearing)
	s.way = geom.Vector{X: math.Cos(along), Y: -math.Sin(along)}
	s.centre = s.Dig.Parts[0].Outline.Centroid()
	for i, part := range s.Dig.Parts {
		for k := range part.Outline {
			a, b := part.Outline.Side(k)
			fa, fb := s.way.Cross(a.Sub(s.centre)), s.way.Cross(b.Sub(s.centre))
			if (fa < 0) == (fb < 0) {
				continue
			}
			at := a.Toward(b, fa/(fa-fb))
			normal := b.Sub(a).Right().Unit()
			s.cuts = append(s.cuts, cutSide{s.across(at), i, k, 1 / max(math.Abs(normal.Dot(s.way)), 0.05)})
		}
	}
	slices.SortFunc(s.cuts, func(a, b cutSide) int {
		switch {
		case a.x != b.x && a.x < b.x, a.x == b.x && a.part < b.part:
			return -1
		case a.x == b.x && a.part == b.part:
			return a.side - b.side
		}
		return 1
	})
}

// across is how far a plan place lies to the right along the section.
func (s *section) across(p geom.Point) float64 { return p.Sub(s.centre).Dot(s.way) }

// plan is the plan place of a distance along the section.
func (s *section) plan(x float64) geom.Point { return s.centre.Add(s.way.Scale(x)) }

// bottom is the lowest bottom between all crossings, as steps from the left.
func (s *section) bottom() []place {
	var out []place
	for i := 1; i < len(s.cuts); i++ {
		a, b := s.cuts[i-1].x, s.cuts[i].x
		part, ok := s.lowest((a + b) / 2)
		if b-a < 1e-6 || !ok { // a micrometre: crossings of shared sides
			continue
		}
		out = append(out, place{a, float64(part.BottomAt(s.plan(a)))}, place{b, float64(part.BottomAt(s.plan(b)))})
	}
	return out
}

// lowest is the part with the lowest bottom over a place of the section.
func (s *section) lowest(x float64) (best dig.Part, ok bool) {
	p := s.plan(x)
	for _, part := range s.Dig.Parts {
		if part.Outline.Contains(p) == geom.Outside {
			continue
		}
		if !ok || part.BottomAt(p) < best.BottomAt(p) {
			best, ok = part, true
		}
	}
	return best, ok
}

// number is the row of the centre from the set-up of the section.
func (s *section) number() (plan.Number, bool) {
	for _, n := range s.Plan.Numbers {
		if n.Excavation == s.Dig.Excavation.ID && n.Setup == s.Setup && n.From == plan.FromBeam && n.Kind == dig.Centre && s.hasBeam {
			return n, true
		}
	}
	return plan.Number{}, false
}

// groundReach is how far beside the foot the ground is asked for, in metres: a
// pit 20 m deep in soil that stands at 1.5:1.
const groundReach = 30

// ground is the surface along the section.
func (s *section) ground(from, to float64) []surface {
	return surfaces(s.Cut.Plan.Job.Existing, []geom.Point{s.plan(from), s.plan(to)}, from)
}

// reaches are the tops of both sides, and the mark beside the right foot unless
// it stands inside.
func (s *section) reaches(left, right []place) []reach {
	edge := 2 * s.size
	ground := 6*s.size + s.markWidth("draw.ground", 100) // left of the rod, whose figure stands left of the centre
	out := []reach{{left[len(left)-1].x, edge, 0}, {right[len(right)-1].x, 0, edge}, {0, ground, 0}}
	if s.inside {
		return out
	}
	foot := right[0]
	return append(out, reach{foot.x, 0, (footOut+0.8)*s.size + s.markWidth("draw.bottom", unit.Elevation(foot.z))})
}

// betterInside says that the drawing can be half as large again with the level
// mark of the bottom inside the dig, as in wide and shallow ones.
func (s *section) betterInside(e extent, left, right []place) bool {
	scaleWith := func(inside bool) float64 {
		try := *s
		try.inside = inside
		depth := s.low - s.top - 3*s.size
		return fitting(s.v.Style.System, try.reaches(left, right), e.high-e.low, s.right-s.left, depth).denominator
	}
	return scaleWith(false) >= 1.5*scaleWith(true)
}

// footOut is how far outside the foot the level mark of the bottom stands, in
// sizes.
const footOut = 1.6

// highest is far over any ground: sides are drawn up to the ground, or a metre
// high where it is not known.
const highest, noGround = 50, 1

// side is the path of a cut side from its foot up to the ground.
func (s *section) side(c cutSide, foot place, way float64, ground []surface) (path []place, known bool) {
	slope, known := s.Dig.SlopeOf(c.part, c.side)
	full := []place{foot}
	up := func(rise, out float64) {
		l := full[len(full)-1]
		full = append(full, place{l.x + way*out*c.slant, l.z + rise})
	}
	done := 0.0
	for _, b := range slope.Benches {
		up(float64(b.Height)-done, slope.Batter*(float64(b.Height)-done))
		up(0, float64(b.Width))
		done = float64(b.Height)
	}
	up(highest, slope.Batter*highest)
	for i := 1; i < len(full); i++ {
		if p, ok := meets(full[i-1], full[i], ground); ok {
			return append(full[:i:i], p), known
		}
	}
	return []place{foot, {foot.x, foot.z + noGround}}, false
}

// meets is where a side piece first comes out of the ground.
func meets(a, b place, ground []surface) (place, bool) {
	const steps = 4000 // 12.5 mm over 50 m of rise, under a line's width on paper
	for i := range steps + 1 {
		t := float64(i) / steps
		p := place{a.x + (b.x-a.x)*t, a.z + (b.z-a.z)*t}
		for _, g := range ground {
			if z, ok := g.heightAt(p.x); ok && p.z >= z {
				return place{p.x, z}, true
			}
		}
	}
	return place{}, false
}

func (s *section) extent(seen []place, ground []surface) extent {
	from, to := math.Inf(1), math.Inf(-1)
	for _, p := range seen {
		from, to = min(from, p.x), max(to, p.x)
	}
	e := newExtent()
	e.with(seen...)
	for _, g := range window(ground, from, to) {
		e.with(g...)
	}
	if s.hasBeam {
		for _, x := range []float64{from - sideShare*(to-from), to + sideShare*(to-from)} {
			e.with(place{x, float64(s.set.Plane.Beam(s.plan(x)))})
		}
	}
	return e
}

// window is the ground between two places.
func window(ground []surface, from, to float64) []surface {
	var out []surface
	for _, g := range ground {
		var now surface
		if z, ok := g.heightAt(from); ok {
			now = append(now, place{from, z})
		}
		for _, p := range g {
			if p.x > from && p.x < to {
				now = append(now, p)
			}
		}
		if z, ok := g.heightAt(to); ok {
			now = append(now, place{to, z})
		}
		if len(now) > 1 {
			out = append(out, now)
		}
	}
	return out
}

// boundary is the earth that stays, from the left.
func boundary(ground []surface, left, bottom, right []place) []place {
	var out []place
	top := left[len(left)-1]
	for _, g := range ground {
		for _, p := range g {
			if p.x < top.x {
				out = append(out, p)
			}
		}
	}
	for _, p := range slices.Backward(left) {
		out = append(out, p)
	}
	out = append(out, bottom...)
	out = append(out, right...)
	for _, g := range ground {
		for _, p := range g {
			if p.x > right[len(right)-1].x {
				out = append(out, p)
			}
		}
	}
	return out
}

// sideLine draws a cut side; one that is not known is hollow.
func (s *section) sideLine(path []place, known bool) {
	pen := Dug
	if !known {
		pen = Planned
	}
	s.line(pen, s.all(path)...)
}

func (s *section) bottoms(bottom []place) {
	for i := 0; i+1 < len(bottom); i += 2 {
		if i > 0 {
			s.line(Dug, s.at(bottom[i-1]), s.at(bottom[i]))
		}
		s.bottomLine(bottom[i], bottom[i+1])
	}
}

// concrete draws what stands on a single bottom where its thickness is given.
func (s *section) concrete(bottom []place) {
	x := s.Dig.Excavation
	if len(s.Dig.Parts) != 1 || x.Bottom.Rule != dig.BelowTop || !(x.Bottom.Thickness > 0) {
		return
	}
	foot := bottom[0].z + float64(x.Blinding+x.Subbase+x.Bedding)
	a, b := bottom[0].x+float64(x.Working), bottom[len(bottom)-1].x-float64(x.Working)
	top := foot + float64(x.Bottom.Thickness)
	s.ring(Neat, Hollow, s.at(place{a, foot}), s.at(place{b, foot}), s.at(place{b, top}), s.at(place{a, top}))
}

// marks stand on the ground at the left and on the bottom's right end.
func (s *section) marks(ground []surface, left []place, foot place) {
	x := min(s.x0+2*s.size/s.sx, left[len(left)-1].x)
	for _, g := range ground {
		if z, ok := g.heightAt(x); ok {
			s.mark(s.at(place{x, z}), Start, "draw.ground", unit.Elevation(z))
		}
	}
	c := s.at(foot)
	if s.inside {
		thing := s.triangle(c.Add(geom.Vector{X: -footOut * s.size}))
		s.put(Ink, thing, s.size, s.markText("draw.bottom", unit.Elevation(foot.z)))
		return
	}
	s.line(Fine, c, c.Add(geom.Vector{X: 11 * s.size}))
	s.mark(c.Add(geom.Vector{X: footOut * s.size}), Start, "draw.bottom", unit.Elevation(foot.z))
}

// cut is the dimension from ground to bottom beside the centre.
func (s *section) cut(n plan.Number, known bool) {
	if !known || n.Cut == nil || *n.Cut <= 0 {
		return
	}
	x := s.across(n.At)
	foot, top := s.at(place{x, float64(n.Bottom)}), s.at(place{x, float64(n.Bottom) + float64(*n.Cut)})
	shift := geom.Vector{X: 1.4 * s.size}
	s.dimension(Ink, top.Add(shift), foot.Add(shift))
	s.block(geom.BoxOf(top.Add(shift), foot.Add(shift)))
	s.put(Ink, around(top.Add(shift), 0.5, 0.5), s.size, s.v.say("draw.cut", phrase.With("size", *n.Cut)))
}

// texts tell where the section lies and its scale, and what is hollow and why.
func (s *section) texts(sides bool) []string {
	out := []string{
		s.v.say("draw.looking", phrase.With("direction", s.v.direction(s.Dig.Excavation.Bearing))),
		s.v.paper(s.written, s.frame),
	}
	if !sides {
		out = append(out, s.v.say("draw.side_unknown"))
	}
	if s.hasBeam && penOf(s.set.State) == Planned {
		out = append(out, s.v.say("draw.planned"))
	}
	return out
}
