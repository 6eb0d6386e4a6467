package ground

import "spadework/engine/geom"

// The mesh of a triangulation, flat: 32 bytes a face. Besides the triangles
// there is a ghost face outside each edge of the hull, whose third corner is
// `far`; so every edge has a face on both sides.

// far is the corner at infinity of a ghost face.
const far = int32(-1)

// edge names a directed edge: face<<2 | i, i in 0..2. It runs from corner i of
// the face to corner i+1, the face on its left.
type edge = int32

// face is a triangle, counter-clockwise: v[i] the corners, twin[i] the same
// edge seen from the neighbour. v[3] holds the flags.
type face struct {
	v    [4]int32
	twin [4]edge
}

// Flags of a face. The first has a bit for each edge i: fixed<<i.
const (
	fixed    = 1 << 0 // the edge is part of a breakline or limit
	noGround = 1 << 3 // the survey does not speak here
)

// mesh is a triangulation of points.
type mesh struct {
	pts   []geom.Point
	faces []face

	at []edge // an edge from each vertex; kept up only while breaklines are laid

	// Scratch of insert, kept to spare allocations.
	rim  []link
	dead []int32
	todo []link
}

// link is an edge of the rim of a cavity: its first corner, and its twin in the
// face outside.
type link struct {
	from int32
	out  edge
}

// after and before are the edges that follow and precede e around its face.
func after(e edge) edge  { return e&^3 | 9>>(uint(e&3)*2)&3 }
func before(e edge) edge { return e&^3 | 18>>(uint(e&3)*2)&3 }

// from and to are the ends of e; apex is the corner opposite.
func (m *mesh) from(e edge) int32 { return m.faces[e>>2].v[e&3] }
func (m *mesh) to(e edge) int32   { return m.from(after(e)) }
func (m *mesh) apex(e edge) int32 { return m.from(before(e)) }
func (m *mesh) twin(e edge) edge  { return m.faces[e>>2].twin[e&3] }

// join makes a and b the two sides of one edge.
func (m *mesh) join(a, b edge) {
	m.faces[a>>2].twin[a&3] = b
	m.faces[b>>2].twin[b&3] = a
}

// isFixed says that e may not be flipped.
func (m *mesh) isFixed(e edge) bool { return m.faces[e>>2].v[3]>>uint(e&3)&fixed != 0 }

// setFixed fixes or frees both sides of e.
func (m *mesh) setFixed(e edge, on bool) {
	for _, e := range [2]edge{e, m.twin(e)} {
		bit := int32(fixed) << uint(e&3)
		m.faces[e>>2].v[3] &^= bit
		if on {
			m.faces[e>>2].v[3] |= bit
		}
	}
}

// isGhost says that face f is outside the hull.
func (m *mesh) isGhost(f int32) bool {
	v := &m.faces[f].v
	return v[0]|v[1]|v[2] < 0
}

// realEdge is the twin, inside the hull, of the one proper edge of a ghost.
func (m *mesh) realEdge(ghost int32) edge {
	e := ghost << 2
	for m.from(e) == far || m.to(e) == far {
		e++
	}
	return m.twin(e)
}

// side is on which side of edge e point p lies: 1 left, −1 right, 0 on its line.
func (m *mesh) side(e edge, p geom.Point) int {
	return geom.Orient(m.pts[m.from(e)], m.pts[m.to(e)], p)
}

// first makes the mesh of three corners not on one line: one triangle and its
// three ghosts.
func (m *mesh) first(a, b, c int32) {
	if geom.Orient(m.pts[a], m.pts[b], m.pts[c]) < 0 {
		b, c = c, b
	}
	m.faces = append(m.faces,
		face{v: [4]int32{a, b, c}},
		face{v: [4]int32{b, a, far}},
		face{v: [4]int32{c, b, far}},
		face{v: [4]int32{a, c, far}})
	for i := range int32(3) {
		ghost := (i + 1) << 2
		m.join(i, ghost)
		next := (i+1)%3 + 1
		// The ghost's edge from its second corner to far meets the edge from
		// far to the first corner of the ghost before it around the hull.
		m.join(ghost|2, next<<2|1)
	}
}

// indexCorners fills m.at.
func (m *mesh) indexCorners() {
	m.at = make([]edge, len(m.pts))
	for i := range m.at {
		m.at[i] = far
	}
	for f := range m.faces {
		m.noteCorners(int32(f))
	}
}

// noteCorners enters the corners of a changed face in m.at.
func (m *mesh) noteCorners(f int32) {
	for i, v := range m.faces[f].v[:3] {
		if v >= 0 {
			m.at[v] = f<<2 | int32(i)
		}
	}
}

// edgeBetween is the edge from u to v; false if there is none.
func (m *mesh) edgeBetween(u, v int32) (edge, bool) {
	e := m.at[u]
	for first := e; ; {
		if m.to(e) == v {
			return e, true
		}
		if e = m.twin(before(e)); e == first {
			return 0, false
		}
	}
}

// flip replaces edge e by the other diagonal of its two faces and returns that.
func (m *mesh) flip(e edge) edge {
	t := m.twin(e)
	a, b, c, d := m.from(e), m.from(t), m.apex(e), m.apex(t)
	ad, db, bc, ca := m.side4(after(t)), m.side4(before(t)), m.side4(after(e)), m.side4(before(e))
	f, g := e>>2, t>>2
	m.faces[f].v = [4]int32{a, d, c, m.faces[f].v[3]&noGround | ad.fixed | ca.fixed<<2}
	m.faces[g].v = [4]int32{d, b, c, m.faces[g].v[3]&noGround | db.fixed | bc.fixed<<1}
	m.join(f<<2, ad.out)
	m.join(f<<2|2, ca.out)
	m.join(g<<2, db.out)
	m.join(g<<2|1, bc.out)
	m.join(f<<2|1, g<<2|2)
	if m.at != nil {
		m.noteCorners(f)
		m.noteCorners(g)
	}
	return f<<2 | 1
}

// outerSide is what lies beyond an edge of a quadrilateral.
type outerSide struct {
	out   edge
	fixed int32
}

func (m *mesh) side4(e edge) outerSide {
	return outerSide{m.twin(e), m.faces[e>>2].v[3] >> uint(e&3) & fixed}
}
