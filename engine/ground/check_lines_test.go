package ground

import (
	"fmt"
	"math"
	"slices"

	"spadework/engine/geom"
)

// rounding bounds how far one crossing point may lie off the legs that cross
// there. With u = 2^-53, E the extent of the survey and M its greatest
// coordinate: numerator and denominator of the share err by 4u of their products
// of lengths, which moves the point 8u·E across the other leg, twice that where
// half the denominator is error, and beyond that (legs within 8u of parallel)
// the end of a leg is taken, as near; the share's own rounding and the two
// roundings of the place add 5u·E + 2u·M; 4u·E is for the distance measured here.
// Near the hull's border the end of a leg may stand for the crossing, 6u·M more.
func (t *TIN) rounding() float64 {
	const u = 1.0 / (1 << 53)
	extent := math.Sqrt(float64(t.box.Width()*t.box.Width()) + float64(t.box.Height()*t.box.Height()))
	most := max(math.Abs(t.box.Min.X), math.Abs(t.box.Max.X), math.Abs(t.box.Min.Y), math.Abs(t.box.Max.Y))
	return u * (32*extent + 8*most)
}

// added is the number of vertices that are no input.
func (t *TIN) added() int {
	n := 0
	for _, row := range t.rows {
		if row == far {
			n++
		}
	}
	return n
}

// validateLines follows every leg along fixed edges whose ends lie on it:
// exactly, if nothing crosses. Else a leg was cut at rounded crossings, and a
// cut piece was cut again; each cut moves the chain by one rounding more, so the
// number of vertices about the leg bounds how often. No edge but those along legs
// and limits may be fixed.
func (t *TIN) validateLines(r Report, s survey) error {
	c := chains{next: map[geom.Point][]geom.Point{}, laid: map[[2]geom.Point]bool{}}
	for e := range t.edges() {
		if t.isFixed(e) {
			p, q := t.pts[t.from(e)], t.pts[t.to(e)]
			c.next[p], c.next[q] = append(c.next[p], q), append(c.next[q], p)
		}
	}
	exact := r.Crossings == 0 && len(s.options.Holes)+len(s.options.Boundary) == 0
	for n, l := range s.lines {
		for i := 1; i < len(l); i++ {
			if l[i-1].At == l[i].At {
				continue
			}
			if !c.follow(l[i-1].At, l[i].At, t.rounding(), exact) {
				return fmt.Errorf("leg %d of breakline %d is not in the mesh: %v to %v", i, n, l[i-1].At, l[i].At)
			}
		}
	}
	rings := s.options.Holes
	if len(s.options.Boundary) > 0 {
		rings = append(rings[:len(rings):len(rings)], s.options.Boundary)
	}
	tol := t.rounding() * float64(1+t.added())
	for p, ends := range c.next {
		for _, q := range ends {
			if !c.laid[[2]geom.Point{p, q}] && !alongRings(rings, p, q, tol) {
				return fmt.Errorf("edge %v to %v is fixed and no line", p, q)
			}
		}
	}
	return nil
}

func alongRings(rings []geom.Ring, p, q geom.Point, tol float64) bool {
	for _, r := range rings {
		for i := range r {
			if a, b := r.Side(i); offSegment(p, a, b) <= tol && offSegment(q, a, b) <= tol {
				return true
			}
		}
	}
	return false
}

// chains are the fixed edges, and those found along a leg.
type chains struct {
	next map[geom.Point][]geom.Point
	laid map[[2]geom.Point]bool
}

// follow finds a chain from a to b and notes its edges as laid.
func (c *chains) follow(a, b geom.Point, rounding float64, exact bool) bool {
	on := func(p geom.Point) bool { return geom.OnSegment(p, a, b) }
	if !exact {
		wide := 100 * rounding
		about := c.reach(a, func(p geom.Point) bool { return offSegment(p, a, b) <= wide })
		tol := rounding * float64(len(about))
		on = func(p geom.Point) bool { return offSegment(p, a, b) <= tol }
	}
	met := c.reach(a, on)
	for p := range met {
		for _, q := range c.next[p] {
			if met[q] {
				c.laid[[2]geom.Point{p, q}] = true
			}
		}
	}
	return met[b]
}

// reach is the points met from a along fixed edges between wanted points.
func (c *chains) reach(a geom.Point, wanted func(geom.Point) bool) map[geom.Point]bool {
	met := map[geom.Point]bool{a: true}
	for todo := []geom.Point{a}; len(todo) > 0; {
		p := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, q := range c.next[p] {
			if !met[q] && wanted(q) {
				met[q] = true
				todo = append(todo, q)
			}
		}
	}
	return met
}

// offSegment is the distance of p from the segment a–b.
func offSegment(p, a, b geom.Point) float64 {
	d, to := b.Sub(a), p.Sub(a)
	switch t := to.Dot(d); {
	case !(t > 0):
		return p.Distance(a)
	case t > d.Dot(d):
		return p.Distance(b)
	}
	return math.Abs(d.Cross(to)) / d.Length()
}

// validateLimits looks at each face: known where its edges are short enough and
// its middle is inside the boundary and in no hole, and cut by no side of these.
func (t *TIN) validateLimits(o Options) error {
	tol := t.rounding() * float64(1+t.added())
	rings := o.Holes
	if len(o.Boundary) > 0 {
		rings = append(rings[:len(rings):len(rings)], o.Boundary)
	}
	for e := range t.edges() {
		if p, q := t.pts[t.from(e)], t.pts[t.to(e)]; t.cutBySide(rings, p, q, tol) {
			return fmt.Errorf("edge %v to %v is cut by a limit", p, q)
		}
	}
	for f := range int32(len(t.faces)) {
		if t.isGhost(f) {
			continue
		}
		v := t.faces[f].v
		a, b, c := t.pts[v[0]], t.pts[v[1]], t.pts[v[2]]
		mid := a.Add(b.Sub(a).Scale(1.0 / 3)).Add(c.Sub(a).Scale(1.0 / 3))
		if alongRings(rings, mid, mid, 4*tol) {
			continue
		}
		want := len(o.Boundary) == 0 || o.Boundary.Contains(mid) == geom.Inside
		for _, h := range o.Holes {
			want = want && h.Contains(mid) == geom.Outside
		}
		long := max(a.Distance(b), b.Distance(c), c.Distance(a))
		if o.LongestEdge > 0 && long > o.LongestEdge {
			want = false
		}
		if t.known(f) != want {
			return fmt.Errorf("face %v %v %v is ground: %v, want %v", a, b, c, t.known(f), want)
		}
	}
	return nil
}

// cutBySide says that a ring's side crosses p–q where no vertex is.
func (t *TIN) cutBySide(rings []geom.Ring, p, q geom.Point, tol float64) bool {
	for _, r := range rings {
		for i := range r {
			a, b := r.Side(i)
			if geom.Meet(a, b, p, q) != geom.Crossing {
				continue
			}
			at := meetingOf(a, b, p, q).at
			// A vertex off both lines by a rounding lies off their crossing by as much
			// over the sine of their angle.
			d, e := b.Sub(a), q.Sub(p)
			along := tol * d.Length() * e.Length() / math.Abs(d.Cross(e))
			if !slices.ContainsFunc(t.pts, func(v geom.Point) bool {
				return v.Distance(at) <= max(tol, along) && offSegment(v, a, b) <= tol && offSegment(v, p, q) <= tol
			}) &&
				min(offSegment(p, a, b), offSegment(q, a, b), offSegment(a, p, q), offSegment(b, p, q)) > tol {
				return true
			}
		}
	}
	return false
}
