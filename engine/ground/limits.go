package ground

import "spadework/engine/geom"

// layLimits takes the ground away outside the boundary, inside holes and where
// edges are too long. Rings are laid into the mesh like breaklines, with the
// surface's own height at each place where they cross its edges, so that the
// ground along them stays as it was.
func (b *builder) layLimits() bool {
	rings := b.options.Holes
	if len(b.options.Boundary) > 0 {
		rings = append([]geom.Ring{b.options.Boundary}, rings...)
	}
	if len(rings) > 0 && !b.layRings(rings) {
		return false
	}
	longest := b.options.LongestEdge
	if len(rings) == 0 && longest == 0 {
		return true
	}
	for f := range int32(len(b.faces)) {
		if !b.isGhost(f) && (longest > 0 && b.longestEdge(f) > longest || !b.within(f)) {
			b.faces[f].v[3] |= noGround
		}
	}
	return true
}

// layRings forces the sides of rings as far as they lie on the survey.
func (b *builder) layRings(rings []geom.Ring) bool {
	if b.at == nil {
		b.indexCorners()
	}
	l := layer{TIN: b.TIN, budget: crossingsAtLeast, quiet: true}
	for _, r := range rings {
		if len(r) < 3 {
			continue
		}
		stops := profile(b.TIN, append(r[:len(r):len(r)], r[0]))
		last := far
		for _, s := range stops {
			v := far
			if s.Known {
				f := l.find(s.At, 0)
				if l.isGhost(f) { // rounded out of the hull
					f = l.realEdge(f) >> 2
					v = l.nearestCorner(f, s.At)
				} else {
					v = l.addVertex(s.At, s.Z, f)
				}
			}
			if last != far && v != far && last != v && !l.lay(leg{last, v}) {
				return false
			}
			if last = v; s.Gap {
				last = far
			}
		}
	}
	return true
}

// nearestCorner is the corner of face f nearest to p.
func (m *mesh) nearestCorner(f int32, p geom.Point) int32 {
	v := &m.faces[f].v
	best := v[0]
	for _, c := range v[1:3] {
		if m.pts[c].Distance(p) < m.pts[best].Distance(p) {
			best = c
		}
	}
	return best
}

// longestEdge is the length of the longest edge of face f.
func (m *mesh) longestEdge(f int32) float64 {
	v := &m.faces[f].v
	a, b, c := m.pts[v[0]], m.pts[v[1]], m.pts[v[2]]
	return max(a.Distance(b), b.Distance(c), c.Distance(a))
}

// within says that the middle of face f is inside the boundary and in no hole.
// As the sides of the rings are edges, it speaks for the whole face.
func (b *builder) within(f int32) bool {
	v := &b.faces[f].v
	mid := geom.Ring{b.pts[v[0]], b.pts[v[1]], b.pts[v[2]]}.Centroid()
	if len(b.options.Boundary) > 0 && b.options.Boundary.Contains(mid) == geom.Outside {
		return false
	}
	for _, h := range b.options.Holes {
		if h.Contains(mid) == geom.Inside {
			return false
		}
	}
	return true
}
