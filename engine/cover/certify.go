package cover

// multiplier is what a row is worth, at or above 0.
type multiplier struct {
	row int
	u   float64
}

// certify bounds the node's cost from below in units of 2^−shift, by the
// multipliers its dictionary proposes.
func (l *relaxer) certify(n *node) (low int64) {
	l.price = l.price[:0]
	for c, name := range n.t.name {
		if name < 0 && n.t.d[c] > 0 {
			l.price = append(l.price, multiplier{int(-1 - name), n.t.d[c]})
		}
	}
	return l.prove(n.state, l.price)
}

// prove bounds from below the cost of all covers whose columns have the given
// state, in units of 2^−shift, by integers alone. The multipliers u ≥ 0 are
// rounded down; whatever they are, every cover x obeys
//
//	cost·x ≥ Σ u + Σ min over x of (cost − Σ u of its rows)·x
//
// where a fixed column has its value and a free one 0 or 1. The sum is exact:
// costs sum to at most 2^52, multipliers beyond a total of 2^56 are left out,
// and a sum below −2^61 is given up for 0, so nothing overflows. l.red keeps the reduced costs.
func (l *relaxer) prove(state []int8, price []multiplier) (low int64) {
	for j, c := range l.m.cost {
		l.red[j] = c << l.shift
	}
	sum := int64(0)
	for _, p := range price {
		u := int64(float64(min(p.u, 1<<41) * float64(int64(1)<<l.shift)))
		if u <= 0 || u > 1<<56-sum {
			continue
		}
		sum += u
		low += u
		for _, j := range l.m.rows[p.row] {
			l.red[j] -= u
		}
	}
	for j, r := range l.red {
		if state[j] == in || state[j] == free && r < 0 {
			low += r
		}
		if low < -1<<61 {
			return 0
		}
	}
	return low
}
