package ground

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// GridData is a regular grid of elevations.
type GridData struct {
	Origin     geom.Point // south-west node
	DX, DY     float64    // spacing of nodes east and north, metres, > 0
	Cols, Rows int
	Z          []float64 // elevations row by row from the south, NaN = no data
}

// Node is the place of a node.
func (g *GridData) Node(col, row int) geom.Point {
	return geom.Point{
		X: g.Origin.X + float64(float64(col)*g.DX),
		Y: g.Origin.Y + float64(float64(row)*g.DY),
	}
}

// Grid is the surface of a regular grid: each cell is two triangles, cut from
// its south-west to its north-east node. A triangle with a node without data is
// no ground.
type Grid struct {
	GridData
	cells int32 // cells in a row
}

var _ Surface = (*Grid)(nil)

// gridLimit bounds the nodes of a Grid, so that an edge fits 32 bits.
const gridLimit = 1 << 27

// NewGrid is the surface of g, which it keeps and which must not change
// afterwards. Fewer than 2 × 2 nodes, more than 2^27, a spacing that is not
// positive or vanishes beside the coordinates, infinite elevations or a wrong
// number of them are a *phrase.Fault.
func NewGrid(g GridData) (*Grid, error) {
	fits := g.Cols >= 2 && g.Rows >= 2 && g.Cols <= gridLimit/g.Rows
	if !fits || len(g.Z) != g.Cols*g.Rows {
		return nil, gridFault("ground.grid_size", phrase.With("cols", g.Cols), phrase.With("rows", g.Rows), phrase.With("values", len(g.Z)))
	}
	far := g.Node(g.Cols-1, g.Rows-1)
	most := max(math.Abs(g.Origin.X), math.Abs(g.Origin.Y), math.Abs(far.X), math.Abs(far.Y))
	if !(g.DX > most*1e-12) || !(g.DY > most*1e-12) || !(most <= coordinateLimit) {
		return nil, gridFault("ground.grid_spacing", phrase.With("dx", g.DX), phrase.With("dy", g.DY))
	}
	for i, z := range g.Z {
		if math.Abs(z) > coordinateLimit {
			return nil, gridFault("ground.grid_value", phrase.With("row", i/g.Cols+1), phrase.With("col", i%g.Cols+1), phrase.With("z", z))
		}
	}
	return &Grid{g, int32(g.Cols - 1)}, nil
}

func gridFault(key phrase.Key, args ...phrase.Arg) error {
	return phrase.NewFault(phrase.New(key, args...), phrase.New("ground.grid_remedy"))
}

// Bounds is the box of all nodes.
func (g *Grid) Bounds() geom.Box {
	return geom.Box{Min: g.Origin, Max: g.Node(g.Cols-1, g.Rows-1)}
}

// The faces of cell c are 2c, under the diagonal (south-west, south-east,
// north-east), and 2c+1, over it (south-west, north-east, north-west).

// steps is how far east and north of the cell's south-west node each corner is.
var steps = [2][3][2]int32{{{0, 0}, {1, 0}, {1, 1}}, {{0, 0}, {1, 1}, {0, 1}}}

func (g *Grid) place(v int32) geom.Point {
	cols := int32(g.Cols)
	return g.Node(int(v%cols), int(v/cols))
}

func (g *Grid) elevation(v int32) float64 { return g.Z[v] }

func (g *Grid) start(e edge) int32 {
	cell := e >> 3
	s := &steps[e>>2&1][e&3]
	return (cell/g.cells+s[1])*int32(g.Cols) + cell%g.cells + s[0]
}

func (g *Grid) across(e edge) (edge, bool) {
	cell := e >> 3
	switch e & 7 {
	case 0: // south side of the lower face
		return (cell-g.cells)<<3 | 4 | 1, cell >= g.cells
	case 1: // east side
		return (cell+1)<<3 | 4 | 2, cell%g.cells != g.cells-1
	case 2: // diagonal
		return cell<<3 | 4, true
	case 4:
		return cell<<3 | 2, true
	case 5: // north side of the upper face
		return (cell + g.cells) << 3, cell+g.cells < g.cells*int32(g.Rows-1)
	}
	return (cell-1)<<3 | 1, cell%g.cells != 0 // west side
}

func (g *Grid) known(f int32) bool {
	e := f << 2
	sum := g.Z[g.start(e)] + g.Z[g.start(e|1)] + g.Z[g.start(e|2)]
	return sum == sum // NaN where a node has no data
}

func (g *Grid) count() int32        { return 2 * g.cells * int32(g.Rows-1) }
func (g *Grid) proper(f int32) bool { return true }

func (g *Grid) faceAt(p geom.Point) (int32, bool) {
	if !g.Bounds().Holds(p) {
		return 0, false
	}
	col := g.column(p.X)
	row := g.row(p.Y)
	cell := int32(row)*g.cells + int32(col)
	if geom.Orient(g.Node(col, row), g.Node(col+1, row+1), p) < 0 {
		return 2 * cell, true
	}
	return 2*cell + 1, true
}

// column is the cell that holds x; the quotient may be off by one by rounding.
func (g *Grid) column(x float64) int {
	col := min(int((x-g.Origin.X)/g.DX), g.Cols-2)
	for col > 0 && x < g.Node(col, 0).X {
		col--
	}
	for col < g.Cols-2 && x > g.Node(col+1, 0).X {
		col++
	}
	return col
}

// row is column for y.
func (g *Grid) row(y float64) int {
	row := min(int((y-g.Origin.Y)/g.DY), g.Rows-2)
	for row > 0 && y < g.Node(0, row).Y {
		row--
	}
	for row < g.Rows-2 && y > g.Node(0, row+1).Y {
		row++
	}
	return row
}

func (g *Grid) rim(yield func(e edge) bool) {
	cells := g.cells * int32(g.Rows-1)
	for c := range g.cells {
		if !yield(c<<3) || !yield((cells-1-c)<<3|5) {
			return
		}
	}
	for r := range int32(g.Rows - 1) {
		if !yield(((r+1)*g.cells-1)<<3|1) || !yield(r*g.cells<<3|6) {
			return
		}
	}
}

// Height is the elevation over p.
func (g *Grid) Height(p geom.Point) (float64, bool) { return height(g, p) }

// Slope is the gradient at p.
func (g *Grid) Slope(p geom.Point) (geom.Vector, bool) { return slope(g, p) }

// Profile is the ground along a line.
func (g *Grid) Profile(line []geom.Point) []ProfilePoint { return profile(g, line) }

// FirstHit is where a sight line first meets the ground.
func (g *Grid) FirstHit(from, to geom.Point3) Sight { return firstHit(g, from, to) }

// Contour is the lines at elevation z.
func (g *Grid) Contour(z float64) [][]geom.Point { return contour(g, z) }

// LowestOn is the lowest ground along an outline.
func (g *Grid) LowestOn(ring geom.Ring) Lowest { return lowestOn(g, ring) }

// Facets calls visit with the triangles near box.
func (g *Grid) Facets(box geom.Box, visit func(a, b, c geom.Point3) bool) {
	box = clip(box, g.Bounds())
	if box.Empty() {
		return
	}
	// A border of the box on a line of nodes touches the cells on both sides, of
	// which column and row give one.
	c0, c1 := max(0, g.column(box.Min.X)-1), min(g.Cols-2, g.column(box.Max.X)+1)
	r0, r1 := max(0, g.row(box.Min.Y)-1), min(g.Rows-2, g.row(box.Max.Y)+1)
	for r := r0; r <= r1; r++ {
		for f := 2 * (int32(r)*g.cells + int32(c0)); f <= 2*(int32(r)*g.cells+int32(c1))+1; f++ {
			if !g.known(f) {
				continue
			}
			a, b, c := corner(g, f<<2), corner(g, f<<2|1), corner(g, f<<2|2)
			if geom.BoxOf(a.Plan(), b.Plan(), c.Plan()).Meets(box) && !visit(a, b, c) {
				return
			}
		}
	}
}

// clip is the part of b within o.
func clip(b, o geom.Box) geom.Box {
	return geom.Box{
		Min: geom.Point{X: max(b.Min.X, o.Min.X), Y: max(b.Min.Y, o.Min.Y)},
		Max: geom.Point{X: min(b.Max.X, o.Max.X), Y: min(b.Max.Y, o.Max.Y)},
	}
}
