package dig

import "spadework/engine/geom"

// edge is a side of a ring on its way to convex pieces: it starts at at and runs
// on the line of a face. corner says that at is a corner of the part, not a
// place where a cut ends on a side.
type edge struct {
	at     geom.Point
	face   int // index in faces
	corner bool
}

// splitter cuts the outline of a part into convex pieces. At a reflex corner
// one of its two sides is carried on into the part: the piece beyond has a wall
// there, the other has the side itself.
type splitter struct {
	faces  []face
	pieces [][]edge
}

// straight is the sine under which two sides lie in one line.
const straight = 1e-9

// split cuts a ring and adds its convex pieces.
func (s *splitter) split(ring []edge) {
	n := len(ring)
	for i := range ring {
		h := (i + n - 1) % n
		turn := s.faces[ring[h].face].along.Cross(s.faces[ring[i].face].along)
		switch {
		case turn < -straight:
			s.cutReflex(ring, i)
			return
		case turn <= straight && !s.alike(ring[h].face, ring[i].face):
			f := s.faces[ring[i].face]
			if j, x, ok := s.hit(ring, i, f.out.Scale(-1)); ok {
				s.cut(ring, i, j, x, neither)
				return
			}
		}
	}
	s.pieces = append(s.pieces, ring)
}

// alike says that two faces in one line are one side.
func (s *splitter) alike(a, b int) bool {
	f, g := &s.faces[a], &s.faces[b]
	return f.wall() == g.wall() && f.rise.alike(g.rise)
}

// cutReflex cuts at reflex corner i along the shorter of the two extensions.
func (s *splitter) cutReflex(ring []edge, i int) {
	n := len(ring)
	h := (i + n - 1) % n
	jA, xA, okA := s.hit(ring, i, s.faces[ring[h].face].along)
	jB, xB, okB := s.hit(ring, i, s.faces[ring[i].face].along.Scale(-1))
	at := ring[i].at
	switch {
	case okA && (!okB || at.Distance(xA) <= at.Distance(xB)+snap):
		s.cut(ring, i, jA, xA, before)
	case okB:
		s.cut(ring, i, jB, xB, after)
	default: // no ring of ours: an outline is simple
		s.pieces = append(s.pieces, ring)
	}
}

// hit is the first side that the ray from corner i meets, and where.
func (s *splitter) hit(ring []edge, i int, dir geom.Vector) (j int, x geom.Point, ok bool) {
	n := len(ring)
	from := ring[i].at
	best := 0.0
	for k := range ring {
		if k == i || k == (i+n-1)%n {
			continue
		}
		a, b := ring[k].at, ring[(k+1)%n].at
		sa, sb := dir.Cross(a.Sub(from)), dir.Cross(b.Sub(from))
		if (sa > 0) == (sb > 0) {
			continue
		}
		p := a.Toward(b, sa/(sa-sb))
		if d := p.Sub(from).Dot(dir); d > snap && (!ok || d < best) {
			j, x, best, ok = k, p, d, true
		}
	}
	return j, x, ok
}

// carried says which side of a corner a cut carries on.
type carried uint8

const (
	neither carried = iota
	before
	after
)

// cut cuts a ring from corner i to the point x on side j and splits both
// pieces.
func (s *splitter) cut(ring []edge, i, j int, x geom.Point, on carried) {
	n := len(ring)
	at := ring[i].at
	var one, two []edge // from corner i to x, and from x on to corner i
	for k := i; ; k = (k + 1) % n {
		one = append(one, ring[k])
		if k == j {
			break
		}
	}
	two = append(two, edge{at: x, face: ring[j].face})
	for k := (j + 1) % n; k != i; k = (k + 1) % n {
		two = append(two, ring[k])
	}
	one[0].corner, one[0].at = false, at
	if on == after { // side i starts at x
		one[0].at = x
	} else {
		one = append(one, edge{at: x, face: s.wallFace(x, at)})
	}
	if on != before { // else the last side of two runs on to x
		two = append(two, edge{at: at, face: s.wallFace(at, x)})
	}
	s.split(shortened(one))
	s.split(shortened(two))
}

// wallFace is a new wall from a to b.
func (s *splitter) wallFace(a, b geom.Point) int {
	s.faces = append(s.faces, newFace(a, b, -1, linear{}))
	return len(s.faces) - 1
}

// shortened is a ring without sides of no length, which arise where a cut ends
// at a corner.
func shortened(ring []edge) []edge {
	out := make([]edge, 0, len(ring))
	for i, e := range ring {
		if next := ring[(i+1)%len(ring)]; e.at.Distance(next.at) > snap {
			out = append(out, e)
		}
	}
	return out
}
