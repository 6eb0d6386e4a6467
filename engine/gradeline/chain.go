package gradeline

import (
	"math"
	"slices"
)

// chain is the line with the least digging where bends are given. Its cost is a
// sum over the nodes and each rule ties two neighbours, x = z[k−1] and y = z[k],
// so that the best value up to node k is a concave function of y, straight in
// pieces, and is carried from node to node exactly:
//
//	V[k](y) = c[k]·y + max { V[k−1](x) : lo(y) ≤ x ≤ hi(y) }
//
// The maximum lies at the top of V[k−1] moved into [lo, hi].
func (w *work) chain(low, high []float64, inner [][]bound) (z []float64, ok bool) {
	n := len(w.nodes)
	f, ok := ends(low[0], high[0], w.weight(0))
	if !ok {
		return nil, false
	}
	all := make([]slice, n)
	for k := 1; k < n; k++ {
		s := w.slice(k, f, inner[k])
		from, to, ok := s.domain(low[k], high[k])
		if !ok {
			return nil, false
		}
		f = s.carry(f, from, to, w.weight(k))
		all[k] = s
	}
	z = make([]float64, n)
	z[n-1] = f.top()
	for k := n - 1; k > 0; k-- {
		z[k-1] = all[k].best(z[k])
	}
	return z, true
}

// weight is the run that the height at a node stands for.
func (w *work) weight(k int) float64 {
	var sum float64
	if k > 0 {
		sum += w.nodes[k] - w.nodes[k-1]
	}
	if k+1 < len(w.nodes) {
		sum += w.nodes[k+1] - w.nodes[k]
	}
	return sum / 2
}

// ends is c·z from low to high.
func ends(low, high, c float64) (concave, bool) {
	if !(low <= high) {
		return concave{}, false
	}
	var f concave
	f.add(low, c*low)
	f.add(high, c*high)
	return f, true
}

// slice is the run between two nodes: what the height at its start may be for a
// height at its end.
type slice struct {
	lo, hi envelope
	top    float64 // where the value at the start is greatest
}

// slice gathers the rules between node k−1 and k.
func (w *work) slice(k int, f concave, inner []bound) slice {
	from, run := w.nodes[k-1], w.nodes[k]-w.nodes[k-1]
	var lows, highs []straight // by slopes that descend
	if !math.IsInf(w.least, 0) {
		lows = append(lows, straight{1, w.least * run})
	}
	if !math.IsInf(w.most, 0) {
		highs = append(highs, straight{1, w.most * run})
	}
	lows = append(lows, straight{0, f.x[0]})
	highs = append(highs, straight{0, f.x[len(f.x)-1]})
	for _, b := range inner {
		t := (b.s - from) / run
		l := straight{-t / (1 - t), b.z / (1 - t)}
		if b.upper {
			highs = append(highs, l)
		} else {
			lows = append(lows, l)
		}
	}
	return slice{lo: highest(lows), hi: lowest(highs), top: f.top()}
}

// best is the height at the start for one at the end. Where rounding leaves
// nothing between lo and hi, hi holds: the cover is kept.
func (s slice) best(y float64) float64 { return min(max(s.top, s.lo.at(y)), s.hi.at(y)) }

// domain is which heights at the end leave some at the start.
func (s slice) domain(low, high float64) (from, to float64, ok bool) {
	if !(low <= high) {
		return 0, 0, false
	}
	ys := []float64{low, high}
	ys = s.hi.within(s.lo.within(ys, low, high), low, high)
	slices.Sort(ys)
	// A fall with least = most leaves a straight line of heights, which rounding
	// must not cut to pieces.
	gap := func(y float64) float64 { return s.hi.at(y) - s.lo.at(y) + s.hi.rounding(y) + s.lo.rounding(y) }
	first, last, best := -1, -1, 0
	for i, y := range ys {
		g := gap(y)
		if g >= 0 && first < 0 {
			first = i
		}
		if g >= 0 {
			last = i
		}
		if g > gap(ys[best]) {
			best = i
		}
	}
	if first < 0 {
		// Rules that meet in a point may miss it by rounding.
		return ys[best], ys[best], gap(ys[best]) >= -give
	}
	from, to = ys[first], ys[last]
	if first > 0 {
		from = zeroBetween(ys[first-1], ys[first], gap)
	}
	if last+1 < len(ys) {
		to = zeroBetween(ys[last+1], ys[last], gap)
	}
	return from, to, true
}

// zeroBetween is where a straight function that is negative at a and not at b is
// zero.
func zeroBetween(a, b float64, f func(float64) float64) float64 {
	fa, fb := f(a), f(b)
	return b + float64((a-b)*(fb/(fb-fa)))
}

// carry is V at the end of the slice from V at its start.
func (s slice) carry(f concave, from, to, weight float64) concave {
	ys := []float64{from, to}
	ys = s.hi.within(s.lo.within(ys, from, to), from, to)
	ys = s.lo.meets(ys, f.x, from, to)
	ys = s.hi.meets(ys, f.x, from, to)
	slices.Sort(ys)
	var out concave
	for _, y := range ys {
		out.add(y, f.at(s.best(y))+float64(weight*y))
	}
	return out
}
