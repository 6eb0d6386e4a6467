package draw

import (
	"strings"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// profile is the upright drawing of a run.
type profile struct {
	*upright
	parts []dig.Part   // along the run
	way   []geom.Point // its line, longer at both ends
	from  float64      // station of the first point of way, before the run
}

// stretches are the exaggerations of height that profiles offer.
var stretches = []float64{10, 5, 4, 2, 1}

// Profile draws a run along its line: ground, bottom with its tolerance, the
// beam, a grade rod at every point that has room, level marks and stations. Of a
// field it shows the first trench. ok is false for a dig that is no run.
func Profile(c Cut, v Voice, f Frame) (scene Scene, ok bool) {
	r := &profile{upright: newUpright(c, v, f), parts: runParts(c.Dig)}
	if len(r.parts) == 0 {
		return Scene{}, false
	}
	r.extend()
	ground := surfaces(c.Plan.Job.Existing, r.way, r.from)
	r.fit(r.extent(ground), r.reaches(), stretches)
	r.earth(ground, r.boundary(ground))
	r.surface(ground)
	r.bottoms()
	r.ends(ground)
	if r.hasBeam {
		r.ray(func(x float64) float64 { return float64(r.set.Plane.Beam(r.pointAt(x))) })
		r.rods()
	}
	r.stations()
	r.caption(r.low+1.6*f.Type, r.scaleText())
	return *r.Scene, true
}

// runParts are the parts of a run along its line, of a field those of the first
// trench.
func runParts(d plan.Dig) []dig.Part {
	var out []dig.Part
	for _, part := range d.Parts {
		if !part.Run() || len(part.Line) < 2 {
			continue
		}
		if d.Excavation.Count > 1 && len(out) > 0 && trench(part.ID) != trench(out[0].ID) {
			continue
		}
		out = append(out, part)
	}
	return out
}

// trench is the number of the trench of a field that a part belongs to.
func trench(id string) string {
	before, _, _ := strings.Cut(id, ".")
	return before
}

func (r *profile) first() dig.Part { return r.parts[0] }
func (r *profile) last() dig.Part  { return r.parts[len(r.parts)-1] }

// extend makes the line of the run, longer at both ends by a quarter.
func (r *profile) extend() {
	for _, part := range r.parts {
		for _, p := range part.Line {
			if n := len(r.way); n == 0 || r.way[n-1] != p {
				r.way = append(r.way, p)
			}
		}
	}
	more := 0.25 * float64(r.last().To-r.first().From)
	n := len(r.way)
	r.way[0] = r.way[0].Add(r.way[0].Sub(r.way[1]).Unit().Scale(more))
	r.way[n-1] = r.way[n-1].Add(r.way[n-1].Sub(r.way[n-2]).Unit().Scale(more))
	r.from = float64(r.first().From) - more
}

// pointAt is the place of a station, also before and past the line.
func (r *profile) pointAt(x float64) geom.Point {
	left := x - r.from
	for i := 1; i < len(r.way); i++ {
		a, b := r.way[i-1], r.way[i]
		leg := a.Distance(b)
		if left <= leg || i == len(r.way)-1 {
			return a.Add(b.Sub(a).Unit().Scale(left))
		}
		left -= leg
	}
	return r.way[0]
}

// pieces are the ends of the bottom of every part.
func (r *profile) pieces() [][2]place {
	var out [][2]place
	for _, p := range r.parts {
		out = append(out, [2]place{
			{float64(p.From), float64(p.BottomAt(p.Line[0]))},
			{float64(p.To), float64(p.BottomAt(p.Line[len(p.Line)-1]))},
		})
	}
	return out
}

// wells are the bottoms of the structures of the run.
func (r *profile) wells() [][2]place {
	var out [][2]place
	for _, s := range r.Dig.Excavation.Structures {
		part, ok := r.Dig.Part(s.ID)
		if !ok {
			continue
		}
		half := float64(s.Size[1]/2 + s.Working)
		z := part.Bottom.Z0
		out = append(out, [2]place{{float64(s.Station) - half, z}, {float64(s.Station) + half, z}})
	}
	return out
}

// sideShare is how much paper a drawing has at each side of its dig, at most, as
// a share of the dig; the beam is kept on the paper so far out.
const sideShare = 0.4

// markOut is how far outside the dig its level marks stand, in sizes.
const markOut = 2.2

// reaches are the ends of the run with their level marks.
func (r *profile) reaches() []reach {
	room := (markOut+0.8)*r.size + max(r.markWidth("draw.ground", 100), r.markWidth("draw.bottom", 100))
	return []reach{{float64(r.first().From), room, 0}, {float64(r.last().To), 0, room}}
}

func (r *profile) extent(ground []surface) extent {
	e := newExtent()
	for _, s := range ground {
		e.with(s...)
	}
	for _, p := range append(r.pieces(), r.wells()...) {
		e.with(p[0], p[1])
	}
	if r.hasBeam {
		from, to := float64(r.first().From), float64(r.last().To)
		for _, x := range []float64{from - sideShare*(to-from), to + sideShare*(to-from)} {
			e.with(place{x, float64(r.set.Plane.Beam(r.pointAt(x)))})
		}
	}
	return e
}

// boundary is the earth that stays, from the left: ground, side, bottom, side,
// ground. Where the ground is not known it begins or ends at the bottom.
func (r *profile) boundary(ground []surface) []place {
	from, to := float64(r.first().From), float64(r.last().To)
	var out, right []place
	for _, s := range ground {
		if z, ok := s.heightAt(from); ok {
			for _, p := range s {
				if p.x < from {
					out = append(out, p)
				}
			}
			out = append(out, place{from, z})
		}
		if z, ok := s.heightAt(to); ok {
			right = append(right, place{to, z})
			for _, p := range s {
				if p.x > to {
					right = append(right, p)
				}
			}
		}
	}
	for _, p := range r.pieces() {
		out = append(out, p[0], p[1])
	}
	return append(out, right...)
}

// surface draws the ground and the two ends of the dig.
func (r *profile) surface(ground []surface) {
	for _, s := range ground {
		r.line(Ground, r.all(s)...)
	}
	pieces := r.pieces()
	for _, end := range []place{pieces[0][0], pieces[len(pieces)-1][1]} {
		for _, s := range ground {
			if z, ok := s.heightAt(end.x); ok {
				r.line(Dug, r.at(end), r.at(place{end.x, z}))
			}
		}
	}
}

func (r *profile) bottoms() {
	pieces := r.pieces()
	for i, p := range pieces {
		if i > 0 {
			r.line(Dug, r.at(pieces[i-1][1]), r.at(p[0]))
		}
		r.bottomLine(p[0], p[1])
	}
	for _, p := range r.wells() {
		r.bottomLine(p[0], p[1])
		for _, end := range p {
			r.line(Dug, r.at(end), r.at(place{end.x, float64(r.bottomAt(end.x))}))
		}
	}
}

// bottomAt is the bottom of the run at a station.
func (r *profile) bottomAt(x float64) unit.Elevation {
	part := r.last()
	for _, p := range r.parts {
		if x <= float64(p.To) {
			part = p
			break
		}
	}
	return part.BottomAt(r.pointAt(x))
}

// ends marks ground and bottom at both ends, outside the dig.
func (r *profile) ends(ground []surface) {
	pieces := r.pieces()
	for _, e := range []struct {
		at     place
		way    float64
		anchor Anchor
	}{{pieces[0][0], -1, End}, {pieces[len(pieces)-1][1], 1, Start}} {
		c := r.at(e.at)
		out := geom.Vector{X: e.way * markOut * r.size}
		r.line(Fine, c, c.Add(geom.Vector{X: e.way * 10 * r.size}))
		r.mark(c.Add(out), e.anchor, "draw.bottom", unit.Elevation(e.at.z))
		for _, s := range ground {
			x := e.at.x + out.X/r.sx
			if z, ok := s.heightAt(x); ok {
				r.mark(r.at(place{x, z}), e.anchor, "draw.ground", unit.Elevation(z))
			}
		}
	}
}

// rods draws the ends first, then every point that has room between them.
func (r *profile) rods() {
	var ends, between []rodLine
	for _, n := range r.Plan.Numbers {
		x, on := r.station(n)
		shift := map[dig.PointKind]float64{dig.Before: -0.6, dig.After: 0.9}[n.Kind] * r.size
		rod := rodLine{n, float64(x), shift, r.size}
		switch {
		case !on || n.Excavation != r.Dig.Excavation.ID || n.Setup != r.set.ID || n.From != plan.FromBeam:
		case x == r.first().From || x == r.last().To:
			ends = append(ends, rod)
		default:
			between = append(between, rod)
		}
	}
	for _, rod := range append(ends, between...) {
		if !r.rod(rod) {
			r.Unplaced++
		}
	}
}

// station is where along the run a number stands; on is false for those of other
// trenches.
func (r *profile) station(n plan.Number) (x unit.Station, on bool) {
	for _, s := range r.Dig.Excavation.Structures {
		if s.ID == n.Part {
			return s.Station, true
		}
	}
	return n.Station, n.HasStation && r.has(n.Part)
}

func (r *profile) has(part string) bool {
	for _, p := range r.parts {
		if p.ID == part {
			return true
		}
	}
	return false
}

// stations writes the ends along the lower edge of the earth, then every point
// that has room between them; each has its tick.
func (r *profile) stations() {
	stations := []unit.Station{r.first().From, r.last().To}
	for _, pt := range r.Dig.Points(r.Plan.Job.Interval) {
		if r.has(pt.Part) {
			stations = append(stations, pt.Station)
		}
	}
	size := 0.85 * r.size
	for _, st := range stations {
		x := r.at(place{float64(st), 0}).X
		it := Item{Points: []geom.Point{{X: x, Y: r.low + 1.5*size}}, Size: size, Anchor: Middle, Text: r.v.Style.Station(st)}
		if r.free(it.covers()) {
			r.line(Fine, geom.Point{X: x, Y: r.low}, geom.Point{X: x, Y: r.low + 0.5*size})
			r.write(Ink, it)
		}
	}
}

// scaleText tells the scale and how much the heights are exaggerated.
func (r *profile) scaleText() string {
	text := r.v.paper(r.written, r.frame)
	if r.exaggerate != 1 {
		text += ". " + r.v.say("draw.exaggerated", phrase.With("times", int(r.exaggerate)))
	}
	if r.hasBeam && r.set.State == beam.Planned {
		text += ". " + r.v.say("draw.planned")
	}
	return text
}
