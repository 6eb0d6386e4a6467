package stands

import (
	"math"
	"sort"

	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/unit"
)

// The geometry of Play, apart from the planner's.

func gapPoints(a, b geom.Point) float64 {
	return math.Sqrt((a.X-b.X)*(a.X-b.X) + (a.Y-b.Y)*(a.Y-b.Y))
}

// turnOf is twice the signed area of a triangle.
func turnOf(a, b, c geom.Point) float64 {
	return float64((b.X-a.X)*(c.Y-a.Y)) - float64((b.Y-a.Y)*(c.X-a.X))
}

// hullOf is the convex hull, counter-clockwise, by a sweep over both chains.
func hullOf(points []geom.Point) []geom.Point {
	p := append([]geom.Point{}, points...)
	sort.Slice(p, func(i, j int) bool { return p[i].X < p[j].X || p[i].X == p[j].X && p[i].Y < p[j].Y })
	chain := func(out []geom.Point, next geom.Point, base int) []geom.Point {
		for len(out) >= base+2 && turnOf(out[len(out)-2], out[len(out)-1], next) <= 0 {
			out = out[:len(out)-1]
		}
		return append(out, next)
	}
	var hull []geom.Point
	for _, q := range p {
		hull = chain(hull, q, 0)
	}
	base := len(hull) - 1
	for i := len(p) - 2; i >= 0; i-- {
		hull = chain(hull, p[i], base)
	}
	return hull[:len(hull)-1]
}

// windsAbout says that a ring goes round a point, by the winding number.
func windsAbout(r []geom.Point, p geom.Point) bool {
	wind := 0
	for i, a := range r {
		b := r[(i+1)%len(r)]
		switch t := turnOf(a, b, p); {
		case a.Y <= p.Y && b.Y > p.Y && t > 0:
			wind++
		case a.Y > p.Y && b.Y <= p.Y && t < 0:
			wind--
		}
	}
	return wind != 0
}

// sidesCross says that the insides of two segments cross.
func sidesCross(a, b, c, d geom.Point) bool {
	return turnOf(a, b, c)*turnOf(a, b, d) < 0 && turnOf(c, d, a)*turnOf(c, d, b) < 0
}

// gapCorner is from a corner to a segment.
func gapCorner(p, a, b geom.Point) float64 {
	x, y := b.X-a.X, b.Y-a.Y
	long := x*x + y*y
	if long == 0 {
		return gapPoints(p, a)
	}
	t := ((p.X-a.X)*x + (p.Y-a.Y)*y) / long
	switch {
	case t <= 0:
		return gapPoints(p, a)
	case t >= 1:
		return gapPoints(p, b)
	}
	return math.Abs(turnOf(a, b, p)) / math.Sqrt(long)
}

// gapBorders is the distance between the borders of two rings, 0 where they
// cross. One corner is a point, two are a segment.
func gapBorders(a, b []geom.Point) float64 {
	gap := math.Inf(1)
	for i, p := range a {
		q := a[(i+1)%len(a)]
		for j, r := range b {
			s := b[(j+1)%len(b)]
			if sidesCross(p, q, r, s) {
				return 0
			}
			gap = min(gap, gapCorner(p, r, s), gapCorner(r, p, q))
		}
	}
	return gap
}

// gapRings is the distance between two rings with their insides, 0 where they
// meet.
func gapRings(a, b []geom.Point) float64 {
	if windsAbout(a, b[0]) || windsAbout(b, a[0]) {
		return 0
	}
	return gapBorders(a, b)
}

// holds says that a ring lies in allowed ground, a thickness from its border.
func holds(allowed geom.Ring, r []geom.Point, thick float64) bool {
	if len(allowed) == 0 {
		return true
	}
	gap := gapBorders(r, allowed)
	for i, p := range r {
		for j, a := range allowed {
			if sidesCross(p, r[(i+1)%len(r)], a, allowed[(j+1)%len(allowed)]) && thick > 0 {
				return false
			}
		}
		if !windsAbout(allowed, p) && gapBorders([]geom.Point{p}, allowed) > tolerance {
			return false
		}
	}
	return thick == 0 || gap >= thick-tolerance
}

// dumpSpan is the nearest and the farthest place in plan to empty a bucket at a
// height.
func dumpSpan(m machine.Machine, height float64) (s [2]float64, ok bool) {
	at, ok := m.Envelope.Dump(unit.Length(height))
	if !ok {
		return s, false
	}
	b := float64(m.BoomOffset)
	return [2]float64{math.Sqrt(float64(at.Near*at.Near) + b*b), math.Sqrt(float64(at.Far*at.Far) + b*b)}, true
}
