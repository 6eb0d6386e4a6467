package ground

import (
	"math"

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

// cornerAt is the corner of face f that lies at p, far if none does.
func (m *mesh) cornerAt(f int32, p geom.Point) int32 {
	for _, v := range m.faces[f].v[:3] {
		if v >= 0 && m.pts[v] == p {
			return v
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
		if right(pa.X-p.X, pa.Y-p.Y, bx, by) && geom.Orient(pa, pb, p) < 0 {
			e = fc.twin[9>>(i*2)&3]
			continue
		}
		if right(bx, by, pc.X-p.X, pc.Y-p.Y) && geom.Orient(pb, pc, p) < 0 {
			e = fc.twin[18>>(i*2)&3]
			continue
		}
		return e >> 2
	}
}

// right says that the vector b may lie right of a: it is false only where that
// is certain not to be so. A rounded cross product is of the wrong sign only if
// it is small: see geom.Orient, which decides the rest.
func right(ax, ay, bx, by float64) bool {
	return float64(ax*by)-float64(ay*bx) < 1e-15*(math.Abs(ax*by)+math.Abs(ay*bx))+1e-300
}

// inConflict says that a new point p removes the face of edges x→y and apex c:
// its circle holds p, or, for a ghost, p lies outside its hull edge or on it
// between its ends.
func (m *mesh) inConflict(x, y, c int32, p geom.Point) bool {
	switch far {
	case c:
	case x:
		x, y = y, c
	case y:
		y, x = x, c
	default:
		return geom.InCircleNear(m.pts[x], m.pts[y], m.pts[c], p) > 0
	}
	a, b := m.pts[x], m.pts[y]
	o := geom.Orient(a, b, p)
	return o > 0 || o == 0 && p != a && p != b && geom.BoxOf(a, b).Holds(p)
}

// cavity gathers the faces that p removes, beginning at f, in m.dead, and the
// rim of the hole in m.rim, counter-clockwise. It does not pass fixed edges.
func (m *mesh) cavity(f int32, p geom.Point) {
	rim, dead, todo := m.rim[:0], m.dead[:0], m.todo[:0]
	faces := m.faces
	fc := &faces[f]
	dead = append(dead, f)
	for i := 2; i >= 0; i-- {
		todo = append(todo, link{fc.v[i], fc.twin[i]})
	}
	for len(todo) > 0 {
		l := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for {
			fc := &faces[l.out>>2]
			i := uint(l.out & 3)
			ia, ic := 9>>(i*2)&3, 18>>(i*2)&3
			b, a, c := fc.v[i], fc.v[ia], fc.v[ic]
			if fc.v[3]>>i&fixed != 0 || !m.inConflict(b, a, c, p) {
				rim = append(rim, l)
				break
			}
			dead = append(dead, l.out>>2)
			todo = append(todo, link{c, fc.twin[ic]})
			l.out = fc.twin[ia]
		}
	}
	m.rim, m.dead, m.todo = rim, dead, todo
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
		faces[f] = face{
			[4]int32{l.from, to, v, out.v[3] >> i & fixed},
			[4]edge{l.out, next<<2 | 2, prev<<2 | 1},
		}
		prev, f = f, next
	}
	if m.at != nil {
		for _, f := range dead {
			m.noteCorners(f)
		}
	}
	return prev
}

// find is locate for a mesh with fixed edges, where the straight choice of
// locate may go round in circles: the order in which edges are tried changes
// from step to step by a fixed sequence (Devillers, Pion, Teillaud 2002). Such
// a walk ends with probability 1; after too many steps every face is tried.
func (m *mesh) find(p geom.Point, f int32) int32 {
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

// search is find by trying every face.
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
