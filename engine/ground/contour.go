package ground

import "spadework/engine/geom"

// contour follows the line between corners at z or above and corners below from
// face to face. In each face it enters through the edge from low to high and
// leaves through the edge from high to low, so that high ground is on its left.
func contour(n net, z float64) [][]geom.Point {
	c := contourer{net: n, z: z, done: make([]bool, n.count())}
	var out [][]geom.Point
	for pass := range 2 { // open lines from the rim first, then closed ones
		for f := range n.count() {
			e, ok := c.entry(f)
			if !ok || c.done[f] || pass == 0 && c.continues(e) {
				continue
			}
			if line := c.follow(e); len(line) > 1 {
				out = append(out, line)
			}
		}
	}
	return out
}

type contourer struct {
	net
	z    float64
	done []bool
}

func (c *contourer) high(e edge) bool { return c.elevation(c.start(e)) >= c.z }

// entry is the edge through which a contour enters face f. With high ground on
// the left of the way in, the edge runs, seen from the face, from high to low.
func (c *contourer) entry(f int32) (edge, bool) {
	if !c.proper(f) || !c.known(f) {
		return 0, false
	}
	for i := range int32(3) {
		if e := f<<2 | i; c.high(e) && !c.high(after(e)) {
			return e, true
		}
	}
	return 0, false
}

// continues says that the line comes from a known face across e.
func (c *contourer) continues(e edge) bool {
	o, ok := c.across(e)
	return ok && c.known(o>>2)
}

// follow gathers the line that enters at e.
func (c *contourer) follow(e edge) []geom.Point {
	line := []geom.Point{c.point(e)}
	for !c.done[e>>2] {
		c.done[e>>2] = true
		exit := after(e)
		if c.high(exit) == c.high(after(exit)) {
			exit = after(exit)
		}
		if p := c.point(exit); p != line[len(line)-1] {
			line = append(line, p)
		}
		if !c.continues(exit) {
			break
		}
		e, _ = c.across(exit)
	}
	return line
}

// point is where the contour crosses edge e, the same from both faces.
func (c *contourer) point(e edge) geom.Point {
	u, v := c.start(e), c.start(after(e))
	if c.elevation(u) < c.elevation(v) {
		u, v = v, u
	}
	zu, zv := c.elevation(u), c.elevation(v)
	return c.place(u).Toward(c.place(v), (zu-c.z)/(zu-zv))
}
