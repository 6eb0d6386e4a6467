package sheet

import (
	"spadework/engine/draw"
	"spadework/engine/geom"
)

// grid is a table laid out on paper.
type grid struct {
	*Table
	widths []float64
	size   float64
	row    float64 // least height of a row, 0 as the words take
}

// pad is kept free at both sides of a cell.
const pad = 1.2

// newGrid gives every column what its longest cell takes at a size, or smaller
// where the width asks for it, and shares what is left among columns to write in;
// flex columns give way.
func newGrid(t *Table, width, size float64) *grid {
	g := &grid{Table: t, size: size}
	for g.size > sizeFoot && !g.fit(width) {
		g.size -= 0.1
	}
	if g.size <= sizeFoot {
		g.size = sizeFoot
		g.fit(width)
	}
	return g
}

// leastFlexWidth is what a column of words keeps, and writeWidth what a column
// to write in has at least.
const leastFlexWidth, writeWidth = 26, 18

// fit says whether the table fits at its size.
func (g *grid) fit(width float64) bool {
	g.widths = make([]float64, len(g.Columns))
	total := 0.0
	for i, col := range g.Columns {
		w := draw.Width(draw.Strong, g.headSize(), col.Head)
		for _, row := range g.Rows {
			w = max(w, draw.Width(g.set(i), g.cellSize(i), Unbroken(row[i])))
		}
		if col.Write {
			w = max(w, writeWidth)
		}
		g.widths[i] = w + 2*pad
		total += g.widths[i]
	}
	for i, col := range g.Columns {
		if over := total - width; col.Flex && over > 0 {
			cut := min(over, max(0, g.widths[i]-leastFlexWidth))
			g.widths[i] -= cut
			total -= cut
		}
	}
	if total > width {
		for i := range g.widths { // at the least size: all give way alike
			g.widths[i] *= width / total
		}
		return false
	}
	g.spread(width - total)
	return true
}

// spread gives room that is left to the columns to write in, else to words.
func (g *grid) spread(room float64) {
	var takers []int
	for _, pick := range []func(Column) bool{func(c Column) bool { return c.Write }, func(c Column) bool { return c.Flex }, func(Column) bool { return true }} {
		for i, c := range g.Columns {
			if pick(c) {
				takers = append(takers, i)
			}
		}
		if len(takers) > 0 {
			break
		}
	}
	for _, i := range takers {
		g.widths[i] += room / float64(len(takers))
	}
}

func (g *grid) headSize() float64 { return max(sizeFoot, 0.86*g.size) }

// cellSize is larger where the crew works to the figure.
func (g *grid) cellSize(i int) float64 {
	if g.Columns[i].Main {
		return g.size * sizeFigure / sizeBody
	}
	return g.size
}

func (g *grid) set(i int) draw.Setting {
	if g.Columns[i].Main {
		return draw.Strong
	}
	return draw.Body
}

// lines are the words of a cell as they are broken.
func (g *grid) lines(i int, cell string) []string {
	return wrapped(g.set(i), g.cellSize(i), cell, g.widths[i]-2*pad)
}

// height is what a row takes.
func (g *grid) height(cells []string) float64 {
	h := g.row
	for i, cell := range cells {
		h = max(h, float64(len(g.lines(i, cell)))*g.cellSize(i)*leading+1.6)
	}
	return h
}

// head writes the heads of the columns.
func (g *grid) head(c *column) {
	size, lines := g.headSize(), 1
	for i, col := range g.Columns {
		lines = max(lines, len(wrapped(draw.Strong, size, col.Head, g.widths[i]-2*pad)))
	}
	x := c.left
	for i, col := range g.Columns {
		for k, l := range wrapped(draw.Strong, size, col.Head, g.widths[i]-2*pad) {
			c.cell(draw.Strong, size, place{x, c.y + float64(k)*size*leading, g.widths[i], col.Right}, l)
		}
		x += g.widths[i]
	}
	c.y += float64(lines)*size*leading + 0.8
	c.rule(draw.Ink)
}

// place is the upper left corner and width of a line of a cell.
type place struct {
	x, y, width float64
	right       bool
}

// cell writes one line of a cell.
func (c *column) cell(set draw.Setting, size float64, p place, text string) {
	at, anchor := geom.Point{X: p.x + pad, Y: p.y + size}, draw.Start
	if p.right {
		at.X, anchor = p.x+p.width-pad, draw.End
	}
	c.words(set, size, at, anchor, text)
}

// write writes a row, its rule under it. A planned row has its figure in a
// dashed box.
func (g *grid) write(c *column, cells []string, planned bool) {
	h, largest := g.height(cells), 0.0
	for i, cell := range cells {
		if cell != "" {
			largest = max(largest, g.cellSize(i))
		}
	}
	top := c.y + 0.3
	if g.row > 0 {
		top = c.y + (h-largest*leading)/2
	}
	x := c.left
	for i, cell := range cells {
		size := g.cellSize(i)
		for k, l := range g.lines(i, cell) { // all first lines stand on one
			c.cell(g.set(i), size, place{x, top + largest - size + float64(k)*size*leading, g.widths[i], g.Columns[i].Right}, l)
		}
		if planned && g.Columns[i].Main {
			c.frame(draw.Planned, geom.BoxOf(geom.Point{X: x + 0.3, Y: c.y + 0.4}, geom.Point{X: x + g.widths[i] - 0.3, Y: c.y + h - 0.4}))
		}
		if g.Columns[i].Write {
			c.stroke(draw.Leader, geom.Point{X: x, Y: c.y}, geom.Point{X: x, Y: c.y + h})
		}
		x += g.widths[i]
	}
	c.y += h
	c.rule(draw.Fine)
}
