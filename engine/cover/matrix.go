package cover

// matrix is a covering problem without gaps: rows are elements, columns sets.
type matrix struct {
	cost []int64   // of each column
	sets [][]int32 // rows of each column, rising
	rows [][]int32 // columns of each row, rising
	id   []int32   // set of the Problem behind each column, rising
}

// entries is the count of (row, column) pairs.
func (m *matrix) entries() int64 {
	n := int64(0)
	for _, r := range m.rows {
		n += int64(len(r))
	}
	return n
}

// total cost of all columns.
func (m *matrix) total() int64 {
	n := int64(0)
	for _, c := range m.cost {
		n += c
	}
	return n
}

// pick copies the rows and columns marked, renumbered in their order.
func (m *matrix) pick(rows, cols bits) *matrix {
	out := &matrix{}
	to := make([]int32, len(m.rows))
	for i := range m.rows {
		if to[i] = -1; rows.has(i) {
			to[i] = int32(len(out.rows))
			out.rows = append(out.rows, nil)
		}
	}
	for j, set := range m.sets {
		if !cols.has(j) {
			continue
		}
		k := int32(len(out.sets))
		var kept []int32
		for _, i := range set {
			if to[i] >= 0 {
				kept = append(kept, to[i])
				out.rows[to[i]] = append(out.rows[to[i]], k)
			}
		}
		out.sets = append(out.sets, kept)
		out.cost = append(out.cost, m.cost[j])
		out.id = append(out.id, m.id[j])
	}
	return out
}
