package stands

import (
	"math"

	"spadework/engine/geom"
)

// slack is what a distance may fall short of its rule by rounding, in metres.
const slack = 1e-9

// clearOf says that a segment keeps a distance from a ring and its inside.
func clearOf(a, b geom.Point, r geom.Ring, gap float64) bool {
	if r.Contains(a) != geom.Outside {
		return false
	}
	for i := range r {
		from, to := r.Side(i)
		if d := geom.SegmentGap(a, b, from, to); d == 0 || !(d >= gap-slack) {
			return false
		}
	}
	return true
}

// apart says that two rings keep a distance: neither touches the other.
func apart(a, b geom.Ring, gap float64) bool {
	if len(a) == 0 || len(b) == 0 {
		return true
	}
	if b.Contains(a[0]) != geom.Outside || a.Contains(b[0]) != geom.Outside {
		return false
	}
	for i := range a {
		p, q := a.Side(i)
		if !clearOf(p, q, b, gap) {
			return false
		}
	}
	return true
}

// inside says that a segment and what is nearer to it than gap lie in a ring;
// a ring of no corners is everywhere.
func inside(a, b geom.Point, r geom.Ring, gap float64) bool {
	if len(r) == 0 {
		return true
	}
	if r.Contains(a) == geom.Outside || r.Contains(b) == geom.Outside {
		return false
	}
	for i := range r {
		from, to := r.Side(i)
		if geom.Meet(a, b, from, to) == geom.Crossing || gap > 0 && !(geom.SegmentGap(a, b, from, to) >= gap-slack) {
			return false
		}
	}
	return true
}

// shapes are rings with a grid of buckets over them.
type shapes struct {
	rings   []geom.Ring
	boxes   []geom.Box
	all     geom.Box
	nx, ny  int
	buckets [][]int32
	seen    []int // by shape, the query that last saw it
	query   int
}

// bucket is the side of a bucket in metres.
const bucket = 8.0

func newShapes(rings []geom.Ring) *shapes {
	s := &shapes{rings: rings, all: geom.EmptyBox(), seen: make([]int, len(rings))}
	for _, r := range rings {
		s.boxes = append(s.boxes, r.Bounds())
		s.all = s.all.Union(r.Bounds())
	}
	if len(rings) == 0 {
		return s
	}
	s.nx, s.ny = int(s.all.Width()/bucket)+1, int(s.all.Height()/bucket)+1
	s.buckets = make([][]int32, s.nx*s.ny)
	for i, b := range s.boxes {
		s.each(b, func(at int) { s.buckets[at] = append(s.buckets[at], int32(i)) })
	}
	return s
}

// each visits the buckets a box meets.
func (s *shapes) each(b geom.Box, visit func(at int)) {
	clip := func(x float64, n int) int { return max(0, min(n-1, int(math.Floor(x/bucket)))) }
	x0, x1 := clip(b.Min.X-s.all.Min.X, s.nx), clip(b.Max.X-s.all.Min.X, s.nx)
	y0, y1 := clip(b.Min.Y-s.all.Min.Y, s.ny), clip(b.Max.Y-s.all.Min.Y, s.ny)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			visit(y*s.nx + x)
		}
	}
}

// every says that a test holds of every shape whose box meets b, each tested
// once.
func (s *shapes) every(b geom.Box, test func(i int32) bool) bool {
	if len(s.rings) == 0 || !s.all.Meets(b) {
		return true
	}
	s.query++
	good := true
	s.each(b, func(at int) {
		for _, i := range s.buckets[at] {
			if !good || s.seen[i] == s.query {
				continue
			}
			s.seen[i] = s.query
			if s.boxes[i].Meets(b) && !test(i) {
				good = false
			}
		}
	})
	return good
}
