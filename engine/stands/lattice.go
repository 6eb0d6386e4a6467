package stands

import (
	"container/heap"
	"math"

	"spadework/engine/geom"
)

// lattice is the places looked at and the ways between them.
type lattice struct {
	ground *ground
	origin geom.Point
	step   float64
	nx, ny int
	level  []bool  // by node, the ground is known and not too steep
	firm   []bool  // by node, level and off what never changes
	taken  []int16 // by node, the open cells too near
	cost   []float64
	from   []int32
	round  []int32 // by node, the search that last set cost
	search int32
}

func newLattice(g *ground, box geom.Box, step float64) *lattice {
	l := &lattice{ground: g, step: step}
	l.origin = geom.Point{X: math.Floor(box.Min.X/step) * step, Y: math.Floor(box.Min.Y/step) * step}
	l.nx, l.ny = int((box.Max.X-l.origin.X)/step)+2, int((box.Max.Y-l.origin.Y)/step)+2
	n := l.nx * l.ny
	l.level, l.firm, l.taken = make([]bool, n), make([]bool, n), make([]int16, n)
	l.cost, l.from, l.round = make([]float64, n), make([]int32, n), make([]int32, n)
	return l
}

// at is the place of a node.
func (l *lattice) at(node int) geom.Point {
	return geom.Point{X: l.origin.X + float64(node%l.nx)*l.step, Y: l.origin.Y + float64(node/l.nx)*l.step}
}

// wide is a clearance at both nodes that leaves a clearance of r on the way
// between neighbours.
func (l *lattice) wide(r float64) float64 {
	return math.Sqrt(float64(r*r) + float64(l.step*l.step)/2)
}

// settle finds what is firm in a row.
func (l *lattice) settle(y int) {
	r := l.wide(l.ground.body.turn)
	for n := y * l.nx; n < (y+1)*l.nx; n++ {
		at := l.at(n)
		_, l.level[n] = l.ground.height(at)
		l.firm[n] = l.level[n] && l.ground.rolls(at, at, r, 0, false)
	}
}

// dig opens a cell, or with by −1 closes it again.
func (l *lattice) dig(c int32, by int16) {
	g := l.ground
	g.open[c] = by > 0
	gap := l.wide(g.body.turn + g.setback)
	ring := g.cells.rings[c]
	l.nodes(ring.Bounds().Grown(gap), func(n int) {
		if at := l.at(n); !clearOf(at, at, ring, gap) {
			l.taken[n] += by
		}
	})
}

// nodes visits the nodes in a box.
func (l *lattice) nodes(b geom.Box, visit func(n int)) {
	lo := func(v, o float64) int { return max(0, int(math.Ceil((v-o)/l.step))) }
	x1, y1 := min(l.nx-1, int((b.Max.X-l.origin.X)/l.step)), min(l.ny-1, int((b.Max.Y-l.origin.Y)/l.step))
	for y := lo(b.Min.Y, l.origin.Y); y <= y1; y++ {
		for x := lo(b.Min.X, l.origin.X); x <= x1; x++ {
			visit(y*l.nx + x)
		}
	}
}

// joins are the nodes that a place is linked to by a clear leg.
func (l *lattice) joins(p geom.Point) (out []int) {
	l.nodes(geom.BoxOf(p).Grown(1.5*l.step), func(n int) {
		if l.firm[n] && l.taken[n] == 0 && l.ground.turns(p, l.at(n)) {
			out = append(out, n)
		}
	})
	return out
}

// way is the shortest way found between two places to turn, both included.
func (l *lattice) way(a, b geom.Point) ([]geom.Point, bool) {
	if l.ground.turns(a, b) {
		return []geom.Point{a, b}, true
	}
	if !l.ground.turns(a, a) || !l.ground.turns(b, b) {
		return nil, false
	}
	last := l.reach(b, a, 1) // from b, which may lie in a pocket; a does not
	if last < 0 {
		return nil, false
	}
	way := []geom.Point{a}
	for n := last; n >= 0; n = int(l.from[n]) {
		way = append(way, l.at(n))
	}
	way = append(way, b)
	return l.pulled(way), true
}

// haste is how much more the distance still to go weighs than the way so far
// where any way will do.
const haste = 5

// linked says that there is some way between two places to turn.
func (l *lattice) linked(a, b geom.Point) bool {
	return l.ground.turns(a, b) || l.ground.turns(a, a) && l.ground.turns(b, b) && l.reach(a, b, haste) >= 0
}

// reach looks for a node that joins b from a, by A*, with haste 1 the nearest;
// −1 for none.
func (l *lattice) reach(a, b geom.Point, haste float64) int {
	goal := map[int]bool{}
	for _, n := range l.joins(b) {
		goal[n] = true
	}
	if len(goal) == 0 {
		return -1
	}
	l.search++
	var q queue
	add := func(n, from int, cost float64) {
		if l.round[n] == l.search && cost >= l.cost[n]-1e-12 {
			return
		}
		l.round[n], l.cost[n], l.from[n] = l.search, cost, int32(from)
		heap.Push(&q, stop{cost + haste*l.at(n).Distance(b), cost, n})
	}
	for _, n := range l.joins(a) {
		add(n, -1, a.Distance(l.at(n)))
	}
	for len(q) > 0 {
		s := heap.Pop(&q).(stop)
		if s.cost > l.cost[s.node] {
			continue
		}
		if goal[s.node] {
			return s.node
		}
		l.neighbours(s.node, func(m int, d float64) { add(m, s.node, s.cost+d) })
	}
	return -1
}

// neighbours visits the clear nodes beside one and their distance.
func (l *lattice) neighbours(n int, visit func(m int, d float64)) {
	x, y := n%l.nx, n/l.nx
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			u, v := x+dx, y+dy
			if dx == 0 && dy == 0 || u < 0 || v < 0 || u >= l.nx || v >= l.ny {
				continue
			}
			if m := v*l.nx + u; l.firm[m] && l.taken[m] == 0 {
				visit(m, l.step*math.Sqrt(float64(dx*dx+dy*dy)))
			}
		}
	}
}

// pulled drops places of a way that can be driven past.
func (l *lattice) pulled(way []geom.Point) []geom.Point {
	out := []geom.Point{way[0]}
	for i := 0; i < len(way)-1; {
		j := i + 1
		for j+1 < len(way) && l.ground.turns(way[i], way[j+1]) {
			j++
		}
		out = append(out, way[j])
		i = j
	}
	return out
}

// stop is a node to go on from.
type stop struct {
	total, cost float64
	node        int
}

type queue []stop

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	if q[i].total != q[j].total {
		return q[i].total < q[j].total
	}
	return q[i].node < q[j].node
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(stop)) }
func (q *queue) Pop() any {
	old := *q
	s := old[len(old)-1]
	*q = old[:len(old)-1]
	return s
}
