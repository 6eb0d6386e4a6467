package draw

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// Cut is what a profile or section shows: a dig and the beam over it.
type Cut struct {
	Plan  *plan.Plan
	Dig   plan.Dig
	Setup string // tag, "" for no beam
}

// place is a point of an upright drawing: metres along it and an elevation.
type place struct{ x, z float64 }

// upright is a drawing of heights along a line.
type upright struct {
	*Scene
	labels
	Cut
	v          Voice
	set        plan.Setup
	hasBeam    bool
	size       float64
	x0, z0     float64 // the place at the left, upper corner of the field
	left, top  float64 // of the field, on paper
	right, low float64
	sx, sz     float64 // millimetres of paper per metre
	written    string  // the scale in words
	exaggerate float64 // height over width
}

func newUpright(c Cut, v Voice, f Frame) *upright {
	u := &upright{Scene: &Scene{Width: f.Width, Height: f.Height}, Cut: c, v: v, size: f.Type}
	u.labels.scene = u.Scene
	u.set, u.hasBeam = c.Plan.Setup(c.Setup)
	u.hasBeam = u.hasBeam && u.set.Known
	u.left, u.right = 1, f.Width-1
	u.top, u.low = 3*f.Type, f.Height-3.4*f.Type
	return u
}

// at is where a place stands on the paper.
func (u *upright) at(p place) geom.Point {
	return geom.Point{X: u.left + (p.x-u.x0)*u.sx, Y: u.top + (u.z0-p.z)*u.sz}
}

func (u *upright) all(places []place) []geom.Point {
	out := make([]geom.Point, len(places))
	for i, p := range places {
		out[i] = u.at(p)
	}
	return out
}

// extent is the heights and the width that must be seen.
type extent struct{ x0, x1, low, high float64 }

func (e *extent) with(places ...place) {
	for _, p := range places {
		if !math.IsNaN(p.z) {
			e.low, e.high = min(e.low, p.z), max(e.high, p.z)
		}
	}
}

// fit takes the largest usual scale that shows an extent between side margins in
// millimetres, and the most exaggeration of the offered that the height allows.
func (u *upright) fit(e extent, side float64, exaggerations []float64) {
	wide, high := e.x1-e.x0, max(e.high-e.low, 0.1)
	field := u.right - u.left - 2*side
	depth := u.low - u.top - 3*u.size // room for hatching under the lowest
	var usual scale
	least := exaggerations[len(exaggerations)-1]
	usual, _ = fitting(u.v.Style.System, wide, high*least, field, depth)
	u.exaggerate = least
	for _, k := range exaggerations {
		if high*k*1000/usual.denominator <= depth {
			u.exaggerate = k
			break
		}
	}
	u.written = usual.words
	u.sx = 1000 / usual.denominator
	u.sz = u.sx * u.exaggerate
	u.x0 = (e.x0+e.x1)/2 - (u.right-u.left)/2/u.sx
	u.z0 = e.high + (depth/u.sz-high)/2
}

// edges are the stations at the ends of the paper.
func (u *upright) edges() (from, to float64) { return u.x0, u.x0 + (u.right-u.left)/u.sx }

// surface is one unbroken piece of ground.
type surface []place

// heightAt is the height of a surface over a place; ok is false outside it.
func (s surface) heightAt(x float64) (z float64, ok bool) {
	for i := 1; i < len(s); i++ {
		a, b := s[i-1], s[i]
		if a.x <= x && x <= b.x {
			if a.x == b.x {
				return b.z, true
			}
			return a.z + (b.z-a.z)*(x-a.x)/(b.x-a.x), true
		}
	}
	return 0, false
}

// surfaces cuts the ground along a line, whose first point stands at from, into
// pieces without a gap.
func surfaces(g *job.Ground, line []geom.Point, from float64) []surface {
	if g == nil {
		return nil
	}
	var out []surface
	var now surface
	for _, p := range g.Profile(line) {
		if p.Known {
			now = append(now, place{from + p.Station, p.Z})
		}
		if !p.Known || p.Gap {
			if len(now) > 1 {
				out = append(out, now)
			}
			now = nil
		}
	}
	if len(now) > 1 {
		out = append(out, now)
	}
	return out
}

// earth hatches what stays in the ground: under the surface outside the dig and
// under its boundary inside.
func (u *upright) earth(boundary []place) {
	if len(boundary) < 2 {
		return
	}
	ring := u.all(boundary)
	floor := u.low
	ring = append(ring, geom.Point{X: ring[len(ring)-1].X, Y: floor}, geom.Point{X: ring[0].X, Y: floor})
	u.hatch(Earth, ring, 2.6)
}

// ray draws the beam across the paper with its tag and its tripod.
func (u *upright) ray(height func(x float64) float64) {
	from, to := u.edges()
	pen := Ray
	if penOf(u.set.State) == Planned {
		pen = Planned
	}
	const pieces = 24
	points := make([]geom.Point, 0, pieces+1)
	for i := range pieces + 1 {
		x := from + (to-from)*float64(i)/pieces
		points = append(points, u.at(place{x, height(x)}))
	}
	u.line(pen, points...)
	c := points[0].Add(geom.Vector{X: 1.2 * u.size})
	u.tripod(penOf(u.set.State), c, u.size*0.8)
	u.block(around(c, u.size, 1.4*u.size))
	u.tag(points)
}

// tag writes which beam it is over its line, at the left.
func (u *upright) tag(points []geom.Point) {
	text := u.v.say("draw.beam", phrase.With("setup", u.set.ID))
	if penOf(u.set.State) == Planned {
		text = u.v.say("draw.beam_planned", phrase.With("setup", u.set.ID))
	}
	x := points[0].X + 2.6*u.size
	high := min(points[0].Y, points[len(points)/2].Y)
	u.write(penOf(u.set.State), Item{Points: []geom.Point{{X: x, Y: high - 0.6*u.size}}, Size: u.size, Anchor: Start, Text: text})
}

// rod draws a grade rod as a dimension from the beam to the bottom with its
// figure along it. shift moves it aside on the paper.
func (u *upright) rod(n plan.Number, x, shift float64) bool {
	top, foot := u.at(place{x, float64(n.Beam + unit.Elevation(-n.Curvature))}), u.at(place{x, float64(n.Bottom)})
	top.Y = foot.Y - float64(n.Rod)*u.sz
	top.X, foot.X = top.X+shift, foot.X+shift
	pen, text := penOf(n.State), u.v.number(n, u.set.Rod)
	it := Item{Points: []geom.Point{{X: top.X - 0.25*u.size, Y: (top.Y + foot.Y) / 2}}, Size: u.size, Anchor: Middle, Upward: true, Text: text}
	strip := it.covers()
	strip.Max.X = top.X + 0.5
	if !u.free(strip) {
		return false
	}
	u.dimension(pen, top, foot)
	u.write(pen, it)
	u.block(geom.BoxOf(top, foot))
	return true
}

// dimension is a line with a head at both ends.
func (u *upright) dimension(pen Pen, a, b geom.Point) {
	u.line(pen, a, b)
	k := min(0.5*u.size, a.Distance(b)/3)
	v := b.Sub(a).Unit().Scale(k)
	for _, end := range []struct {
		at  geom.Point
		way geom.Vector
	}{{a, v}, {b, v.Scale(-1)}} {
		side := end.way.Right().Scale(0.55)
		u.line(pen, end.at.Add(end.way).Add(side), end.at, end.at.Add(end.way).Add(side.Scale(-1)))
	}
}

// mark is a level mark: an open triangle that stands on its line, the figure
// and its word over it.
func (u *upright) mark(c geom.Point, anchor Anchor, key phrase.Key, e unit.Elevation) {
	k := 0.45 * u.size
	u.ring(Ink, Hollow, c, c.Add(geom.Vector{X: k, Y: -1.4 * k}), c.Add(geom.Vector{X: -k, Y: -1.4 * k}))
	u.block(around(c.Add(geom.Vector{Y: -0.7 * k}), k, 0.7*k))
	shift := 1.6 * k
	if anchor == End {
		shift = -shift
	}
	it := Item{Points: []geom.Point{{X: c.X + shift, Y: c.Y - 0.35*u.size}}, Size: u.size, Anchor: anchor,
		Text: u.v.say(key, phrase.With("elevation", u.v.Style.ElevationFigure(e)))}
	u.fixed(Ink, it)
}

// fixed writes a text at its place, or counts it where another stands there.
func (u *upright) fixed(pen Pen, it Item) {
	if !u.free(it.covers()) {
		u.Unplaced++
		return
	}
	u.write(pen, it)
}

// bottomLine draws a piece of bottom, heavy, with its tolerance where that is
// wider than the line.
func (u *upright) bottomLine(a, b place) {
	u.line(Bottom, u.at(a), u.at(b))
	t := u.Dig.Excavation.Tolerance
	if t == nil {
		return
	}
	for _, off := range []float64{float64(t.Above), -float64(t.Below)} {
		if off == 0 || math.Abs(off)*u.sz < leastBand {
			continue
		}
		p, q := u.at(place{a.x, a.z + off}), u.at(place{b.x, b.z + off})
		u.line(Band, p.Add(geom.Vector{X: -1.5}), q.Add(geom.Vector{X: 1.5}))
	}
}

// leastBand is how far, in millimetres of paper, a tolerance must lie off its
// line to be seen beside it: half the heavy line and half the thin one, and a gap.
const leastBand = 0.6

// caption writes what the drawing shows along its lower edge.
func (u *upright) caption(text string) {
	u.write(Ink, Item{Points: []geom.Point{{X: u.left, Y: u.Height - 0.35*u.size}}, Size: 0.9 * u.size, Anchor: Start, Text: text})
}
