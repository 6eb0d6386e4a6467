package dig

import "spadework/engine/geom"

// piece is a convex piece of a part with all that bounds it. Its faces move
// outward as they rise, its walls stay.
type piece struct {
	bottom  linear
	ring    []geom.Point // in plan, counter-clockwise
	faces   []face       // one to a side of ring, walls among them
	beside  []face       // sides of the dig round the corner from those: they bound the piece too
	rounded bool
}

// pieces cuts the parts of a dig into convex pieces. Places count from origin,
// elevations from z0.
func (d Dig) pieces(origin geom.Point, z0 float64) []piece {
	var out []piece
	all := make([][]face, len(d.Parts))
	for k := range d.Parts {
		all[k] = d.facesOf(&d.Parts[k], origin, z0)
	}
	for k := range d.Parts {
		s := splitter{faces: all[k]}
		ring := make([]edge, len(all[k]))
		for i := range ring {
			ring[i] = edge{at: all[k][i].from, face: i, corner: true}
		}
		s.split(ring)
		for _, r := range s.pieces {
			p := s.piece(r)
			p.bottom = localPlane(&d.Parts[k], origin, z0)
			p.rounded = d.Excavation.Rounded
			if d.Excavation.Kind.Area() {
				p.beside = d.beside(&p, all)
			}
			out = append(out, p)
		}
	}
	return out
}

// localPlane is a part's bottom in the frame of the pieces.
func localPlane(p *Part, origin geom.Point, z0 float64) linear {
	return through(geom.Point{}.Add(p.Bottom.Origin.Sub(origin)), p.Bottom.Z0-z0, p.Bottom.Slope)
}

// facesOf are the sides of a part's dug outline.
func (d Dig) facesOf(p *Part, origin geom.Point, z0 float64) []face {
	bottom := localPlane(p, origin, z0)
	out := make([]face, len(p.Outline))
	for i := range p.Outline {
		from, to := p.Outline.Side(i)
		label := i
		if p.outer != nil {
			label = p.outer[i]
		}
		out[i] = newFace(geom.Point{}.Add(from.Sub(origin)), geom.Point{}.Add(to.Sub(origin)), label, bottom)
		if label >= 0 {
			out[i].rise = riseOf(d.slope(label))
		}
	}
	return out
}

// slope is that of side i of the counter-clockwise outline.
func (d Dig) slope(i int) Slope {
	each := d.Excavation.Sides.Each
	switch {
	case len(each) == 0 || i >= len(each):
		return d.Excavation.Sides.All
	case d.Turned:
		return each[len(each)-1-i]
	}
	return each[i]
}

// piece turns a convex ring of sides into a piece without its bottom.
func (s *splitter) piece(ring []edge) piece {
	n := len(ring)
	p := piece{ring: make([]geom.Point, 0, n)}
	if len(s.faces) == n { // nothing was cut
		p.faces = s.faces
		for _, e := range ring {
			p.ring = append(p.ring, e.at)
		}
		return p
	}
	p.faces = make([]face, 0, n)
	for i, e := range ring {
		f := s.faces[e.face]
		f.from, f.to = e.at, ring[(i+1)%n].at
		f.straightA, f.straightB = !e.corner, !ring[(i+1)%n].corner
		p.ring = append(p.ring, e.at)
		p.faces = append(p.faces, f)
	}
	return p
}

// beside are the sides of an area round a convex corner from those of the piece
// and not its own: where an edge of a slab ends, or a cut at a reflex corner,
// the piece still ends where they do.
func (d Dig) beside(p *piece, all [][]face) []face {
	n := sides(all)
	if len(p.faces) == n { // the whole outline
		return nil
	}
	var out []face
	for i := range p.faces {
		f := &p.faces[i]
		for _, part := range all {
			for k := range part {
				g := &part[k]
				if !f.wall() && !g.wall() && meetConvex(f, g, n) && !p.has(g.label, out) && p.under(g) {
					out = append(out, *g)
				}
			}
		}
	}
	return out
}

// sides is how many sides the outline of the dig has.
func sides(all [][]face) int {
	n := 0
	for _, part := range all {
		for k := range part {
			n = max(n, part[k].label+1)
		}
	}
	return n
}

// meetConvex says that the sides of two faces are neighbours on an outline of n
// sides at a convex corner.
func meetConvex(f, g *face, n int) bool {
	switch g.label {
	case (f.label + 1) % n:
		return f.along.Cross(g.along) > straight
	case (f.label + n - 1) % n:
		return g.along.Cross(f.along) > straight
	}
	return false
}

// has says that a side is among the faces of the piece or in more.
func (p *piece) has(label int, more []face) bool {
	for i := range p.faces {
		if p.faces[i].label == label {
			return true
		}
	}
	for i := range more {
		if more[i].label == label {
			return true
		}
	}
	return false
}

// under says that the whole piece lies inside of a side's line.
func (p *piece) under(g *face) bool {
	for _, at := range p.ring {
		if g.beyond.at(at) > snap {
			return false
		}
	}
	return true
}
