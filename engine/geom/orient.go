package geom

import "math"

// u is the unit round-off of float64: one operation errs by at most u times
// its exact or its rounded result, as long as nothing underflows.
const u = 1.0 / (1 << 53)

// OrientBound times the sum of the absolute products bounds the error of the
// rounded determinant: the differences carry a factor (1+u) each, the product
// another, so each product P is within (3u+O(u²))·|P| of the exact one; the
// final subtraction adds u·|det| ≤ u·(|P1|+|P2|)(1+u). Against the computed sum
// of the rounded |P| this is at most 4u+O(u²) (Shewchuk 1997 shows 3u+16u²);
// 5u covers all of it, the sum's own rounding included.
const OrientBound = 5 * u

// OrientFloor is added to the bound; it covers what underflow can add: each product may lose 2^-1075,
// and 1e-300 is far more than two of those.
const OrientFloor = 1e-300

// Orient is +1 if a, b, c turn left (counter-clockwise), −1 if they turn right
// and 0 if they lie on one line. It is exact for all finite coordinates; with
// NaN or Inf it is 0.
func Orient(a, b, c Point) int {
	l := float64((a.X - c.X) * (b.Y - c.Y))
	r := float64((a.Y - c.Y) * (b.X - c.X))
	det := l - r
	bound := float64(OrientBound*(math.Abs(l)+math.Abs(r))) + OrientFloor
	if det > bound {
		return 1
	}
	if det < -bound {
		return -1
	}
	return orientExact(a, b, c)
}

// OnSegment says that p lies exactly on the closed segment a–b.
func OnSegment(p, a, b Point) bool {
	return BoxOf(a, b).Holds(p) && Orient(a, b, p) == 0
}

// Meeting says how two segments meet.
type Meeting int

// Apart have no common point; Crossing meet in one point inside both;
// Touching share an end, or an end of one lies on the other; Overlapping lie
// on one line and share more than a point.
const (
	Apart Meeting = iota
	Crossing
	Touching
	Overlapping
)

// Meet says how the closed segments a–b and c–d meet, exactly.
func Meet(a, b, c, d Point) Meeting {
	if !BoxOf(a, b).Meets(BoxOf(c, d)) {
		return Apart
	}
	o1, o2 := Orient(a, b, c), Orient(a, b, d)
	o3, o4 := Orient(c, d, a), Orient(c, d, b)
	if o1 == 0 && o2 == 0 && o3 == 0 && o4 == 0 {
		return meetOnLine(a, b, c, d)
	}
	if o1*o2 > 0 || o3*o4 > 0 {
		return Apart
	}
	if o1*o2 < 0 && o3*o4 < 0 {
		return Crossing
	}
	return Touching
}

// meetOnLine is Meet for four points on one line.
func meetOnLine(a, b, c, d Point) Meeting {
	lo, hi := maxPoint(minPoint(a, b), minPoint(c, d)), minPoint(maxPoint(a, b), maxPoint(c, d))
	switch {
	case lo == hi:
		return Touching
	case less(lo, hi):
		return Overlapping
	}
	return Apart
}

// less orders points by x, then y.
func less(p, q Point) bool { return p.X < q.X || p.X == q.X && p.Y < q.Y }

func minPoint(p, q Point) Point {
	if less(q, p) {
		return q
	}
	return p
}

func maxPoint(p, q Point) Point {
	if less(p, q) {
		return q
	}
	return p
}

// CrossingPoint is where the lines a–b and c–d cross, rounded, with the share
// of the way from a to b. ok is false for parallel lines.
func CrossingPoint(a, b, c, d Point) (p Point, share float64, ok bool) {
	r, s := b.Sub(a), d.Sub(c)
	den := r.Cross(s)
	if den == 0 {
		return Point{}, 0, false
	}
	share = c.Sub(a).Cross(s) / den
	return a.Toward(b, share), share, true
}
