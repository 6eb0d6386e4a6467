package draw

import (
	"math"
	"strings"

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
	frame      Frame
	x0, z0     float64 // the place at the left, upper corner of the field
	left, top  float64 // of the field, on paper
	right, low float64
	sx, sz     float64 // millimetres of paper per metre
	written    string  // the scale in words
	exaggerate float64 // height over width
}

func newUpright(c Cut, v Voice, f Frame) *upright {
	u := &upright{Scene: &Scene{Width: f.Width, Height: f.Height}, Cut: c, v: v, size: f.Type, frame: f}
	u.labels.scene = u.Scene
	u.set, u.hasBeam = c.Plan.Setup(c.Setup)
	u.hasBeam = u.hasBeam && u.set.Known
	u.left, u.right = 1, f.Width-1
	u.top, u.low = 2.6*f.Type, f.Height-6*f.Type
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

// extent is the heights that must be seen.
type extent struct{ low, high float64 }

func newExtent() extent { return extent{math.Inf(1), math.Inf(-1)} }

func (e *extent) with(places ...place) {
	for _, p := range places {
		if !math.IsNaN(p.z) {
			e.low, e.high = min(e.low, p.z), max(e.high, p.z)
		}
	}
}

// fit takes the largest usual scale that has room for the reaches and the
// heights, and the most exaggeration of the offered that the height allows; the
// last offered is the least. The field then ends a little under the lowest place.
func (u *upright) fit(e extent, reaches []reach, exaggerations []float64) {
	high := max(e.high-e.low, 0.1)
	field, depth := u.right-u.left, u.low-u.top-3*u.size // room for hatching under the lowest
	least := exaggerations[len(exaggerations)-1]
	usual := fitting(u.v.Style.System, reaches, high*least, field, depth)
	u.written, u.exaggerate = usual.words, least
	for _, k := range exaggerations {
		if high*k*1000/usual.denominator <= depth {
			u.exaggerate = k
			break
		}
	}
	u.sx = 1000 / usual.denominator
	u.sz = u.sx * u.exaggerate
	from, to := span(reaches, u.sx)
	u.x0 = ((from+to)/2 - field/2) / u.sx
	u.z0 = e.high
	u.low = u.top + high*u.sz + 3*u.size
}

// markWidth is how far a level mark reaches from its triangle's middle.
func (u *upright) markWidth(key phrase.Key, e unit.Elevation) float64 {
	return 0.72*u.size + textWidth(u.size, u.markText(key, e))
}

func (u *upright) markText(key phrase.Key, e unit.Elevation) string {
	return u.v.say(key, phrase.With("elevation", u.v.Style.ElevationFigure(e)))
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
// under its boundary inside. Where no ground is known nothing says what stays.
func (u *upright) earth(ground []surface, boundary []place) {
	if len(ground) == 0 {
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
	high := points[0].Y
	for _, p := range points {
		if p.X < x+textWidth(u.size, text) {
			high = min(high, p.Y)
		}
	}
	u.write(penOf(u.set.State), Item{Points: []geom.Point{{X: x, Y: high - 0.6*u.size}}, Size: u.size, Anchor: Start, Text: text})
}

// rodLine is a grade rod to draw: its number, where along the drawing, how far
// aside on the paper, and the size of its figure.
type rodLine struct {
	plan.Number
	x, shift, size float64
}

// rod draws a grade rod as a dimension from the beam to the bottom with its
// figure along it, over the ground if it has room there. ok is false, and nothing
// is drawn, where another figure stands.
func (u *upright) rod(r rodLine) bool {
	foot := u.at(place{r.x, float64(r.Bottom)}).Add(geom.Vector{X: r.shift})
	top := foot.Add(geom.Vector{Y: -float64(r.Rod) * u.sz})
	f := FigureOf(u.Plan, r.Number)
	pen, text := penOfFigure(f), u.v.Figure(f)
	low := foot.Y
	if r.Ground != nil {
		if y := u.at(place{r.x, float64(*r.Ground)}).Y; y-top.Y > textWidth(r.size, text)+0.5*r.size {
			low = y
		}
	}
	gap := 0.25 * r.size
	if pen == Planned { // its blank hangs under the line
		gap = 0.5 * r.size
	}
	it := Item{Points: []geom.Point{{X: top.X - gap, Y: (top.Y + low) / 2}}, Size: r.size, Anchor: Middle, Upward: true, Text: text}
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
	sign := u.triangle(c)
	shift := 0.8 * sign.Width()
	if anchor == End {
		shift = -shift
	}
	it := Item{Points: []geom.Point{{X: c.X + shift, Y: c.Y - 0.35*u.size}}, Size: u.size, Anchor: anchor, Text: u.markText(key, e)}
	if u.free(it.covers()) {
		u.write(Ink, it)
		return
	}
	u.put(Ink, sign, u.size, it.Text)
}

// triangle is the sign of a level mark, its tip at a point; it keeps words off.
func (u *upright) triangle(c geom.Point) geom.Box {
	k := 0.45 * u.size
	u.ring(Ink, Hollow, c, c.Add(geom.Vector{X: k, Y: -1.4 * k}), c.Add(geom.Vector{X: -k, Y: -1.4 * k}))
	sign := around(c.Add(geom.Vector{Y: -0.7 * k}), k, 0.7*k)
	u.block(sign)
	return sign
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

// caption writes lines under the drawing and ends the paper under them.
func (u *upright) caption(y float64, texts ...string) {
	size := 0.9 * u.size
	for _, text := range texts {
		for _, line := range broken(text, size, u.right-u.left) {
			y += 1.3 * size
			u.write(Ink, Item{Points: []geom.Point{{X: u.left, Y: y}}, Size: size, Anchor: Start, Text: line})
		}
	}
	u.Height = y + 0.6*size
}

// broken breaks a text into lines of a width at its blanks.
func broken(text string, size, width float64) []string {
	var out []string
	line := ""
	for word := range strings.FieldsSeq(text) {
		switch {
		case line == "":
			line = word
		case textWidth(size, line+" "+word) <= width:
			line += " " + word
		default:
			out = append(out, line)
			line = word
		}
	}
	return append(out, line)
}
