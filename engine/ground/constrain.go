package ground

import (
	"math"

	"spadework/engine/geom"
)

// Breaklines are laid into the finished Delaunay mesh one leg after the other:
// the edges a leg crosses are flipped away (Sloan 1993), then the new edges are
// flipped until each is locally Delaunay again (Lawson 1977). A leg through a
// point is cut there, legs that cross get a point at their crossing.

// leg is a piece of a breakline or limit between two vertices.
type leg struct{ a, b int32 }

// layer lays legs into a TIN.
type layer struct {
	*TIN
	todo   []leg
	met    []CrossedLines
	count  int  // crossings
	budget int  // crossings still allowed
	quiet  bool // limits: crossings are not reported
}

// crossingsPerLeg bounds the crossings of one Build, so that input that rounds
// into ever new crossings ends in a fault and not in a hang. A tangle of n legs
// may have n²/2 true crossings; the least allowance is for small tangles.
const (
	crossingsPerLeg  = 1000
	crossingsAtLeast = 100_000
)

// lay forces a leg and everything its crossings bring; false if the budget of
// crossings is spent.
func (l *layer) lay(first leg) bool {
	l.todo = append(l.todo[:0], first)
	for len(l.todo) > 0 {
		s := l.todo[len(l.todo)-1]
		l.todo = l.todo[:len(l.todo)-1]
		if s.a != s.b && !l.step(s) {
			return false
		}
	}
	return true
}

// step lays one leg, or the part of it up to the next point or line in its way
// and puts the rest back.
func (l *layer) step(s leg) bool {
	if e, ok := l.edgeBetween(s.a, s.b); ok {
		l.setFixed(e, true)
		return true
	}
	e, on := l.firstCrossed(s)
	if on != far {
		l.todo = append(l.todo, leg{on, s.b}, leg{s.a, on})
		return true
	}
	a, b := l.pts[s.a], l.pts[s.b]
	var crossed []leg
	for {
		if l.isFixed(e) {
			return l.cross(s, e)
		}
		crossed = append(crossed, leg{l.from(e), l.to(e)})
		t := l.twin(e)
		w := l.apex(t)
		if w == s.b {
			break
		}
		switch geom.Orient(a, b, l.pts[w]) {
		case 0:
			l.todo = append(l.todo, leg{w, s.b}, leg{s.a, w})
			return true
		case 1: // w lies left: next is the edge from right to left
			e = after(t)
		default:
			e = before(t)
		}
	}
	l.clear(s, crossed)
	return true
}

// firstCrossed is the edge opposite s.a that leg s crosses, running from its
// right to its left; or, in on, a vertex in the way on an edge from s.a.
func (l *layer) firstCrossed(s leg) (e edge, on int32) {
	a, b := l.pts[s.a], l.pts[s.b]
	first := l.at[s.a]
	for e := first; ; {
		x, y := l.to(e), l.apex(e)
		if x != far && y != far {
			ox, oy := geom.Orient(a, l.pts[x], b), geom.Orient(a, l.pts[y], b)
			switch {
			case ox == 0 && ahead(a, b, l.pts[x]):
				return 0, x
			case oy == 0 && ahead(a, b, l.pts[y]):
				return 0, y
			case ox > 0 && oy < 0:
				return after(e), far
			}
		}
		if e = l.twin(before(e)); e == first {
			// Both ends are vertices of a convex mesh, so a face or an edge at
			// s.a lies towards s.b; anything else is a broken mesh.
			panic("ground: no way from a vertex")
		}
	}
}

// ahead says that p, on the line a–b, lies on b's side of a.
func ahead(a, b, p geom.Point) bool {
	if a.X != b.X {
		return (p.X > a.X) == (b.X > a.X) && p.X != a.X
	}
	return (p.Y > a.Y) == (b.Y > a.Y) && p.Y != a.Y
}

// clear flips the crossed edges away until leg s is an edge.
func (l *layer) clear(s leg, crossed []leg) {
	a, b := l.pts[s.a], l.pts[s.b]
	var made []leg
	for len(crossed) > 0 {
		x := crossed[0]
		crossed = crossed[1:]
		e, _ := l.edgeBetween(x.a, x.b)
		if !l.convex(e) {
			crossed = append(crossed, x)
			continue
		}
		e = l.flip(e)
		d := leg{l.from(e), l.to(e)}
		if crosses(a, b, l.pts[d.a], l.pts[d.b]) {
			crossed = append(crossed, d)
		} else {
			made = append(made, d)
		}
	}
	if e, ok := l.edgeBetween(s.a, s.b); ok {
		l.setFixed(e, true)
	}
	l.restore(made)
}

// convex says that the two faces at e form a strictly convex quadrilateral.
func (l *layer) convex(e edge) bool {
	t := l.twin(e)
	a, b, c, d := l.pts[l.from(e)], l.pts[l.from(t)], l.pts[l.apex(e)], l.pts[l.apex(t)]
	return geom.Orient(a, d, c) > 0 && geom.Orient(d, b, c) > 0
}

// crosses says that p–q crosses a–b strictly.
func crosses(a, b, p, q geom.Point) bool { return geom.Meet(a, b, p, q) == geom.Crossing }

// restore flips edges, and the edges around each flip, until all are locally
// Delaunay or fixed. Edges that no longer exist are passed over.
func (l *layer) restore(edges []leg) {
	for len(edges) > 0 {
		x := edges[len(edges)-1]
		edges = edges[:len(edges)-1]
		e, ok := l.edgeBetween(x.a, x.b)
		if !ok || l.isFixed(e) {
			continue
		}
		t := l.twin(e)
		a, b, c, d := x.a, x.b, l.apex(e), l.apex(t)
		if c == far || d == far || geom.InCircleNear(l.pts[a], l.pts[b], l.pts[c], l.pts[d]) <= 0 {
			continue
		}
		l.flip(e)
		edges = append(edges, leg{a, d}, leg{d, b}, leg{b, c}, leg{c, a})
	}
}

// cross gives leg s and the fixed edge e it meets a common point.
func (l *layer) cross(s leg, e edge) bool {
	if l.budget == 0 {
		return false
	}
	l.budget--
	x, y := l.from(e), l.to(e)
	p, z := l.crossing(s, leg{x, y})
	v := l.pointNear(p, z, e, [4]int32{s.a, s.b, x, y})
	l.todo = append(l.todo, leg{v, s.b}, leg{s.a, v})
	if again, ok := l.edgeBetween(x, y); ok && v != x && v != y && l.isFixed(again) {
		l.setFixed(again, false)
		l.restore([]leg{{x, y}})
		l.todo = append(l.todo, leg{v, y}, leg{x, v})
	}
	return true
}

// crossing is where two legs cross and the mean of their heights there; it is
// reported.
func (l *layer) crossing(s, x leg) (geom.Point, float64) {
	m := meetingOf(l.pts[s.a], l.pts[s.b], l.pts[x.a], l.pts[x.b])
	za := l.z[s.a] + float64(m.share*(l.z[s.b]-l.z[s.a]))
	zb := l.z[x.a] + float64(m.other*(l.z[x.b]-l.z[x.a]))
	if !l.quiet {
		l.count++
		if len(l.met) < listed {
			l.met = append(l.met, CrossedLines{At: m.at, ZA: za, ZB: zb})
		}
	}
	return m.at, (za + zb) / 2
}

// pointNear is the vertex at p: one of known that lies there or a rounding
// beside it, another that lies there, or a new one with height z. Where rounding
// put p outside the hull it is the nearest of known.
//
// A new vertex a rounding beside an end would leave the rest of a flat leg still
// crossing the other, and so on, one float64 at a time along the leg.
func (l *layer) pointNear(p geom.Point, z float64, near edge, known [4]int32) int32 {
	nearest := known[0]
	for _, v := range known {
		if l.pts[v] == p {
			return v
		}
		if p.Distance(l.pts[v]) < p.Distance(l.pts[nearest]) {
			nearest = v
		}
	}
	if p.Distance(l.pts[nearest]) <= l.grain() {
		return nearest
	}
	f := l.find(p, near>>2)
	if l.isGhost(f) {
		return nearest
	}
	return l.addVertex(p, z, f)
}

// grain is twice the step of the largest coordinate: as far as a rounded point
// may lie from the place meant, in each of x and y at most half a step for the
// quotient and half for the sum, and diagonally.
func (l *layer) grain() float64 {
	most := max(math.Abs(l.box.Min.X), math.Abs(l.box.Max.X), math.Abs(l.box.Min.Y), math.Abs(l.box.Max.Y))
	return 2 * (math.Nextafter(most, math.Inf(1)) - most)
}

// addVertex is the vertex at p in face f, made if there is none. If f is a ghost
// the hull grows to p. A fixed edge
// with p on it is fixed in both halves.
func (l *layer) addVertex(p geom.Point, z float64, f int32) int32 {
	if v := l.cornerAt(f, p); v != far {
		return v
	}
	v := int32(len(l.pts))
	l.pts = append(l.pts, p)
	l.z = append(l.z, z)
	l.rows = append(l.rows, far)
	l.at = append(l.at, far)
	l.exactBelow = 0 // the new point need not be on the lattice of the others
	var halves []leg
	for i := range int32(3) {
		e := f<<2 | i
		if l.from(e) != far && l.to(e) != far && l.isFixed(e) && l.side(e, p) == 0 {
			l.setFixed(e, false)
			halves = append(halves, leg{l.from(e), v}, leg{v, l.to(e)})
		}
	}
	l.cavity(f, p)
	l.fan(v)
	for _, h := range halves {
		if e, ok := l.edgeBetween(h.a, h.b); ok {
			l.setFixed(e, true)
		}
	}
	return v
}
