package plan

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/reception"
	"spadework/engine/safety"
	"spadework/engine/siting"
	"spadework/engine/unit"
)

// aboutPlaces is how many places a lattice has before what is not free is taken
// out.
const aboutPlaces = 2000

// grounds is where a laser may be set up.
type grounds struct {
	p       *Plan
	box     geom.Box
	allowed geom.Ring // nil: all of the box
	taken   []taken
	heights [2]unit.Length // of the beam over its foot
	eyes    [2]unit.Length
	about   int // places of the lattice before what is not free is taken out
}

// taken is ground that is not free.
type taken struct {
	box  geom.Box
	free func(geom.Point) bool
}

// groundsOf is where a laser with some tripod may stand.
func (p *Plan) groundsOf(heights [2]unit.Length, reach unit.Length) *grounds {
	g := &grounds{p: p, heights: heights, eyes: p.eyes(), allowed: p.Job.Allowed.Setups, about: aboutPlaces}
	g.box = geom.EmptyBox()
	if len(g.allowed) > 0 {
		g.box = g.allowed.Bounds()
	} else {
		for _, d := range p.Digs {
			for _, part := range d.Parts {
				g.box = g.box.Union(part.Outline.Bounds())
			}
		}
		if !g.box.Empty() {
			g.box = g.box.Grown(float64(reach))
		}
	}
	g.box = within(g.box, p.Job.Existing.Bounds())
	g.take()
	return g
}

// within is the part of a box inside a survey, all of it where that has no end.
func within(a, survey geom.Box) geom.Box {
	if survey.Empty() {
		return a
	}
	return geom.Box{
		Min: geom.Point{X: max(a.Min.X, survey.Min.X), Y: max(a.Min.Y, survey.Min.Y)},
		Max: geom.Point{X: min(a.Max.X, survey.Max.X), Y: min(a.Max.Y, survey.Max.Y)},
	}
}

// eyes is the band of heights over the ground at which people look.
func (p *Plan) eyes() [2]unit.Length {
	low, okLow := p.book.Rule("eye_low")
	high, okHigh := p.book.Rule("eye_high")
	if !okLow || !okHigh {
		return [2]unit.Length{}
	}
	return [2]unit.Length{low.Limit.Length(), high.Limit.Length()}
}

// take notes what no laser may stand on: keep-outs, obstacles, structures,
// heaps, digs with their set-back, and what plant sweeps.
func (g *grounds) take() {
	j := g.p.Job
	for _, k := range j.Keepouts {
		g.takeRing(k.Outline)
	}
	for _, o := range j.Obstacles {
		g.takeRing(o.Outline)
	}
	for _, s := range j.Structures {
		g.takeRing(s.Outline)
	}
	for _, h := range j.Heaps {
		g.takeRing(h.Outline)
	}
	for _, d := range g.p.Digs {
		g.takeDig(d)
	}
	for _, at := range g.p.toldPlant() {
		base := at.Machine.Base
		g.takeCircle(at.Place.At, max(base.TailSwing, base.Length, base.Width, at.Machine.Envelope.Farthest()))
	}
	if t := j.Trucks; t.Placed && t.Radius > 0 {
		g.takeCircle(t.At, t.Radius)
	}
}

func (g *grounds) takeRing(ring geom.Ring) {
	if len(ring) < 3 {
		return
	}
	g.taken = append(g.taken, taken{ring.Bounds(), func(at geom.Point) bool { return ring.Contains(at) == geom.Outside }})
}

func (g *grounds) takeCircle(at geom.Point, radius unit.Length) {
	if !(radius > 0) {
		return
	}
	g.taken = append(g.taken, taken{geom.BoxOf(at).Grown(float64(radius)), func(p geom.Point) bool { return p.Distance(at) > float64(radius) }})
}

// usualFlare is what a dig's top edge is taken to lie out where its depth is not
// known: as nearEdge.
const usualFlare = nearEdge

// takeDig takes a dig to its top edge and the set-back of heaps from there.
func (g *grounds) takeDig(d Dig) {
	back := g.setback()
	flare, ok := d.flare()
	if !ok {
		flare = usualFlare
	}
	for _, part := range d.Parts {
		ring := part.Outline
		g.taken = append(g.taken, taken{ring.Bounds().Grown(float64(flare + back)), func(at geom.Point) bool {
			return lineGap(ring, []geom.Point{at}) > flare+back
		}})
	}
}

// setback is what stays free along the top edge of a dig.
func (g *grounds) setback() unit.Length {
	var none safety.Setback
	if b := g.p.Bounds.SpoilSetback; b != none {
		return b.Distance
	}
	return 0
}

// place is a place on free ground.
func (g *grounds) place(at geom.Point) (siting.Place, bool) {
	if !g.box.Holds(at) || len(g.allowed) > 0 && g.allowed.Contains(at) == geom.Outside {
		return siting.Place{}, false
	}
	for _, t := range g.taken {
		if t.box.Holds(at) && !t.free(at) {
			return siting.Place{}, false
		}
	}
	return g.tripod(at)
}

// tripod is the beam that a tripod can set over a place, free or not; ok is
// false outside the survey.
func (g *grounds) tripod(at geom.Point) (siting.Place, bool) {
	z, ok := g.p.Job.Existing.Height(at)
	if !ok {
		return siting.Place{}, false
	}
	foot := unit.Elevation(z)
	return siting.Place{
		At: at, Low: foot.Plus(g.heights[0]), High: foot.Plus(g.heights[1]),
		Eyes: [2]unit.Elevation{foot.Plus(g.eyes[0]), foot.Plus(g.eyes[1])},
	}, true
}

// lattice lists the free places of a lattice row by row from the south-west,
// and its spacing. Both are whole tenths of a metre, so that a crew can set them
// out and halving twice keeps them whole.
func (g *grounds) lattice() (places []siting.Place, spacing unit.Length) {
	if g.box.Empty() || !(g.box.Width() >= 0 && g.box.Height() >= 0) {
		return nil, 0
	}
	step := g.step()
	for y := tenths(g.box.Min.Y); float64(y)/10 <= g.box.Max.Y; y += step {
		for x := tenths(g.box.Min.X); float64(x)/10 <= g.box.Max.X; x += step {
			if pl, ok := g.place(geom.Point{X: float64(x) / 10, Y: float64(y) / 10}); ok {
				places = append(places, pl)
			}
		}
	}
	return places, unit.Length(float64(step) / 10)
}

// step is the spacing in tenths of a metre, a multiple of four.
func (g *grounds) step() int {
	side := math.Sqrt(g.box.Width() * g.box.Height() / float64(g.about))
	side = max(side, (g.box.Width()+g.box.Height())/float64(g.about))
	return max(4, 4*int(math.Ceil(side*10/4)))
}

func tenths(v float64) int { return int(math.Ceil(v * 10)) }

// obstacles are what stands in the way of a beam. Heaps tell no height: nothing
// passes over them.
func (p *Plan) obstacles() []reception.Obstacle {
	var out []reception.Obstacle
	unknownTop := unit.Elevation(math.Inf(1))
	for _, o := range p.Job.Obstacles {
		top := unknownTop
		switch {
		case o.Top != nil:
			top = *o.Top
		case o.Height > 0:
			if z, ok := p.highest(o.Outline); ok {
				top = z.Plus(o.Height)
			}
		}
		out = append(out, reception.Obstacle{ID: o.ID, Outline: o.Outline, Top: top})
	}
	for _, h := range p.Job.Heaps {
		out = append(out, reception.Obstacle{ID: h.ID, Outline: h.Outline, Top: unknownTop})
	}
	return out
}

// highest is the highest ground along an outline and of the facets near it; ok
// is false where the outline leaves the survey.
func (p *Plan) highest(ring geom.Ring) (unit.Elevation, bool) {
	out := math.Inf(-1)
	if len(ring) == 0 {
		return 0, false
	}
	for _, g := range p.Job.Existing.Profile(append(ring[:len(ring):len(ring)], ring[0])) {
		if !g.Known || g.Gap {
			return 0, false
		}
		out = max(out, g.Z)
	}
	p.Job.Existing.Facets(ring.Bounds(), func(a, b, c geom.Point3) bool {
		out = max(out, a.Z, b.Z, c.Z)
		return true
	})
	return unit.Elevation(out), true
}
