package stands

import "math"

// Trench is cells dug in their order, and stands for them.
type Trench struct {
	Cells int
	// Reach says which cells a stand can dig; Blocked which open cells leave no
	// ground for it. Both by stand, then cell.
	Reach, Blocked [][]bool
	// Travel is the way between stands, the last row and column being the entry;
	// not negative.
	Travel [][]float64
}

// Leg is a stand of a trench and the cells it digs, From included, To not.
type Leg struct{ Stand, From, To int }

// Run is the answer for a trench.
type Run struct {
	Legs   []Leg
	Travel float64
}

// tally is the price of a way, compared by count, then length.
type tally struct {
	count  int
	length float64
}

func (a tally) less(b tally) bool {
	return a.count < b.count || a.count == b.count && a.length < b.length-1e-9
}

// state is the cheapest way to have dug the first cells with a stand as the
// last one.
type state struct {
	tally
	from, stand int // where it came from
}

// Along is the fewest stands and then the least travel to dig all cells of a
// trench in their order, from the entry and back to it; ok is false where it
// cannot be done. A stand needs all cells before and its own to leave it its
// ground. It is exact, by dynamic programming over the cells dug and the last
// stand.
func Along(t Trench) (r Run, ok bool) {
	n, entry := t.Cells, len(t.Reach)
	best := make([][]state, n+1)
	for i := range best {
		best[i] = make([]state, entry+1)
		for s := range best[i] {
			best[i][s] = state{tally{math.MaxInt, 0}, -1, -1}
		}
	}
	best[0][entry].tally = tally{}
	for i := range n {
		for last, at := range best[i] {
			if at.count < math.MaxInt {
				t.extend(best, i, last)
			}
		}
	}
	return t.trace(best)
}

// extend tries every next leg from a state.
func (t Trench) extend(best [][]state, i, last int) {
	at := best[i][last].tally
	for s := range t.Reach {
		if s == last || t.blockedBy(s, i) {
			continue
		}
		next := tally{at.count + 1, at.length + t.Travel[last][s]}
		for m := i; m < t.Cells && t.Reach[s][m] && !t.Blocked[s][m]; m++ {
			if next.less(best[m+1][s].tally) {
				best[m+1][s] = state{next, i, last}
			}
		}
	}
}

// blockedBy says that one of the first cells, open, blocks a stand.
func (t Trench) blockedBy(s, cells int) bool {
	for c := range cells {
		if t.Blocked[s][c] {
			return true
		}
	}
	return false
}

// trace is the best run of all, way out included, back to front.
func (t Trench) trace(best [][]state) (r Run, ok bool) {
	entry := len(t.Reach)
	end, price := -1, tally{math.MaxInt, 0}
	for s, at := range best[t.Cells] {
		way := tally{at.count, at.length + t.Travel[s][entry]}
		if at.count < math.MaxInt && way.less(price) {
			end, price = s, way
		}
	}
	if end < 0 {
		return Run{}, false
	}
	r.Travel = price.length
	for i, s := t.Cells, end; i > 0; {
		at := best[i][s]
		r.Legs = append([]Leg{{s, at.from, i}}, r.Legs...)
		i, s = at.from, at.stand
	}
	return r, true
}
