package stands

// depthSlack is how much deeper a neighbour has to be to come first, in metres.
const depthSlack = 1e-6

// precedence lists, by cell, the cells that have to be open before it, and the
// cells that go round in a circle or wait for such.
func precedence(p *Problem, g *ground) (before [][]int32, circle []bool) {
	before = make([][]int32, len(p.Cells))
	digs := byDig(p)
	need := func(first, then int32) { before[then] = append(before[then], first) }
	for d, cells := range digs {
		within(p, cells, p.Digs[d].InOrder, need)
		for _, next := range p.Digs[d].Before {
			product(cells, digs[next], need)
		}
	}
	deeperFirst(p, g, need)
	return before, circular(before)
}

func byDig(p *Problem) [][]int32 {
	digs := make([][]int32, len(p.Digs))
	for i, c := range p.Cells {
		digs[c.Dig] = append(digs[c.Dig], int32(i))
	}
	return digs
}

func product(first, then []int32, need func(first, then int32)) {
	for _, a := range first {
		for _, b := range then {
			need(a, b)
		}
	}
}

// within is the order inside a dig: crossings, then the rest, each in order.
func within(p *Problem, cells []int32, inOrder bool, need func(first, then int32)) {
	var parts [2][]int32
	for _, c := range cells {
		part := 1
		if p.Cells[c].Crossing {
			part = 0
		}
		parts[part] = append(parts[part], c)
	}
	product(parts[0], parts[1], need)
	if !inOrder {
		return
	}
	for _, part := range parts {
		for i := 1; i < len(part); i++ {
			need(part[i-1], part[i])
		}
	}
}

// deeperFirst lets the deeper of two digs' neighbouring cells come first, unless
// the digs are told another order.
func deeperFirst(p *Problem, g *ground, need func(first, then int32)) {
	told := map[[2]int]bool{}
	for d, dig := range p.Digs {
		for _, next := range dig.Before {
			told[[2]int{d, next}] = true
		}
	}
	for i, c := range p.Cells {
		ring := g.cells.rings[i]
		g.cells.every(ring.Bounds().Grown(g.setback), func(j int32) bool {
			o := p.Cells[j]
			if o.Dig != c.Dig && p.lower(c, o) > depthSlack && !told[[2]int{o.Dig, c.Dig}] && !apart(ring, g.cells.rings[j], g.setback) {
				need(int32(i), j)
			}
			return true
		})
	}
}

// lower is how much lower the floor of a cell lies than another's: by their
// elevations where these are told, else by their depths.
func (p *Problem) lower(c, than Cell) float64 {
	if p.Ground != nil {
		return float64(than.Bottom.Above(c.Bottom))
	}
	return float64(c.Depth - than.Depth)
}

// circular tells the cells whose turn never comes.
func circular(before [][]int32) []bool {
	left, after := make([]int, len(before)), make([][]int32, len(before))
	var free []int32
	for c, list := range before {
		left[c] = len(list)
		for _, b := range list {
			after[b] = append(after[b], int32(c))
		}
		if len(list) == 0 {
			free = append(free, int32(c))
		}
	}
	never := make([]bool, len(before))
	for c := range never {
		never[c] = true
	}
	for len(free) > 0 {
		c := free[len(free)-1]
		free = free[:len(free)-1]
		never[c] = false
		for _, a := range after[c] {
			if left[a]--; left[a] == 0 {
				free = append(free, a)
			}
		}
	}
	return never
}
