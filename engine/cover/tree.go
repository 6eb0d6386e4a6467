package cover

// tree looks for a cover that costs at most limit, or proves there is none, by
// branch and bound: depth first, one small task at a time.
type tree struct {
	m *matrix
	l *relaxer
	shape
	taken []int32 // sets taken before, of cost base, not in m
	base  int64
	limit int64 // for the columns of m, without base

	open   []*node
	spare  []*node
	now    *node
	task   task
	ascent *ascent // of the root, while it runs
	probe  probe
	guess  []guess // of each column
	root   bool    // no branch yet
	shrunk *reducer

	found bool    // a cover within the limit came up
	sets  []int32 // its sets
	cost  int64   // and cost, base included
	work  int64
}

// task is what the tree does next with the node at hand.
type task int

const (
	choose task = iota // take the next node
	ascend             // raise the Lagrangian bound of the root
	settle             // fix what follows, drop what is dominated
	relax              // pivot
	bound              // certify, fix by reduced cost
	shrink             // write the root out smaller
	weigh              // probe branches
	done
)

// newTree looks in m, some sets having been taken at a cost of base. The limit
// includes base.
func newTree(m *matrix, taken []int32, base, limit int64) *tree {
	b := &tree{taken: taken, base: base, limit: limit - base, root: true}
	b.plant(m)
	return b
}

// plant starts on m with a single node.
func (b *tree) plant(m *matrix) {
	b.m, b.l, b.shape = m, newRelaxer(m), newShape(m)
	b.guess = make([]guess, len(m.sets))
	b.now, b.task, b.spare = newNode(b.l), ascend, nil
	b.ascent = newAscent(m)
}

// step does one task's least part. It returns the work.
func (b *tree) step() int64 {
	before := b.work
	b.work++
	switch b.task {
	case choose:
		b.next()
	case ascend:
		b.ascendNow()
	case settle:
		b.settleNow()
	case relax:
		b.relaxNow()
	case bound:
		b.boundNow()
	case shrink:
		b.shrinkNow()
	case weigh:
		b.weighNow()
	}
	return b.work - before
}

// low is the certified least cost of any cover the tree has not ruled out,
// base included; limit+1+base when it is exhausted.
func (b *tree) low() int64 {
	least := b.limit + 1
	for _, n := range b.open {
		least = min(least, b.l.up(n.low))
	}
	if b.now != nil {
		least = min(least, b.l.up(b.now.low))
	}
	return least + b.base
}

// up rounds a bound to the next whole cost.
func (l *relaxer) up(low int64) int64 { return (low + 1<<l.shift - 1) >> l.shift }

// beyond says whether a bound rules out every cover within the limit.
func (b *tree) beyond(low int64) bool { return low > b.limit<<b.l.shift }

// past says whether a node's relaxation, as floats have it, is far enough above
// the limit for its certified bound to be so too: by more than rounding each
// multiplier down and some hundred pivots can lose. If it is not after all, the
// node is branched.
func (b *tree) past(n *node) bool {
	limit := float64(b.limit)
	rounding := float64(len(b.m.sets)) / float64(int64(1)<<b.l.shift)
	return n.t.z > limit+1e-4+float64(1e-9*limit)+rounding
}

// next takes the last node put off.
func (b *tree) next() {
	if len(b.open) == 0 {
		b.task = done
		return
	}
	b.now = b.open[len(b.open)-1]
	b.open = b.open[:len(b.open)-1]
	b.task = settle
	if b.beyond(b.now.low) {
		b.prune()
	}
}

// prune ends with the node at hand.
func (b *tree) prune() {
	b.spare = append(b.spare, b.now)
	b.now, b.task = nil, choose
}

// settleNow draws the consequences of fixed columns.
func (b *tree) settleNow() {
	n := b.now
	for {
		if !b.settle(n) || n.cost > b.limit {
			b.prune()
			return
		}
		if !b.dominate(n) {
			break
		}
	}
	b.task = relax
	if b.root && b.worthShrinking(n) {
		b.task = shrink
	}
	b.work += n.t.work()
}

// relaxNow makes one pivot.
func (b *tree) relaxNow() {
	v, work := b.l.step(b.now)
	b.work += work
	if v != moved || b.past(b.now) {
		b.task = bound
	}
}

// boundNow rules the node out, or fixes columns in it by their reduced cost.
func (b *tree) boundNow() {
	n := b.now
	low := b.l.certify(n)
	n.low = max(n.low, low)
	b.work += b.l.m.entries() / 4
	if b.beyond(n.low) {
		b.prune()
		return
	}
	b.harvest(n)
	if b.now == nil {
		return
	}
	switch {
	case b.fixByCost(n, low):
		b.task = settle
	case b.root && b.worthShrinking(n):
		b.task = shrink
	default:
		b.task = weigh
		b.probe.begin(b, n)
	}
}

// fixByCost fixes the columns whose other way costs more than the limit, by
// the reduced costs that belong to a certified bound.
func (b *tree) fixByCost(n *node, low int64) (any bool) {
	for j, s := range n.state {
		r := b.l.red[j]
		switch {
		case s != free:
		case r > 0 && b.beyond(low+r):
			b.l.set(n, j, out)
			any = true
		case r < 0 && b.beyond(low-r):
			b.l.set(n, j, in)
			any = true
		}
	}
	return any
}

// ascendNow makes one round of the ascent for a root written out smaller.
func (b *tree) ascendNow() {
	before := b.ascent.work
	done := b.ascent.step(b.limit + 1)
	b.work += b.ascent.work - before
	if done {
		b.start(b.ascent.best)
	}
}

// start fixes what the multipliers of an ascent allow, before any pivot, and
// lets them guide the pivots.
func (b *tree) start(price []multiplier) {
	n := b.now
	b.task, b.ascent = settle, nil
	b.l.follow(price)
	n.low = b.l.prove(n.state, price)
	if b.beyond(n.low) {
		b.prune()
		return
	}
	b.fixByCost(n, n.low)
}

// harvest takes the relaxation's solution as a cover if it is one.
func (b *tree) harvest(n *node) {
	rows := append(bits(nil), n.rows...)
	cost := n.cost
	var more []int
	for r, j := range n.t.base {
		if n.t.beta[r] > 0.5 && n.state[j] == free {
			more = append(more, int(j))
			cost += b.m.cost[j]
			for _, i := range b.m.sets[j] {
				rows.drop(int(i))
			}
		}
	}
	if rows.count() > 0 || cost > b.limit {
		return
	}
	b.sets = append([]int32(nil), b.taken...)
	for j, s := range n.state {
		if s == in {
			b.sets = append(b.sets, b.m.id[j])
		}
	}
	for _, j := range more {
		b.sets = append(b.sets, b.m.id[j])
	}
	b.found, b.cost = true, cost+b.base
	b.limit = cost - 1
	if b.beyond(n.low) {
		b.prune()
	}
}

// worthShrinking says whether a fifth of the columns or rows is settled.
func (b *tree) worthShrinking(n *node) bool {
	return 5*n.cols.count() < 4*len(b.m.sets) || 5*n.rows.count() < 4*len(b.m.rows)
}

// shrinkNow writes the root's open part as a matrix of its own.
func (b *tree) shrinkNow() {
	n := b.now
	if b.shrunk == nil {
		for j, s := range n.state {
			if s == in {
				b.taken = append(b.taken, b.m.id[j])
			}
		}
		b.base += n.cost
		b.limit -= n.cost
		b.shrunk = newReducer(b.m.pick(n.rows, n.cols))
		return
	}
	work, done := b.shrunk.step()
	b.work += work
	if !done {
		return
	}
	r := b.shrunk
	b.shrunk = nil
	b.taken = append(b.taken, r.taken...)
	b.base += r.cost
	b.limit -= r.cost
	b.plant(r.m)
}
