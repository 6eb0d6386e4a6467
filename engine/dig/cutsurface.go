package dig

import (
	"slices"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Facets is ground as triangles; every ground.Surface is one.
type Facets interface {
	Facets(box geom.Box, visit func(a, b, c geom.Point3) bool)
}

// CutSurface is what a dig is cut to: its bottoms, and around them the sides as
// they rise outward. Over a convex part it is the highest of bottom and sides;
// of several parts, and at a reflex corner, the lowest holds. The zero
// CutSurface has no parts.
type CutSurface struct {
	origin geom.Point // what the pieces count from
	z0     float64
	pieces []piece

	upright []cell // of one piece with vertical sides: the same under any ground; nil for others
}

// CutSurface is the surface that a resolved dig is cut to.
func (d Dig) CutSurface() CutSurface {
	if len(d.Parts) == 0 {
		return CutSurface{}
	}
	c := CutSurface{origin: d.Parts[0].Outline[0]}
	c.z0 = d.Parts[0].Bottom.At(c.origin)
	c.pieces = d.pieces(c.origin, c.z0)
	if c.vertical() {
		c.upright = c.laid(0)
	}
	return c
}

// Height is the elevation of the cut over p; false where no part of the dig
// reaches, however high the ground: beyond a vertical side.
func (c CutSurface) Height(p geom.Point) (z unit.Elevation, ok bool) {
	at := geom.Point{}.Add(p.Sub(c.origin))
	best := 0.0
	for i := range c.pieces {
		if v, reaches := c.pieces[i].height(at); reaches && (!ok || v < best) {
			best, ok = v, true
		}
	}
	return unit.Elevation(c.z0 + best), ok
}

// height is the elevation of the piece's cut over p; false beyond its walls and
// vertical sides.
func (p *piece) height(at geom.Point) (float64, bool) {
	z := p.bottom.at(at)
	outside := false
	for _, faces := range [...][]face{p.faces, p.beside} {
		for i := range faces {
			f := &faces[i]
			if f.beyond.at(at) <= 0 {
				continue
			}
			outside = true
			h, ok := f.height(at)
			if !ok || f.wall() {
				return 0, false
			}
			z = max(z, h)
		}
	}
	if p.rounded && outside {
		return p.roundedHeight(at)
	}
	return z, true
}

// Within is the cut of a convex piece of the dug outline alone, dug before its
// neighbours: the ring's sides on the outline rise as the dig's do, those across
// it stand vertical. The ring runs counter-clockwise.
func (c CutSurface) Within(ring geom.Ring) CutSurface {
	out := CutSurface{origin: c.origin, z0: c.z0}
	walls := make([]face, len(ring))
	for i := range ring {
		from, to := ring.Side(i)
		walls[i] = newFace(geom.Point{}.Add(from.Sub(c.origin)), geom.Point{}.Add(to.Sub(c.origin)), -1, linear{})
	}
	for i := range c.pieces {
		if p, ok := c.pieces[i].within(walls); ok {
			out.pieces = append(out.pieces, p)
		}
	}
	return out
}

// within is the piece between walls; false where nothing of it is left.
func (p *piece) within(walls []face) (piece, bool) {
	plan := patchOf(p.ring, crease)
	out := *p
	out.faces = append([]face(nil), p.faces...)
	for i := range walls {
		w := &walls[i]
		plan = plan.kept(w.beyond.negative(), wall)
		if plan.empty() || plan.area() <= sliver {
			return piece{}, false
		}
		if !p.bounds(w) {
			out.faces = append(out.faces, *w)
		}
	}
	out.ring = plan.at
	return out, true
}

// bounds says that a wall runs along a side of the piece that rises.
func (p *piece) bounds(w *face) bool {
	for i := range p.faces {
		f := &p.faces[i]
		if !f.wall() && f.along.Dot(w.along) > 0 &&
			onLine(f.beyond.at(w.from)) && onLine(f.beyond.at(w.to)) {
			return true
		}
	}
	return false
}

// onLine says that a distance is within the micrometre that places are snapped to.
func onLine(d float64) bool { return d <= snap && d >= -snap }

// cells are the planes of the cut under ground that is nowhere higher than top,
// without overlaps.
func (c *CutSurface) cells(top float64) []cell {
	if c.upright != nil {
		return c.upright
	}
	return c.laid(top)
}

// vertical says that the cut is one piece of which no side leans or steps out, so
// that its cells do not hang on the ground.
func (c *CutSurface) vertical() bool {
	leans := func(f face) bool { return len(f.rise.shelves) > 0 }
	if len(c.pieces) != 1 || c.pieces[0].rounded {
		return false
	}
	return !slices.ContainsFunc(c.pieces[0].faces, leans) && !slices.ContainsFunc(c.pieces[0].beside, leans)
}

// laid lays the cells out.
func (c *CutSurface) laid(top float64) []cell {
	var out []cell
	for i := range c.pieces {
		from, own := len(out), c.pieces[i].cells(top)
		if i == 0 {
			out = own
		} else {
			out = append(out, own...)
		}
		for k := from; k < len(out); k++ {
			out[k].piece = i
		}
	}
	if len(c.pieces) > 1 {
		out = deepest(out)
	}
	return out
}

// boxesOf are the boxes around cells.
func boxesOf(cells []cell) []geom.Box {
	out := make([]geom.Box, len(cells))
	for i := range cells {
		out[i] = cells[i].bounds()
	}
	return out
}
