package geom

import "spadework/engine/phrase"

// Rectangle is the ring of a rectangle about centre, counter-clockwise:
// length metres along the direction along, width metres across it. Its side 0
// runs along on the right, side 1 ends it ahead. The zero direction gives nil.
func Rectangle(centre Point, along Vector, length, width float64) Ring {
	dir := along.Unit()
	if dir == (Vector{}) {
		return nil
	}
	l, w := dir.Scale(length/2), dir.Right().Scale(width/2)
	back, front := l.Scale(-1), l
	left := w.Scale(-1)
	return Ring{
		centre.Add(back.Plus(w)),
		centre.Add(front.Plus(w)),
		centre.Add(front.Plus(left)),
		centre.Add(back.Plus(left)),
	}
}

// Band is the outline of a strip width metres wide about an open line, with
// mitred joints, counter-clockwise: first the right side forward, then the left
// side back. Repeated points count once. It is nil for fewer than two distinct
// points, a width that is not positive, or a line that turns straight back.
// Short legs at sharp bends can make it cross itself: see SelfIntersects.
func Band(line []Point, width float64) Ring {
	pts := distinct(line)
	if len(pts) < 2 || !(width > 0) {
		return nil
	}
	n := len(pts)
	out := make(Ring, 2*n)
	for i := range pts {
		m, ok := mitre(pts, i)
		if !ok {
			return nil
		}
		m = m.Scale(width / 2)
		out[i] = pts[i].Add(m)
		out[2*n-1-i] = pts[i].Add(m.Scale(-1))
	}
	return out
}

// distinct is the line without points that repeat their predecessor.
func distinct(line []Point) []Point {
	var out []Point
	for _, p := range line {
		if len(out) == 0 || out[len(out)-1] != p {
			out = append(out, p)
		}
	}
	return out
}

// mitre is the displacement to the right of point i of a line that keeps both
// its legs at distance 1; false where the line turns back on itself.
func mitre(pts []Point, i int) (Vector, bool) {
	if i == 0 {
		return pts[1].Sub(pts[0]).Unit().Right(), true
	}
	in := pts[i].Sub(pts[i-1]).Unit().Right()
	if i == len(pts)-1 {
		return in, true
	}
	out := pts[i+1].Sub(pts[i]).Unit().Right()
	return cornerMove(in, out, 1, 1)
}

// cornerMove is the m with m·a = da and m·b = db for unit normals a and b: how
// a corner moves when its two sides move outward. Nearly parallel sides move
// together by the mean; false for sides that run straight back (mitre longer
// than about 10^4 times the distance).
func cornerMove(a, b Vector, da, db float64) (Vector, bool) {
	cos, sin := a.Dot(b), a.Cross(b)
	if cos > 0 && sin < 1e-9 && sin > -1e-9 {
		return a.Plus(b).Unit().Scale((da + db) / 2), true
	}
	if 1+cos < 1e-8 {
		return Vector{}, false
	}
	// Solve by Cramer's rule in the frame of a and its left normal.
	along := (db - float64(da*cos)) / sin
	return a.Scale(da).Plus(Vector{-a.Y, a.X}.Scale(along)), true
}

// OffsetOutward is the counter-clockwise ring with each side i moved outward
// by d[i] ≥ 0 metres, corners mitred. Where two sides in one line move by
// different distances the corner becomes a step of two corners. It is a fault
// if a side folds back on its neighbour, or if a side vanishes or the result
// crosses itself (a notch narrower than its offsets).
func OffsetOutward(ring Ring, d []float64) (Ring, error) {
	n := len(ring)
	if n < 3 || len(d) != n || !(ring.Area() > 0) {
		return nil, offsetFault("geom.offset_ring")
	}
	var out Ring
	for i := range ring {
		h := (i + n - 1) % n
		a, b := ring.normal(h), ring.normal(i)
		m, ok := cornerMove(a, b, d[h], d[i])
		if !ok || a == (Vector{}) || b == (Vector{}) {
			return nil, offsetFault("geom.offset_spike")
		}
		sin := a.Cross(b)
		if sin < 1e-9 && sin > -1e-9 && d[h] != d[i] {
			out = append(out, ring[i].Add(a.Scale(d[h])))
			m = b.Scale(d[i])
		}
		out = append(out, ring[i].Add(m))
	}
	if collapsed(ring, out) {
		return nil, offsetFault("geom.offset_collapsed")
	}
	return out, nil
}

// normal is the unit outward normal of side i.
func (r Ring) normal(i int) Vector {
	a, b := r.Side(i)
	return b.Sub(a).Unit().Right()
}

// collapsed says that a side of the offset ring has turned round or that the
// offset ring crosses itself.
func collapsed(ring, offset Ring) bool {
	if len(ring) == len(offset) {
		for i := range ring {
			a, b := offset.Side(i)
			if !(ring.normal(i).Dot(b.Sub(a).Right()) > 0) {
				return true
			}
		}
	}
	_, _, crosses := offset.SelfIntersects()
	return crosses
}

// offsetFault is a fault of OffsetOutward with its remedy.
func offsetFault(key phrase.Key) error {
	return phrase.NewFault(phrase.New(key), phrase.New(key+"_remedy"))
}
