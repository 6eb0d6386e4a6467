package cover

import mathbits "math/bits"

// shape holds the bits by which rows and columns are compared in the nodes.
type shape struct {
	rows []bits // columns of each row
	cols []bits // rows of each column
}

func newShape(m *matrix) shape {
	return shape{table(m.rows, len(m.sets)), table(m.sets, len(m.rows))}
}

// settle takes columns that alone hold a row, until there are none. It returns
// false if a row has lost all its columns.
func (b *tree) settle(n *node) bool {
	for again := true; again; {
		again = false
		for i := range b.m.rows {
			if !n.rows.has(i) {
				continue
			}
			left, only := both(b.rows[i], n.cols)
			if left == 0 {
				return false
			}
			if left == 1 {
				b.l.set(n, only, in)
				again = true
			}
		}
		b.work += int64(len(b.m.rows) * len(n.cols))
	}
	return true
}

// both counts the common members, up to 2, and names the last it saw.
func both(a, b bits) (n, last int) {
	for k, w := range a {
		if w &= b[k]; w != 0 {
			n += mathbits.OnesCount64(w)
			last = 64*k + mathbits.TrailingZeros64(w)
			if n > 1 {
				return n, last
			}
		}
	}
	return n, last
}

// dominate drops the rows and columns that others in the node make needless.
// It returns whether a column went.
func (b *tree) dominate(n *node) bool {
	b.dominateRows(n)
	return b.dominateCols(n)
}

// dominateRows drops each row that includes another's free columns.
func (b *tree) dominateRows(n *node) {
	for i := range b.m.rows {
		if !n.rows.has(i) {
			continue
		}
		_, j := both(b.rows[i], n.cols)
		for w, word := range b.cols[j] {
			for word &= n.rows[w]; word != 0; word &= word - 1 {
				k := 64*w + mathbits.TrailingZeros64(word)
				if k != i && b.rows[i].within(b.rows[k], n.cols) {
					n.rows.drop(k)
				}
			}
		}
		b.work += int64(len(n.rows) + 2*len(b.m.sets[j]))
	}
}

// dominateCols drops each free column whose open rows another free one holds at
// no more cost; of equals the smaller stays.
func (b *tree) dominateCols(n *node) bool {
	went := false
	for j := range b.m.sets {
		if n.cols.has(j) && b.outdone(n, j) {
			b.l.set(n, j, out)
			went = true
		}
	}
	return went
}

// outdone says whether another free column makes column j needless.
func (b *tree) outdone(n *node, j int) bool {
	count, i := both(b.cols[j], n.rows)
	if count == 0 {
		return true
	}
	b.work += int64(len(n.rows) + 2*len(b.m.rows[i]))
	for w, word := range b.rows[i] {
		for word &= n.cols[w]; word != 0; word &= word - 1 {
			k := 64*w + mathbits.TrailingZeros64(word)
			if k == j || b.m.cost[k] > b.m.cost[j] || !b.cols[j].within(b.cols[k], n.rows) {
				continue
			}
			if k < j || b.m.cost[k] < b.m.cost[j] || !b.cols[k].within(b.cols[j], n.rows) {
				return true
			}
		}
	}
	return false
}
