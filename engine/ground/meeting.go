package ground

import (
	"math"

	"spadework/engine/geom"
)

// meeting is where two segments a–b and c–d meet, rounded.
type meeting struct {
	at           geom.Point
	share, other float64 // of the way from a to b and from c to d, 0 to 1
}

// flatAngle is the squared sine of the angle under which the quotient of cross
// products is looked at twice: rounding moves it along the legs by at most
// 9u/1e-9 of their length, 1e-6.
const flatAngle = 1e-18

// meetingOf is where a–b and c–d, which meet, do so.
func meetingOf(a, b, c, d geom.Point) meeting {
	r, s := b.Sub(a), d.Sub(c)
	at, share, _ := geom.CrossingPoint(a, b, c, d)
	_, other, _ := geom.CrossingPoint(c, d, a, b)
	m := meeting{at, share, other}
	if den := r.Cross(s); !(float64(den*den) > flatAngle*float64(r.Dot(r)*s.Dot(s))) {
		// Of nearly parallel legs the rounded cross product may vanish or put the
		// point far along them.
		end := sharedEnd(a, b, c, d)
		if den == 0 || !(beside(at, a, b, c, d) <= beside(end, a, b, c, d)) {
			at = end
		}
		// One place for both: two quotients would tell two.
		m = meeting{at, alongLeg(at, a, b), alongLeg(at, c, d)}
	}
	m.share, m.other = min(1, max(0, m.share)), min(1, max(0, m.other))
	return m
}

// sharedEnd is the end of two meeting, nearly parallel legs a–b and c–d that
// lies nearest to both: one of them always lies beside the other leg.
func sharedEnd(a, b, c, d geom.Point) geom.Point {
	best, off := a, math.Inf(1)
	for _, p := range [...]geom.Point{a, b, c, d} {
		if o := beside(p, a, b, c, d); o < off {
			best, off = p, o
		}
	}
	return best
}

// beside is how far p lies off a–b and off c–d together.
func beside(p, a, b, c, d geom.Point) float64 {
	return p.Distance(a.Toward(b, alongLeg(p, a, b))) + p.Distance(c.Toward(d, alongLeg(p, c, d)))
}

// alongLeg is the share of a–b at which p stands beside it, 0 to 1.
func alongLeg(p, a, b geom.Point) float64 {
	d := b.Sub(a)
	return min(1, max(0, p.Sub(a).Dot(d)/d.Dot(d)))
}
