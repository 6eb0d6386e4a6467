package ground

import (
	"math"
	"math/bits"

	"spadework/engine/geom"
)

// insert adds vertex v to a Delaunay mesh (Bowyer 1981, Watson 1981): the faces
// whose circle holds v are removed and the cavity is filled with a fan about v.
// The walk starts at face near. It returns a face at v; or, if a vertex lies at
// the same place already, that vertex in same (else far) and a face at it.
//
// The cavity has no vertex inside, so the faces in it form a tree and each is
// met once; walking the tree in order meets the rim counter-clockwise.
func (m *mesh) insert(v, near int32) (f, same int32) {
	p := m.pts[v]
	f = m.locate(p, near)
	if same = m.cornerAt(f, p); same != far {
		return f, same
	}
	m.cavity(f, p)
	return m.fan(v), far
}

// cornerAt is the corner of face f that lies at p, far if none does. The
// distances of others are noted.
func (m *mesh) cornerAt(f int32, p geom.Point) int32 {
	for _, v := range m.faces[f].v[:3] {
		if v >= 0 {
			if m.pts[v] == p {
				return v
			}
			m.noteClose(m.pts[v], p)
		}
	}
	return far
}

// locate walks from face f to the face that holds p, inside or on its edge; or
// to a ghost face whose hull edge has p strictly outside. In a Delaunay mesh
// the walk always ends (De Floriani, Falcidieno, Nagy, Pienovi 1991).
func (m *mesh) locate(p geom.Point, f int32) int32 {
	e := f << 2
	if m.isGhost(f) {
		e = m.realEdge(f)
	}
	if m.side(e, p) < 0 {
		e = m.twin(e)
	}
	faces, pts := m.faces, m.pts
	for {
		// p is on the left of e or on it.
		fc := &faces[e>>2]
		i := uint(e & 3)
		a, b, c := fc.v[9>>(i*2)&3], fc.v[18>>(i*2)&3], fc.v[i]
		if a|b|c < 0 {
			return e >> 2
		}
		pa, pb, pc := pts[a], pts[b], pts[c]
		bx, by := pb.X-p.X, pb.Y-p.Y
		det, bound := turn(pa.X-p.X, pa.Y-p.Y, bx, by)
		if det < bound && (det < -bound || geom.Orient(pa, pb, p) < 0) {
			e = fc.twin[9>>(i*2)&3]
			continue
		}
		det, bound = turn(bx, by, pc.X-p.X, pc.Y-p.Y)
		if det < bound && (det < -bound || geom.Orient(pb, pc, p) < 0) {
			e = fc.twin[18>>(i*2)&3]
			continue
		}
		return e >> 2
	}
}

// turn is the rounded cross product of a and b and a bound on its error, both
// as in geom.Orient.
func turn(ax, ay, bx, by float64) (det, bound float64) {
	l, r := float64(ax*by), float64(ay*bx)
	return l - r, float64(geom.OrientBound*(math.Abs(l)+math.Abs(r))) + geom.OrientFloor
}

// cavity gathers the faces that p removes, beginning at f, in m.dead, and the
// rim of the hole in m.rim, counter-clockwise. It does not pass fixed edges.
//
// This is the inner loop of Build. The filter of geom.InCircleNear is written
// out here, with its bound, and the function asked only where it is in doubt.
func (m *mesh) cavity(f int32, p geom.Point) {
	rim, dead, todo := m.rim[:0], m.dead[:0], m.todo[:0]
	faces, pts, closest, exactBelow := m.faces, m.pts, m.closest, m.exactBelow
	first := &faces[f]
	dead = append(dead, f)
	todo = append(todo, link{first.v[2], first.twin[2]}, link{first.v[1], first.twin[1]})
	l := link{first.v[0], first.twin[0]}
	for {
		fc := &faces[l.out>>2]
		i := uint(l.out & 3)
		ia, ic := 9>>(i*2)&3, 18>>(i*2)&3
		a, b, c := fc.v[ia], fc.v[i], fc.v[ic]
		conflict := false
		switch {
		case fc.v[3]>>i&fixed != 0:
		case a|b|c < 0:
			conflict = m.ghostInConflict(b, a, c, p)
		default:
			pa, pb, pc := pts[a], pts[b], pts[c]
			adx, ady := pa.X-p.X, pa.Y-p.Y
			bdx, bdy := pb.X-p.X, pb.Y-p.Y
			cdx, cdy := pc.X-p.X, pc.Y-p.Y
			alift := float64(adx*adx) + float64(ady*ady)
			blift := float64(bdx*bdx) + float64(bdy*bdy)
			clift := float64(cdx*cdx) + float64(cdy*cdy)
			if clift < closest {
				closest = clift
			}
			det := float64(alift*(float64(cdx*bdy)-float64(bdx*cdy))) +
				float64(blift*(float64(adx*cdy)-float64(cdx*ady))) +
				float64(clift*(float64(bdx*ady)-float64(adx*bdy)))
			sum := float64(alift*(blift+clift)) + float64(blift*clift)
			bound := float64(geom.InCircleBound*sum) + geom.InCircleFloor
			switch {
			case det > bound:
				conflict = true
			case det < -bound:
			case sum <= exactBelow:
				conflict = det > 0
			default:
				conflict = geom.InCircleNear(pb, pa, pc, p) > 0
			}
		}
		if conflict {
			dead = append(dead, l.out>>2)
			todo = append(todo, link{c, fc.twin[ic]})
			l.out = fc.twin[ia]
			continue
		}
		rim = append(rim, l)
		if len(todo) == 0 {
			break
		}
		l = todo[len(todo)-1]
		todo = todo[:len(todo)-1]
	}
	m.rim, m.dead, m.todo, m.closest = rim, dead, todo, closest
}

// findLattice sets exactBelow: if all coordinates are whole multiples of a unit
// q = 2^e (a full grid of halves, say), and the sum that bounds the determinant
// of cavity is at most 2^52 q⁴, then every step towards it is a whole multiple
// of a power of q below 2^53 of it, and no step was rounded: lifts are at least
// q², so each lift is at most 2^52 q² and each difference at most 2^26 q.
func (m *mesh) findLattice(box geom.Box) {
	extent := max(math.Abs(box.Min.X), math.Abs(box.Max.X), math.Abs(box.Min.Y), math.Abs(box.Max.Y))
	_, top := math.Frexp(extent)
	e := top
	for _, p := range m.pts {
		e = min(e, unitOf(p.X), unitOf(p.Y))
		if e < top-40 { // too fine to spare anything
			return
		}
	}
	m.exactBelow = math.Ldexp(1, 52+4*e)
}

// unitOf is the greatest e for which v is a whole multiple of 2^e.
func unitOf(v float64) int {
	if v == 0 {
		return math.MaxInt32
	}
	frac, exp := math.Frexp(v)
	return exp - 53 + bits.TrailingZeros64(uint64(int64(frac*(1<<53))))
}

// ghostInConflict says that p removes the ghost face of edge x→y and apex c: p
// lies outside its hull edge or on it between its ends.
func (m *mesh) ghostInConflict(x, y, c int32, p geom.Point) bool {
	switch far {
	case x:
		x, y = y, c
	case y:
		y, x = x, c
	}
	a, b := m.pts[x], m.pts[y]
	m.noteClose(a, p)
	m.noteClose(b, p)
	o := geom.Orient(a, b, p)
	return o > 0 || o == 0 && p != a && p != b && geom.BoxOf(a, b).Holds(p)
}

// noteClose keeps the least squared distance met.
func (m *mesh) noteClose(a, p geom.Point) {
	d := a.Sub(p)
	m.closest = min(m.closest, d.Dot(d))
}

// fan fills the hole of cavity with faces about v, in the places of the dead
// faces and two new ones, and returns the last.
func (m *mesh) fan(v int32) int32 {
	rim, dead := m.rim, m.dead
	n := int32(len(m.faces))
	m.faces = append(m.faces, face{}, face{})
	dead = append(dead, n, n+1)
	m.dead = dead
	faces := m.faces
	last := len(rim) - 1
	prev, f := dead[last], dead[0]
	for k, l := range rim {
		next, to := dead[0], rim[0].from
		if k < last {
			next, to = dead[k+1], rim[k+1].from
		}
		out := &faces[l.out>>2]
		i := uint(l.out & 3)
		out.twin[i] = f << 2
		// One by one: a composite would be built aside and copied.
		fc := &faces[f]
		fc.v[0], fc.v[1], fc.v[2], fc.v[3] = l.from, to, v, out.v[3]>>i&fixed
		fc.twin[0], fc.twin[1], fc.twin[2] = l.out, next<<2|2, prev<<2|1
		prev, f = f, next
	}
	if m.at != nil {
		for _, f := range dead {
			m.noteCorners(f)
		}
	}
	return prev
}

// find is locate for any mesh.
func (m *mesh) find(p geom.Point, f int32) int32 {
	if m.free {
		return m.locate(p, f)
	}
	return m.findPastFixed(p, f)
}

// findPastFixed is locate for a mesh with fixed edges, where the straight choice of
// locate may go round in circles: the order in which edges are tried changes
// from step to step by a fixed sequence (Devillers, Pion, Teillaud 2002). Such
// a walk ends with probability 1; after too many steps every face is tried.
func (m *mesh) findPastFixed(p geom.Point, f int32) int32 {
	e := f << 2
	if m.isGhost(f) {
		e = m.realEdge(f)
	}
	if m.side(e, p) < 0 {
		e = m.twin(e)
	}
	dice := uint32(2463534242)
	for range 100 + len(m.faces) {
		if m.isGhost(e >> 2) {
			return e >> 2
		}
		dice ^= dice << 13
		dice ^= dice >> 17
		dice ^= dice << 5
		one, two := after(e), before(e)
		if dice&1 != 0 {
			one, two = two, one
		}
		switch {
		case m.side(one, p) < 0:
			e = m.twin(one)
		case m.side(two, p) < 0:
			e = m.twin(two)
		default:
			return e >> 2
		}
	}
	return m.search(p)
}

// search is locate by trying every face.
func (m *mesh) search(p geom.Point) int32 {
	for f := range int32(len(m.faces)) {
		if m.isGhost(f) {
			if m.side(m.realEdge(f), p) < 0 {
				return f
			}
			continue
		}
		e := f << 2
		if m.side(e, p) >= 0 && m.side(e|1, p) >= 0 && m.side(e|2, p) >= 0 {
			return f
		}
	}
	return 0
}
