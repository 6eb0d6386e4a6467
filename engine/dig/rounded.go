package dig

import (
	"math"

	"spadework/engine/geom"
)

// roundSteps is how many planes stand for the cone round a right corner. Their
// section has the area of the cone's at every height, so that under level ground
// the volume is exact; roundBound tells how far it may be off elsewhere.
const roundSteps = 24

// roundedCells are the cells with an arc at each corner of two like sides: the
// places outside are shared out between sides, straight out from each, and the
// corners between them. Unlike sides are carried on till they meet.
func (p *piece) roundedCells(top float64) []cell {
	reach := p.reach(top)
	core := layered{reach, []linear{p.bottom}}
	for i := range p.faces {
		core.patch = core.kept(p.faces[i].beyond.negative(), p.faces[i].footBorder())
	}
	out := core.highest(nil)
	n := len(p.faces)
	for i := range p.faces {
		f, next := &p.faces[i], &p.faces[(i+1)%n]
		out = p.strip(f, &reach, out)
		out = p.corner(f, next, &reach, top, out)
	}
	return out
}

// footBorder is the border between bottom and side.
func (f *face) footBorder() border {
	if f.wall() || len(f.rise.shelves) == 0 || f.rise.jumps(0) {
		return wall
	}
	return crease
}

// strip adds the cells straight out from a side.
func (p *piece) strip(f *face, reach *patch, out []cell) []cell {
	if f.wall() || len(f.rise.shelves) == 0 {
		return out
	}
	here := reach.kept(f.beyond, f.footBorder())
	here = here.kept(beyond(f.from, f.along), wall)
	here = here.kept(beyond(f.to, f.along).negative(), wall)
	return f.raised(here, out)
}

// raised adds the cells of a patch beyond a face, on the face's shelves alone.
func (f *face) raised(here patch, out []cell) []cell {
	if here.empty() {
		return out
	}
	list := f.over([]layered{{here, nil}})
	for i := range list {
		if l := &list[i]; len(l.planes) > 0 && l.area() > sliver {
			out = append(out, cell{patch: l.patch, plane: l.planes[0]})
		}
	}
	return out
}

// corner adds the cells between the ends of two sides.
func (p *piece) corner(f, next *face, reach *patch, top float64, out []cell) []cell {
	if f.wall() && next.wall() {
		return out
	}
	here := *reach
	if f.wall() {
		here = here.kept(next.beyond, next.footBorder())
	} else {
		here = here.kept(beyond(f.to, f.along), wall)
	}
	if next.wall() {
		here = here.kept(f.beyond, f.footBorder())
	} else {
		here = here.kept(beyond(next.from, next.along).negative(), wall)
	}
	a, b, round := arms(f, next)
	if !round {
		return carriedOn(f, next, here, out)
	}
	rise, z := f.rise, f.foot.at(f.to)
	if f.wall() {
		rise, z = next.rise, next.foot.at(next.from)
	}
	slices := fan(f.to, a, b)
	for i, g := range slices {
		part := here
		if i > 0 {
			part = part.kept(leftOf(f.to, f.to.Add(g.along)), crease)
		}
		if i+1 < len(slices) {
			part = part.kept(leftOf(f.to, f.to.Add(g.out)).negative(), crease)
		}
		part = part.kept(g.cone.negative().raised(rise.width(max(0, top-z))), wall)
		wedge := face{label: 0, beyond: g.cone, foot: linear{c: z}, rise: rise}
		out = wedge.raised(part, out)
	}
	return out
}

// arms are the directions between which a corner is rounded, counter-clockwise;
// false where it is not.
func arms(f, next *face) (a, b geom.Vector, round bool) {
	a, b = f.out, next.out
	switch {
	case f.straightB:
		return a, b, false
	case f.wall(): // the wall carried on outward
		a = f.along
	case next.wall():
		b = next.along.Scale(-1)
	default:
		if !f.rise.alike(next.rise) {
			return a, b, false
		}
	}
	return a, b, a.Cross(b) > straight && len(f.rise.shelves)+len(next.rise.shelves) > 0
}

// carriedOn adds the cells of a corner whose sides are carried on.
func carriedOn(f, next *face, here patch, out []cell) []cell {
	list := []layered{{here, nil}}
	for _, g := range [...]*face{f, next} {
		if g.wall() {
			continue
		}
		if len(g.rise.shelves) == 0 {
			return out
		}
		list = g.over(list)
	}
	for i := range list {
		if len(list[i].planes) > 0 {
			k := len(out)
			if out = list[i].highest(out); k < len(out) {
				out[k].floor = false
			}
		}
	}
	return out
}

// slice is one plane's share of a corner: between the directions along and out
// from the corner the distance counts as cone.
type slice struct {
	along, out geom.Vector
	cone       linear
}

// fan cuts the corner at c between two directions into slices.
func fan(c geom.Point, a, b geom.Vector) []slice {
	angle := math.Atan2(a.Cross(b), a.Dot(b))
	n := max(1, int(math.Ceil(roundSteps*angle/(math.Pi/2)-1e-9)))
	half := angle / float64(2*n)
	sin, cos := math.Sincos(half)
	k := math.Sqrt(sin / cos / half)
	turned := func(t float64) geom.Vector {
		s, c := math.Sincos(t)
		return geom.Vector{X: float64(a.X*c) - float64(a.Y*s), Y: float64(a.X*s) + float64(a.Y*c)}
	}
	out := make([]slice, n)
	for i := range out {
		t := float64(2*i) * half
		out[i] = slice{turned(t), turned(t + 2*half), coneOf(c, turned(t+half), k)}
	}
	return out
}

// coneOf is the distance from c along a direction, times k.
func coneOf(c geom.Point, dir geom.Vector, k float64) linear {
	l := beyond(c, dir)
	return linear{l.c * k, l.x * k, l.y * k}
}

// roundedHeight is the elevation over a place outside of the piece's ring by the
// side or corner that it lies out from; false beyond vertical sides.
func (p *piece) roundedHeight(at geom.Point) (float64, bool) {
	n := len(p.faces)
	for i := range p.faces {
		f, next := &p.faces[i], &p.faces[(i+1)%n]
		if d := f.distance(at); !f.wall() && f.beyond.at(at) > 0 && d >= 0 && d <= f.length() {
			return f.height(at)
		}
		switch v := at.Sub(f.to); {
		case f.wall() && next.wall():
		case !f.wall() && v.Dot(f.along) < 0, f.wall() && !(next.beyond.at(at) > 0):
		case !next.wall() && v.Dot(next.along) > 0, next.wall() && !(f.beyond.at(at) > 0):
		default:
			return cornerHeight(f, next, at)
		}
	}
	return 0, false
}

// height is the elevation of a side over a place beyond it.
func (f *face) height(at geom.Point) (float64, bool) {
	h, ok := f.rise.at(max(0, f.beyond.at(at)))
	return f.foot.at(at) + h, ok
}

// cornerHeight is the elevation over a place out from a corner.
func cornerHeight(f, next *face, at geom.Point) (float64, bool) {
	if _, _, round := arms(f, next); round {
		side, z := f, f.foot.at(f.to)
		if f.wall() {
			side, z = next, next.foot.at(next.from)
		}
		h, ok := side.rise.at(at.Distance(f.to))
		return z + h, ok
	}
	z := math.Inf(-1)
	for _, g := range [...]*face{f, next} {
		if g.wall() {
			continue
		}
		h, ok := g.height(at)
		if !ok {
			return 0, false
		}
		z = max(z, h)
	}
	return z, true
}

// roundBound is how much volume the planes of the corners may miss on uneven
// ground up to top: over a height H and out to w, n slices of half angle x miss
// at most n·w²·(tan x − x) of area at each height.
func (p *piece) roundBound(top float64) float64 {
	if !p.rounded {
		return 0
	}
	sum := 0.0
	for i := range p.faces {
		f := &p.faces[i]
		w := f.width(top)
		const x = math.Pi / (4 * roundSteps)
		sum += float64(w*w) * max(0, top-f.low) * 2 * 2 * roundSteps * (math.Tan(x) - x)
	}
	return sum
}
