package cover

// State of a column in a node.
const (
	free int8 = iota
	in        // in every cover of the node
	out       // in none
)

// node is the covers that hold some columns and not others.
type node struct {
	state []int8
	rows  bits // not covered by a column in, and not dominated
	cols  bits // free
	cost  int64
	low   int64 // certified bound, in units of 2^−shift
	t     *dictionary
}

// newNode has every column free.
func newNode(l *relaxer) *node {
	return &node{state: make([]int8, len(l.m.sets)), rows: fullBits(len(l.m.rows)),
		cols: fullBits(len(l.m.sets)), t: newDictionary(l.cost)}
}

// copyFrom makes n equal to o, using n's memory.
func (n *node) copyFrom(o *node) {
	n.state = append(n.state[:0], o.state...)
	n.rows = append(n.rows[:0], o.rows...)
	n.cols = append(n.cols[:0], o.cols...)
	n.cost, n.low = o.cost, o.low
	if n.t == nil {
		n.t = &dictionary{}
	}
	n.t.copyFrom(o.t)
}

// set fixes column j.
func (l *relaxer) set(n *node, j int, s int8) {
	n.state[j] = s
	n.cols.drop(j)
	if s == in {
		n.cost += l.m.cost[j]
		for _, i := range l.m.sets[j] {
			n.rows.drop(int(i))
		}
	}
	if !n.t.fix(int32(j), s == in, l.v) {
		l.restart(n)
	}
}

// restart rebuilds the dictionary from the fixed columns alone.
func (l *relaxer) restart(n *node) {
	t := newDictionary(l.cost)
	for j, s := range n.state {
		if s != free {
			t.fix(int32(j), s == in, l.v)
		}
	}
	n.t = t
}
