package geom

// Ring is a closed outline: the side i runs from corner i to corner i+1, the
// last back to the first, which is not repeated. Counter-clockwise rings have
// positive area; right of each side is outside.
type Ring []Point

// Side says where a point lies against a ring.
type Side int

// The sides of a ring.
const (
	Outside Side = iota
	OnEdge
	Inside
)

// Side gives the ends of side i.
func (r Ring) Side(i int) (from, to Point) {
	j := i + 1
	if j == len(r) {
		j = 0
	}
	return r[i], r[j]
}

// Area is the signed area in square metres, positive counter-clockwise, 0 for
// fewer than three corners. It is rounded: taken from the first corner, so that
// large eastings cost no digits.
func (r Ring) Area() float64 {
	sum := 0.0
	for i := 2; i < len(r); i++ {
		sum += r[i-1].Sub(r[0]).Cross(r[i].Sub(r[0]))
	}
	return sum / 2
}

// Perimeter is the length of all sides in metres.
func (r Ring) Perimeter() float64 {
	sum := 0.0
	for i := range r {
		a, b := r.Side(i)
		sum += a.Distance(b)
	}
	return sum
}

// Centroid is the centre of area; of a ring without area the mean of its
// corners, of no corners the origin.
func (r Ring) Centroid() Point {
	var weighted, mean Vector
	total := 0.0
	for i := range r {
		v := r[i].Sub(r[0])
		mean = mean.Plus(v)
		if i >= 2 {
			w := r[i-1].Sub(r[0])
			a := w.Cross(v)
			total += a
			weighted = weighted.Plus(v.Plus(w).Scale(a))
		}
	}
	switch {
	case len(r) == 0:
		return Point{}
	case total == 0:
		return r[0].Add(mean.Scale(1 / float64(len(r))))
	}
	return r[0].Add(weighted.Scale(1 / (3 * total)))
}

// Bounds is the least box around r, EmptyBox for no corners.
func (r Ring) Bounds() Box { return BoxOf(r...) }

// Reversed is r run the other way, from the same first corner.
func (r Ring) Reversed() Ring {
	out := make(Ring, len(r))
	for i, p := range r {
		out[(len(r)-i)%len(r)] = p
	}
	return out
}

// CounterClockwise is r, reversed if its area is negative.
func (r Ring) CounterClockwise() Ring {
	if r.Area() < 0 {
		return r.Reversed()
	}
	return r
}

// Contains says exactly where p lies: on a side or corner, or by the even-odd
// rule inside or outside. The ring may run either way.
func (r Ring) Contains(p Point) Side {
	in := false
	for i := range r {
		a, b := r.Side(i)
		if a == p {
			return OnEdge
		}
		if (a.Y > p.Y) == (b.Y > p.Y) {
			if a.Y == p.Y && b.Y == p.Y && OnSegment(p, a, b) {
				return OnEdge
			}
			continue
		}
		if max(a.X, b.X) < p.X {
			continue
		}
		o := Orient(a, b, p)
		if o == 0 {
			return OnEdge
		}
		if (o > 0) == (b.Y > a.Y) {
			in = !in
		}
	}
	if in {
		return Inside
	}
	return Outside
}

// SelfIntersects finds the first pair of sides i < j that meet elsewhere than
// neighbours do at their common corner, exactly. A repeated corner or a spike
// counts. ok is false for a simple ring.
func (r Ring) SelfIntersects() (i, j int, ok bool) {
	n := len(r)
	for i := 0; i < n; i++ {
		a, b := r.Side(i)
		if a == b {
			return i, (i + 1) % n, true
		}
		for j := i + 1; j < n; j++ {
			c, d := r.Side(j)
			next, last := j == i+1, i == 0 && j == n-1
			switch m := Meet(a, b, c, d); {
			case m == Apart:
			case (next || last) && m == Touching && n > 2:
			default:
				return i, j, true
			}
		}
	}
	return 0, 0, false
}
