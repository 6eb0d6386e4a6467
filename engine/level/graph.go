package level

import (
	"strconv"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// graph is a checked network with its points numbered: fixed ones first, then in
// the order of first mention.
type graph struct {
	names       []string
	number      map[string]int // for look-up only
	fixed       []unit.Elevation
	differences []Difference
	from, to    []int
}

// graph checks a network and numbers its points.
func (n Network) graph() (*graph, error) {
	if !(n.Alpha >= 0 && n.Alpha < 1) {
		return nil, phrase.NewFault(phrase.New("level.bad_alpha", phrase.With("value", n.Alpha)), phrase.New("level.bad_alpha.remedy"))
	}
	if len(n.Fixed) == 0 {
		return nil, phrase.NewFault(phrase.New("level.no_fixed_point"), phrase.New("level.no_fixed_point.remedy"))
	}
	g := &graph{number: map[string]int{}, differences: n.Differences}
	for _, m := range n.Fixed {
		if err := m.check(); err != nil {
			return nil, err
		}
		if _, twice := g.number[m.Point]; twice {
			return nil, phrase.NewFault(phrase.New("level.fixed_twice", phrase.With("point", m.Point)), phrase.New("level.fixed_twice.remedy"))
		}
		g.point(m.Point)
		g.fixed = append(g.fixed, m.Elevation)
	}
	for i, d := range n.Differences {
		if err := d.check(); err != nil {
			return nil, err.At(n.place(i))
		}
		g.from = append(g.from, g.point(d.From))
		g.to = append(g.to, g.point(d.To))
	}
	return g, nil
}

// place is where difference i was read; without that its index from 1.
func (n Network) place(i int) phrase.Place {
	if p := n.Differences[i].Place; p != (phrase.Place{}) {
		return p
	}
	return phrase.Place{Path: "differences[" + strconv.Itoa(i+1) + "]"}
}

func (d Difference) check() *phrase.Fault {
	ends := []phrase.Arg{phrase.With("from", d.From), phrase.With("to", d.To)}
	bad := func(key phrase.Key, more ...phrase.Arg) *phrase.Fault {
		return phrase.NewFault(phrase.New(key, append(ends, more...)...), phrase.New(key+".remedy"))
	}
	switch {
	case d.From == "" || d.To == "":
		return bad("level.no_name")
	case d.From == d.To:
		return bad("level.same_ends")
	case !isNumber(float64(d.Rise)):
		return bad("level.rise_not_number", phrase.With("value", float64(d.Rise)))
	case !isNumber(d.Weight) || d.Weight < 0:
		return bad("level.bad_weight", phrase.With("value", d.Weight))
	case d.Setups < 0:
		return bad("level.bad_setups", phrase.With("value", d.Setups))
	}
	return checkDistance(d.From+"–"+d.To, d.Length)
}

// point is the number of a name, a new one if it was not mentioned yet.
func (g *graph) point(name string) int {
	i, ok := g.number[name]
	if !ok {
		i = len(g.names)
		g.number[name] = i
		g.names = append(g.names, name)
	}
	return i
}

// connected is a fault if some points hang on no fixed point by differences of
// weight above 0.
func (g *graph) connected() error {
	parts := g.forest()
	var loose []string
	for i, name := range g.names {
		if parts.root[i] >= len(g.fixed) {
			loose = append(loose, name)
		}
	}
	if loose == nil {
		return nil
	}
	return phrase.NewFault(
		phrase.New("level.not_connected", phrase.With("points", loose), phrase.With("count", len(loose))),
		phrase.New("level.not_connected.remedy"))
}

// forest is trees from the fixed points, then from points that these do not
// reach, over the differences of weight above 0.
type forest struct {
	root []int // of each point
	by   []int // difference that leads to a point, −1 for roots
	from []int // point before it
	used []bool
}

// forest grows the trees breadth first, so that loops are short.
func (g *graph) forest() *forest {
	f := &forest{
		root: make([]int, len(g.names)), by: make([]int, len(g.names)), from: make([]int, len(g.names)),
		used: make([]bool, len(g.differences)),
	}
	ways := g.ways()
	for i := range f.root {
		f.root[i] = -1
	}
	var queue []int
	for i := range g.fixed {
		f.root[i], f.by[i] = i, -1
		queue = append(queue, i)
	}
	f.grow(queue, ways)
	for i := range g.names {
		if f.root[i] < 0 {
			f.root[i], f.by[i] = i, -1
			f.grow([]int{i}, ways)
		}
	}
	return f
}

// way leads from a point by a difference to another.
type way struct{ by, to int }

// ways are the ways from each point, in the order of the differences.
func (g *graph) ways() [][]way {
	ways := make([][]way, len(g.names))
	for i, d := range g.differences {
		if d.Weight > 0 {
			a, b := g.from[i], g.to[i]
			ways[a] = append(ways[a], way{i, b})
			ways[b] = append(ways[b], way{i, a})
		}
	}
	return ways
}

// grow reaches all it can from the points in the queue.
func (f *forest) grow(queue []int, ways [][]way) {
	for len(queue) > 0 {
		p := queue[0]
		queue = queue[1:]
		for _, w := range ways[p] {
			if f.root[w.to] < 0 {
				f.root[w.to], f.by[w.to], f.from[w.to] = f.root[p], w.by, p
				f.used[w.by] = true
				queue = append(queue, w.to)
			}
		}
	}
}

// path is the points from the root of p down to p.
func (f *forest) path(p int) []int {
	path := []int{p}
	for f.by[p] >= 0 {
		p = f.from[p]
		path = append([]int{p}, path...)
	}
	return path
}
