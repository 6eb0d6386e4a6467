package cover

import "slices"

// guess is what fixing a column has done to the bound, per unit of its value
// moved: pseudo-costs.
type guess struct {
	sum   [2]float64 // fixed out, fixed in
	count [2]float64
}

// candidate is a column to branch on.
type candidate struct {
	col  int
	x    float64
	gain [2]float64 // of the bound, column out and in
	rank float64
}

// probe tries out branches of a node before it takes one.
type probe struct {
	list  []candidate
	next  int
	best  int
	trial node
	fix   []int // columns found to have one way only
	way   []int8
}

const (
	// probes is how many columns are tried at most, patience how many without
	// an improvement; probePivots limits each trial. Twice the values
	// cost a tenth more work on covers of 400 × 5 000.
	probes      = 10
	patience    = 5
	probePivots = 12
	// trusted is how many trials make a column's pseudo-cost good enough.
	trusted = 4
)

// begin lists the fractional columns of n, the most promising first.
func (p *probe) begin(b *tree, n *node) {
	p.list, p.next, p.best = p.list[:0], 0, -1
	p.fix, p.way = p.fix[:0], p.way[:0]
	for r, j := range n.t.base {
		x := n.t.beta[r]
		if n.state[j] != free || x < 1e-6 || x > 1-1e-6 {
			continue
		}
		c := candidate{col: int(j), x: x}
		b.estimate(n, r, &c)
		p.list = append(p.list, c)
	}
	slices.SortFunc(p.list, func(a, c candidate) int {
		if a.rank != c.rank {
			if a.rank > c.rank {
				return -1
			}
			return 1
		}
		return a.col - c.col
	})
	b.work += n.t.work()
}

// estimate ranks the column of line r by its pseudo-costs, or by the first
// pivot each way where there are none.
func (b *tree) estimate(n *node, r int, c *candidate) {
	g := &b.guess[c.col]
	for way := range 2 {
		move, sign := c.x, -1.0
		if way == 1 {
			move, sign = 1-c.x, 1.0
		}
		if g.count[way] > 0 {
			c.gain[way] = float64(move * g.sum[way] / g.count[way])
			continue
		}
		v := b.l.v[:len(n.t.d)]
		for k, a := range n.t.a[r] {
			v[k] = float64(sign * a)
		}
		_, gain := n.t.enter(v)
		c.gain[way] = float64(move * gain)
	}
	c.rank = b.rank(n, c.gain)
}

// rank of a column by what both ways gain, no more than ends the node.
func (b *tree) rank(n *node, gain [2]float64) float64 {
	full := float64(b.limit) + 1e-4 - n.t.z
	return float64(max(min(gain[0], full), 1e-6) * max(min(gain[1], full), 1e-6))
}

// weighNow tries one column, or branches when enough have been tried.
func (b *tree) weighNow() {
	p, n := &b.probe, b.now
	if len(p.list) == 0 {
		b.branch(b.anyFree(n))
		return
	}
	if p.next < min(probes, len(p.list)) && p.next-max(p.best, 0) < patience {
		b.try(n, p.next)
		p.next++
		return
	}
	if len(p.fix) > 0 {
		for k, j := range p.fix {
			if n.state[j] == free {
				b.l.set(n, j, p.way[k])
			} else if n.state[j] != p.way[k] {
				b.prune()
				return
			}
		}
		b.task = settle
		return
	}
	b.branch(p.list[p.best].col)
}

// anyFree is a free column, for a node whose relaxation is whole without
// being ruled out.
func (b *tree) anyFree(n *node) int {
	for j, s := range n.state {
		if s == free {
			return j
		}
	}
	panic("cover: a node without free columns is neither a cover nor ruled out")
}

// try fixes candidate k both ways and notes what the bound gains.
func (b *tree) try(n *node, k int) {
	c := &b.probe.list[k]
	g := &b.guess[c.col]
	if g.count[0] < trusted || g.count[1] < trusted {
		for way, s := range []int8{out, in} {
			b.tryWay(n, c, way, s)
		}
		c.rank = b.rank(n, c.gain)
	}
	if b.probe.best < 0 || c.rank > b.probe.list[b.probe.best].rank {
		b.probe.best = k
	}
}

// tryWay fixes the candidate one way.
func (b *tree) tryWay(n *node, c *candidate, way int, s int8) {
	t := &b.probe.trial
	t.copyFrom(n)
	b.l.set(t, c.col, s)
	b.work += 2 * n.t.work()
	ruled := false
	for range probePivots {
		v, work := b.l.step(t)
		b.work += work
		if v != moved || b.past(t) {
			break
		}
	}
	if t.t.z > float64(b.limit) {
		ruled = b.beyond(b.l.certify(t))
	}
	c.gain[way] = max(t.t.z-n.t.z, 0)
	move := c.x
	if way == 1 {
		move = 1 - c.x
	}
	g := &b.guess[c.col]
	g.sum[way] += float64(c.gain[way] / move)
	g.count[way]++
	if ruled {
		b.probe.fix = append(b.probe.fix, c.col)
		b.probe.way = append(b.probe.way, in+out-s)
	}
}

// branch splits the node by column j, the covers with it first.
func (b *tree) branch(j int) {
	n := b.now
	b.root = false
	with := &node{}
	if k := len(b.spare); k > 0 {
		with, b.spare = b.spare[k-1], b.spare[:k-1]
	}
	with.copyFrom(n)
	b.l.set(n, j, out)
	b.l.set(with, j, in)
	b.open = append(b.open, n, with)
	b.now, b.task = nil, choose
}
