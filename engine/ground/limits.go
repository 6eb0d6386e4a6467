package ground

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// check finds rings that enclose nothing because corners are missing or no
// places. A boundary that is nil is none.
func (o *Options) check() error {
	if o.Boundary != nil {
		if err := checkRing(o.Boundary, "ground.boundary_corners", "ground.boundary_not_finite"); err != nil {
			return err
		}
	}
	for i, h := range o.Holes {
		if err := checkRing(h, "ground.hole_corners", "ground.hole_not_finite", phrase.With("hole", i+1)); err != nil {
			return err
		}
	}
	return nil
}

// checkRing is a fault of the key few or odd, with args to name the ring.
func checkRing(r geom.Ring, few, odd phrase.Key, args ...phrase.Arg) error {
	if len(r) < 3 {
		args = append(args, phrase.With("corners", len(r)))
		return phrase.NewFault(phrase.New(few, args...), phrase.New("ground.ring_remedy"))
	}
	for i, p := range r {
		if !isMapped(p) {
			args = append(args, phrase.With("corner", i+1), phrase.With("x", p.X), phrase.With("y", p.Y))
			return phrase.NewFault(phrase.New(odd, args...), phrase.New("ground.ring_remedy"))
		}
	}
	return nil
}

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
	b.free = false
	l := layer{TIN: b.TIN, budget: crossingsAtLeast, quiet: true}
	for _, r := range rings {
		last := far
		for _, s := range ringStops(b.TIN, r) {
			v := far
			if s.known {
				v = l.stopVertex(s)
			}
			if last != far && v != far && last != v && !l.lay(leg{last, v}) {
				return false
			}
			if last = v; s.open {
				last = far
			}
		}
	}
	return true
}

// ringStops are the stops of all sides of a ring.
func ringStops(n net, r geom.Ring) (stops []stop) {
	for i := range r {
		a, b := r.Side(i)
		trace(n, a, b, func(s stop) bool {
			stops = append(stops, s)
			return true
		})
	}
	return stops
}

// stopVertex is the vertex at a stop, made if there is none. Where a ring leaves
// the survey it lies on the hull's edge or the least bit outside, so that no sliver
// is left between it and the edge.
func (l *layer) stopVertex(s stop) int32 {
	p := s.at
	f := l.find(p, 0)
	if s.rim || l.isGhost(f) {
		p = l.ontoHull(p)
		l.box = l.box.With(p)
		f = l.find(p, f)
	}
	return l.addVertex(p, s.z, f)
}

// ontoHull is the place nearest to p, rounded outward, on the hull's edge that is
// nearest.
func (t *TIN) ontoHull(p geom.Point) geom.Point {
	var u, v geom.Point
	off := math.Inf(1)
	for e := range t.hull {
		a, b := t.pts[t.from(e)], t.pts[t.to(e)]
		if d := p.Distance(a.Toward(b, alongLeg(p, a, b))); d < off {
			u, v, off = a, b, d
		}
	}
	if d := v.Sub(u); math.Abs(d.X) < math.Abs(d.Y) { // by its mirror image
		q := outward(geom.Point{X: -u.Y, Y: -u.X}, geom.Point{X: -v.Y, Y: -v.X}, geom.Point{X: -p.Y, Y: -p.X}, -1)
		return geom.Point{X: -q.Y, Y: -q.X}
	}
	return outward(u, v, p, 1)
}

// outward is p moved north or south onto u–v, which runs more east or west than
// that, or beyond it to the right, for hand −1 to the left.
func outward(u, v, p geom.Point, hand int) geom.Point {
	d := v.Sub(u)
	p.X = min(max(p.X, min(u.X, v.X)), max(u.X, v.X))
	p.Y = u.Y + float64((p.X-u.X)*(d.Y/d.X))
	most := max(math.Abs(u.Y), math.Abs(v.Y))
	step := (math.Nextafter(most, math.Inf(1)) - most) * float64(hand)
	if d.X > 0 {
		step = -step
	}
	for geom.Orient(u, v, p)*hand > 0 {
		p.Y += step
		step *= 2
	}
	return p
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
