package reception

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/ground"
)

// gridGround is a grid made ready.
type gridGround struct {
	*ground.Grid
	lattice
	gaps    bool    // some node has no data
	step    float64 // largest difference of neighbours, diagonals included
	highest float64 // largest |elevation|
	bit     int
}

func newGridGround(g *ground.Grid) *gridGround {
	box := g.Bounds()
	out := &gridGround{Grid: g, bit: min(unitOf(g.Origin.X), unitOf(g.Origin.Y))}
	out.lattice = lattice{
		origin: g.Origin, dx: g.DX, dy: g.DY, cols: g.Cols - 1, rows: g.Rows - 1,
		most: max(math.Abs(box.Min.X), math.Abs(box.Min.Y), math.Abs(box.Max.X), math.Abs(box.Max.Y)),
	}
	for c := range g.Cols {
		out.bit = min(out.bit, unitOf(g.Node(c, 0).X))
	}
	for r := range g.Rows {
		out.bit = min(out.bit, unitOf(g.Node(0, r).Y))
		out.scanRow(r)
	}
	return out
}

// scanRow takes row r into the figures of the whole grid.
func (g *gridGround) scanRow(r int) {
	n := g.Cols
	for c := range n {
		i := r*n + c
		z := g.Z[i]
		if z != z {
			g.gaps = true
			continue
		}
		g.bit = min(g.bit, unitOf(z))
		g.highest = max(g.highest, math.Abs(z))
		if c+1 < n {
			g.apart(z, g.Z[i+1])
		}
		if r+1 < g.Rows {
			g.apart(z, g.Z[i+n])
			if c+1 < n {
				g.apart(z, g.Z[i+n+1])
			}
		}
	}
}

func (g *gridGround) apart(a, b float64) {
	if d := math.Abs(a - b); d > g.step {
		g.step = d
	}
}

func (g *gridGround) unit() int { return g.bit }

// The facets of cell c are 2c, under the diagonal, and 2c+1 over it.
func (g *gridGround) corners(facet int32, _ *ray) *[3]geom.Point3 {
	cell, over := int(facet>>1), facet&1 == 1
	c, r := cell%g.cols, cell/g.cols
	at := func(c, r int) geom.Point3 { return g.Node(c, r).Raised(g.Z[r*g.Cols+c]) }
	if over {
		return &[3]geom.Point3{at(c, r), at(c+1, r+1), at(c, r+1)}
	}
	return &[3]geom.Point3{at(c, r), at(c+1, r), at(c+1, r+1)}
}

func (g *gridGround) speaks(r *ray, s *Scratch) bool {
	if !g.Bounds().Holds(r.to) {
		return false
	}
	return !s.gap || groundAlong(g.Grid, r, g.highest)
}

// groundAlong asks the surface itself whether it speaks all along the ray, by a
// sight line over all of it.
func groundAlong(s ground.Surface, r *ray, highest float64) bool {
	over := 2*highest + 1000
	return !s.FirstHit(r.from.Raised(over), r.to.Raised(over)).Unknown
}

// collect goes along the corridor and leaves out the cells whose highest node
// asks for less than floor or than what some crossing is known to ask for.
func (g *gridGround) collect(r *ray, floor float64, s *Scratch) {
	if !math.IsInf(floor, -1) {
		floor = max(floor, g.running(r))
	}
	along := g.corridor(r)
	lineStep, cellStep := 1, g.Cols
	if along.swap {
		lineStep, cellStep = cellStep, lineStep
	}
	for st, ok := along.next(); ok; st, ok = along.next() {
		limit := floor + r.least(st.t0, st.t1)
		limit -= 4 * u * (math.Abs(limit) + g.highest)
		for m := st.first; m <= st.last; m++ {
			i := st.line*lineStep + m*cellStep
			z := max(g.Z[i], g.Z[i+lineStep], g.Z[i+cellStep], g.Z[i+lineStep+cellStep])
			if z < limit {
				continue
			}
			g.offerCell(r, i, floor, s)
		}
	}
}

// offerCell offers the facets of the cell north-east of node i.
func (g *gridGround) offerCell(r *ray, i int, floor float64, s *Scratch) {
	cell := int32(i/g.Cols*g.cols + i%g.Cols)
	for f := 2 * cell; f <= 2*cell+1; f++ {
		c := g.corners(f, r)
		if sum := c[0].Z + c[1].Z + c[2].Z; sum != sum {
			s.gap = true
			continue
		}
		s.offer(candidate{facet: f, flat: r.isFlat(c)}, r.facet(c), floor)
	}
}
