package dig

import "spadework/engine/geom"

// border is what lies across a side of a patch.
type border uint8

// The borders. Across a Crease the surface goes on without a jump, so that both
// sides of it are dug or none; at a Wall it may jump; Rim is the line where the
// cut comes to daylight; Net is a side of a triangle of the ground.
const (
	crease border = iota
	wall
	brink
	net
)

// patch is a convex ring in plan, counter-clockwise, with the border across each
// side; side i runs from corner i on.
type patch struct {
	at     []geom.Point
	across []border
}

// patchOf is a ring with one border all round.
func patchOf(ring []geom.Point, b border) patch {
	p := patch{at: append([]geom.Point(nil), ring...), across: make([]border, len(ring))}
	for i := range p.across {
		p.across[i] = b
	}
	return p
}

// patchRoom is an empty patch with room for n corners.
func patchRoom(n int) patch {
	return patch{make([]geom.Point, 0, n), make([]border, 0, n)}
}

// empty says that nothing is left.
func (p *patch) empty() bool { return len(p.at) < 3 }

// bounds is the box around the patch.
func (p *patch) bounds() geom.Box { return geom.BoxOf(p.at...) }

// area is the area in plan, ≥ 0.
func (p *patch) area() float64 { return max(0, geom.Ring(p.at).Area()) }

// keep puts into out what of p lies where l ≥ 0 (Sutherland and Hodgman 1974);
// the side along l = 0 has the border b. out must not be p.
func (p *patch) keep(out *patch, l linear, b border) {
	out.at, out.across = out.at[:0], out.across[:0]
	n := len(p.at)
	if n == 0 {
		return
	}
	here := l.at(p.at[0])
	first := here
	for i, at := range p.at {
		j, next := i+1, first
		if j == n {
			j = 0
		} else {
			next = l.at(p.at[j])
		}
		switch {
		case here >= 0 && next >= 0:
			out.add(at, p.across[i])
		case here > 0:
			out.add(at, p.across[i])
			out.add(at.Toward(p.at[j], here/(here-next)), b)
		case here == 0:
			out.add(at, b)
		case next > 0:
			out.add(at.Toward(p.at[j], here/(here-next)), p.across[i])
		}
		here = next
	}
}

func (p *patch) add(at geom.Point, b border) {
	p.at = append(p.at, at)
	p.across = append(p.across, b)
}

// kept is what of p lies where l ≥ 0, as a patch of its own.
func (p *patch) kept(l linear, b border) patch {
	out := patch{make([]geom.Point, 0, len(p.at)+1), make([]border, 0, len(p.at)+1)}
	p.keep(&out, l, b)
	return out
}

// least and most of l over the patch.
func (p *patch) span(l linear) (least, most float64) {
	for i, at := range p.at {
		v := l.at(at)
		if i == 0 || v < least {
			least = v
		}
		if i == 0 || v > most {
			most = v
		}
	}
	return least, most
}

// sliver is the area in square metres under which a patch is the rounding of
// its lines, not a place: at a thousand metres of side, a nanometre of width.
const sliver = 1e-12
