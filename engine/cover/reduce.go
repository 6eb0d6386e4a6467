package cover

// reducer shrinks a matrix by dominance until nothing changes. It works one
// row or column at a time.
type reducer struct {
	m     *matrix
	taken []int32 // sets that a cheapest cover may be taken to hold
	cost  int64   // of these

	byCols  bool // columns are being compared, else rows
	next    int
	changed bool
	quiet   int // passes without a change
	rows    bits
	cols    bits
	mask    bits
	table   []bits
}

// newReducer starts on m. Columns of no cost are taken first: they can only
// help.
func newReducer(m *matrix) *reducer {
	r := &reducer{m: m}
	r.begin(false)
	for j, c := range m.cost {
		if c == 0 && r.useful(j) {
			r.take(j)
		}
	}
	r.compact()
	r.begin(false)
	return r
}

// useful says whether column j holds a row that is left.
func (r *reducer) useful(j int) bool {
	for _, i := range r.m.sets[j] {
		if r.rows.has(int(i)) {
			return true
		}
	}
	return false
}

// begin starts a pass over rows or columns.
func (r *reducer) begin(byCols bool) {
	r.byCols, r.next, r.changed = byCols, 0, false
	r.rows = fullBits(len(r.m.rows))
	r.cols = fullBits(len(r.m.sets))
	if byCols {
		r.table, r.mask = table(r.m.sets, len(r.m.rows)), r.rows
		return
	}
	r.table, r.mask = table(r.m.rows, len(r.m.sets)), r.cols
}

// step compares one row or column, or ends a pass. It returns the work done
// and whether the reduction is complete.
func (r *reducer) step() (work int64, done bool) {
	if r.byCols && r.next < len(r.m.sets) {
		r.next++
		return r.column(r.next - 1), false
	}
	if !r.byCols && r.next < len(r.m.rows) {
		r.next++
		return r.row(r.next - 1), false
	}
	work = r.m.entries()
	if r.changed {
		r.quiet = 0
		r.compact()
	} else if r.quiet++; r.quiet == 2 {
		return work, true
	}
	r.begin(!r.byCols)
	return work, false
}

// row drops the rows that row i makes needless: those with all its columns.
// Of equal rows the smaller stays.
func (r *reducer) row(i int) (work int64) {
	if !r.rows.has(i) {
		return 1
	}
	cols := r.m.rows[i]
	short := cols[0]
	for _, j := range cols {
		if len(r.m.sets[j]) < len(r.m.sets[short]) {
			short = j
		}
	}
	for _, k := range r.m.sets[short] {
		if int(k) == i || !r.rows.has(int(k)) || len(r.m.rows[k]) < len(cols) {
			continue
		}
		if r.table[i].within(r.table[k], r.mask) {
			r.rows.drop(int(k))
			r.changed = true
		}
	}
	return int64(len(cols) + 4*len(r.m.sets[short]))
}

// column drops column j if another holds all its rows and costs no more; of
// equal columns the smaller stays.
func (r *reducer) column(j int) (work int64) {
	set := r.m.sets[j]
	if len(set) == 0 {
		r.cols.drop(j)
		r.changed = true
		return 1
	}
	short := set[0]
	for _, i := range set {
		if len(r.m.rows[i]) < len(r.m.rows[short]) {
			short = i
		}
	}
	for _, k := range r.m.rows[short] {
		if int(k) != j && r.cols.has(int(k)) && r.outdoes(int(k), j) && r.table[j].within(r.table[k], r.mask) {
			r.cols.drop(j)
			r.changed = true
			break
		}
	}
	return int64(len(set) + 4*len(r.m.rows[short]))
}

// outdoes says whether column k may stand for column j if it holds j's rows.
func (r *reducer) outdoes(k, j int) bool {
	if r.m.cost[k] != r.m.cost[j] {
		return r.m.cost[k] < r.m.cost[j]
	}
	if len(r.m.sets[k]) != len(r.m.sets[j]) {
		return len(r.m.sets[k]) > len(r.m.sets[j])
	}
	return k < j
}

// take puts column j into the cover and drops its rows.
func (r *reducer) take(j int) {
	r.taken = append(r.taken, r.m.id[j])
	r.cost += r.m.cost[j]
	r.cols.drop(j)
	for _, i := range r.m.sets[j] {
		r.rows.drop(int(i))
	}
}

// compact takes the columns that alone hold a row and renumbers what is left.
func (r *reducer) compact() {
	for i, cols := range r.m.rows {
		if !r.rows.has(i) {
			continue
		}
		only, n := int32(-1), 0
		for _, j := range cols {
			if r.cols.has(int(j)) {
				only = j
				n++
			}
		}
		if n == 1 {
			r.take(int(only))
		}
	}
	r.m = r.m.pick(r.rows, r.cols)
}

// split parts m into its components, in the order of their first columns.
// Columns without rows are left out.
func split(m *matrix) []*matrix {
	part := make([]int, len(m.sets))
	var out []*matrix
	for j := range m.sets {
		if part[j] != 0 || len(m.sets[j]) == 0 {
			continue
		}
		rows, cols := m.reach(j, part, len(out)+1)
		out = append(out, m.pick(rows, cols))
	}
	return out
}

// reach marks by n all columns that hang together with column j, and returns
// them with their rows.
func (m *matrix) reach(j int, part []int, n int) (rows, cols bits) {
	rows, cols = newBits(len(m.rows)), newBits(len(m.sets))
	part[j] = n
	for todo := []int{j}; len(todo) > 0; {
		j := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		cols.add(j)
		for _, i := range m.sets[j] {
			if rows.has(int(i)) {
				continue
			}
			rows.add(int(i))
			for _, k := range m.rows[i] {
				if part[k] == 0 {
					part[k] = n
					todo = append(todo, int(k))
				}
			}
		}
	}
	return rows, cols
}
