package cover

import (
	mathbits "math/bits"
)

// relaxer solves the linear relaxation: least cost, each row held,
// columns at or above 0.
type relaxer struct {
	m     *matrix
	cost  []float64 // a little below the true cost, each column otherwise
	shift uint      // bounds are integers in units of 2^−shift

	value  []float64 // of each row's sum over the columns chosen in part
	v, alt []float64
	red    []int64
	price  []multiplier
	favour []float64 // of each row, by which its shortness counts
}

// unfavoured is what the shortness of a row without a price counts, full where
// the price is a tenth of the highest. It cuts the pivots of a root of
// 900 × 3 900 from 41 000 to 2 600.
const unfavoured = 0.01

// slack of rounding: a row short by less counts as held.
const slack = 1e-7

// spread is the most by which a cost is lowered against ties, relative. Ties
// make the dual simplex method stall; the exact bound loses at most this part.
const spread = 1e-6

// newRelaxer for m.
func newRelaxer(m *matrix) *relaxer {
	l := &relaxer{m: m, value: make([]float64, len(m.rows)), red: make([]int64, len(m.sets)),
		v: make([]float64, len(m.sets)), alt: make([]float64, len(m.sets))}
	for range m.rows {
		l.favour = append(l.favour, 1)
	}
	l.shift = uint(min(30, 52-mathbits.Len64(uint64(m.total()))))
	h := uint64(1)
	for _, c := range m.cost {
		h = h*6364136223846793005 + 1442695040888963407
		l.cost = append(l.cost, float64(float64(c)*(1-float64(spread*float64(h>>40)/(1<<24)))))
	}
	return l
}

// follow favours the rows that good multipliers price: these are the rows that
// will bind.
func (l *relaxer) follow(price []multiplier) {
	for i := range l.favour {
		l.favour[i] = unfavoured
	}
	top := 0.0
	for _, p := range price {
		top = max(top, p.u)
	}
	for _, p := range price {
		l.favour[p.row] = max(unfavoured, min(1, float64(10*p.u)/top))
	}
}

// verdict of one step.
type verdict int

const (
	moved   verdict = iota
	optimal         // no row is short
	stuck           // no pivot can raise a short row: infeasible, not proven
)

// short is a row or line that wants to rise.
type short struct {
	row  int // or −1
	line int // line of the dictionary, or −1
	by   float64
	rank float64
}

// tries is how many of the shortest rows compete for a pivot. Writing a row out
// costs a tenth of a pivot, and the better row saves more than that.
const tries = 4

// step makes one pivot of the dual simplex method in the node's dictionary.
func (l *relaxer) step(n *node) (verdict, int64) {
	list := l.shortest(n)
	work := n.t.work() + l.m.entries()/8
	if len(list) == 0 {
		return optimal, work
	}
	best, at, entering := -1.0, -1, -1
	for k, s := range list {
		v := l.alt[:len(n.t.d)]
		l.writeOut(n.t, s, v)
		work += int64(8 * len(v))
		e, gain := n.t.enter(v)
		if e < 0 {
			return stuck, work
		}
		if g := float64(gain * s.by); g > best {
			best, at, entering = g, k, e
			l.v, l.alt = l.alt, l.v
		}
	}
	s := list[at]
	name := int32(-1 - s.row)
	if s.line >= 0 {
		name = n.t.base[s.line]
	}
	n.t.pivot(l.v[:len(n.t.d)], -s.by, entering, name, s.line)
	return moved, work
}

// shortest lists the rows and lines that are most short, the worst first.
func (l *relaxer) shortest(n *node) []short {
	list := make([]short, 0, tries+1)
	l.sumRows(n)
	for i := range l.m.rows {
		if by := 1 - l.value[i]; by > slack && n.rows.has(i) {
			list = insert(list, short{i, -1, by, float64(by * l.favour[i])})
		}
	}
	for r, b := range n.t.beta {
		if -b > slack {
			list = insert(list, short{-1, r, -b, -b})
		}
	}
	return list
}

// insert keeps the worst few in order; of equals the first stays first.
func insert(list []short, s short) []short {
	if len(list) == tries && s.rank <= list[tries-1].rank {
		return list
	}
	k := len(list)
	for k > 0 && list[k-1].rank < s.rank {
		k--
	}
	list = append(list, s)
	copy(list[k+1:], list[k:])
	list[k] = s
	return list[:min(len(list), tries)]
}

// sumRows adds up the basic columns of each row.
func (l *relaxer) sumRows(n *node) {
	clear(l.value)
	for r, j := range n.t.base {
		if x := n.t.beta[r]; x != 0 {
			for _, i := range l.m.sets[j] {
				l.value[i] += x
			}
		}
	}
}

// writeOut writes the short row or line as a combination of the nonbasics.
func (l *relaxer) writeOut(t *dictionary, s short, v []float64) {
	if s.line >= 0 {
		copy(v, t.a[s.line])
		return
	}
	clear(v)
	for _, j := range l.m.rows[s.row] {
		switch at := t.at[j]; {
		case at >= 0:
			axpy(v, t.a[at], 1)
		case at != gone:
			v[-2-at]++
		}
	}
}
