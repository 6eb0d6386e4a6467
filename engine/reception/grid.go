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
	blocks  blocks
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
	out.blocks = blocksOf(out.lattice)
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
	for c := range g.Cols {
		z := g.Z[r*g.Cols+c]
		if z != z {
			g.blocks.raiseNode(c, r, math.Inf(1))
			continue
		}
		g.bit = min(g.bit, unitOf(z))
		g.highest = max(g.highest, math.Abs(z))
		g.blocks.raiseNode(c, r, z)
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

func (g *gridGround) collect(r *ray, s *Scratch) { g.blocks.search(r, s, g) }

func (g *gridGround) size() float64 { return g.highest }

// strip offers the facets of cells of one line whose highest node reaches up to
// limit.
func (g *gridGround) strip(r *ray, c cells, limit float64, s *Scratch) {
	row := c.first / g.cols
	node := c.first + row
	step := c.step
	if step == g.cols { // to the next row, which has a node more than cells
		step++
	}
	for cell := c.first; cell <= c.last; cell += c.step {
		a, b, c, d := g.Z[node], g.Z[node+1], g.Z[node+g.Cols], g.Z[node+g.Cols+1]
		if sum := a + b + c + d; sum != sum || larger(larger(a, b), larger(c, d)) >= limit {
			g.offerCell(r, int32(cell), limit, s)
		}
		node += step
	}
}

// offerCell offers the facets of a cell.
func (g *gridGround) offerCell(r *ray, cell int32, limit float64, s *Scratch) {
	for f := 2 * cell; f <= 2*cell+1; f++ {
		c := g.corners(f, r)
		switch sum := c[0].Z + c[1].Z + c[2].Z; {
		case sum != sum:
			s.gap = true
		case larger(larger(c[0].Z, c[1].Z), c[2].Z) >= limit:
			s.offer(candidate{facet: f, flat: r.isFlat(c)}, r.facet(c))
		}
	}
}
