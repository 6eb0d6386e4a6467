package reception

import (
	"math"

	"spadework/engine/geom"
)

// lattice is cells in rows and columns, from a corner.
type lattice struct {
	origin     geom.Point
	dx, dy     float64
	cols, rows int // cells
	most       float64
}

// margin is by how much of a cell the corridor is wider than the ray: far more
// than rounding of a ray's place counted in cells, which is below 32u times the
// largest coordinate over the spacing and the number of cells.
func (l *lattice) margin() float64 {
	return 1e-6 + 64*u*(l.most/smaller(l.dx, l.dy)+float64(l.cols+l.rows))
}

// corridor is the cells that a ray may meet, line by line along the axis that it
// runs along more: all that it meets are among them.
type corridor struct {
	lineStep   int // between cells of neighbouring lines
	cellStep   int // between those of one line
	a, da, inv float64
	b, db      float64
	pad        float64
	line, last int
	cells      int // in a line
}

// corridor is that of a ray.
func (l *lattice) corridor(r *ray) corridor {
	c := corridor{
		a: (r.from.X - l.origin.X) / l.dx, da: r.dx / l.dx,
		b: (r.from.Y - l.origin.Y) / l.dy, db: r.dy / l.dy,
		pad: l.margin(), cells: l.rows, lineStep: 1, cellStep: l.cols,
	}
	lines := l.cols
	if math.Abs(c.db) > math.Abs(c.da) {
		c.lineStep, c.cellStep = c.cellStep, c.lineStep
		c.a, c.da, c.b, c.db = c.b, c.db, c.a, c.da
		lines, c.cells = l.rows, l.cols
	}
	if math.Abs(c.da) > tiny {
		c.inv = 1 / c.da
	}
	end := c.a + c.da
	c.line, c.last = span(smaller(c.a, end)-c.pad, larger(c.a, end)+c.pad, lines)
	return c
}

// span is the first and the last of n cells between low and high; first > last
// if there is none.
func span(low, high float64, n int) (first, last int) {
	if !(high >= 0 && low <= float64(n)) {
		return 0, -1
	}
	return int(larger(0, low)), int(smaller(float64(n-1), high))
}

// strip is the cells of one line and the part t0..t1 of the ray over them.
type strip struct {
	line, first, last int
	t0, t1            float64
}

// next is the next line; false after the last.
func (c *corridor) next() (s strip, ok bool) {
	if c.line > c.last {
		return s, false
	}
	s = strip{line: c.line, t1: 1}
	c.line++
	if c.inv != 0 {
		t0, t1 := float64((float64(s.line)-c.pad-c.a)*c.inv), float64((float64(s.line+1)+c.pad-c.a)*c.inv)
		if t0 > t1 {
			t0, t1 = t1, t0
		}
		s.t0, s.t1 = share01(t0), share01(t1)
	}
	b0, b1 := c.b+float64(s.t0*c.db), c.b+float64(s.t1*c.db)
	s.first, s.last = span(smaller(b0, b1)-c.pad, larger(b0, b1)+c.pad, c.cells)
	return s, true
}
