package reception

import "math"

// running is no more than the largest surface less beam where the ray crosses
// an edge of the grid, −Inf where the float64 arithmetic can tell none. It serves
// to leave out what asks for less.
//
// Counted in cells, a place on the ray is off by η = 32u·(largest coordinate
// over the spacing, and the number of cells) at most: nodes, the laser and the
// ray's step are each a few roundings from where they belong. A crossing with
// the lines of one family lies η·(1+a) off along its line, where the ray runs a
// times as far along the line as across; there the surface, straight between
// nodes and without a break, differs by η·(1+a)·step at most, also if the
// crossing is taken on the neighbouring edge. The share t is off by η over the
// cells crossed. Families with a above steepest are left out.
func (g *gridGround) running(r *ray) float64 {
	k := kernel{
		z: g.Z, cols: g.Cols, rows: g.Rows, rise: r.rise, bend: r.bend,
		u: (r.from.X - g.origin.X) / g.dx, du: r.dx / g.dx,
		v: (r.from.Y - g.origin.Y) / g.dy, dv: r.dy / g.dy,
	}
	eta := 32 * u * (g.most/min(g.dx, g.dy) + float64(g.cols+g.rows))
	low := math.Inf(-1)
	raise := func(m, across, along float64) {
		a := math.Abs(along / across)
		err := 2*eta*(1+a)*g.step + (math.Abs(r.rise)+2*r.bend)*4*eta/math.Abs(across) +
			16*u*g.highest + r.slack
		low = max(low, m-err)
	}
	const steepest = 64
	if math.Abs(k.du)*steepest > math.Abs(k.dv) {
		raise(k.columns(), k.du, k.dv)
	}
	if math.Abs(k.dv)*steepest > math.Abs(k.du) {
		raise(k.rowsCrossed(), k.dv, k.du)
	}
	if d := k.du - k.dv; math.Abs(d)*steepest > math.Abs(k.du)+math.Abs(k.dv) {
		raise(k.diagonals(), d, math.Abs(k.du)+math.Abs(k.dv))
	}
	return low
}

// kernel is a ray in cells: u east and v north.
type kernel struct {
	z            []float64
	cols, rows   int
	u, du, v, dv float64
	rise, bend   float64
}

// whole is the first and last whole number between a and a+d, within 0..n−1.
func whole(a, d float64, n int) (first, last int) {
	low, high := max(0, min(a, a+d)), min(float64(n-1), max(a, a+d))
	if !(low <= high) {
		return 0, -1
	}
	return int(math.Ceil(low)), int(high)
}

// cellOf is the cell of n−1 that x lies in, and how far in.
func cellOf(x float64, n int) (int, float64) {
	i := min(max(int(x), 0), n-2)
	return i, min(1, max(0, x-float64(i)))
}

// columns is the largest value on lines that run north.
func (k *kernel) columns() float64 {
	top, inv := math.Inf(-1), 1/k.du
	first, last := whole(k.u, k.du, k.cols)
	for c := first; c <= last; c++ {
		t := float64((float64(c) - k.u) * inv)
		r, f := cellOf(k.v+float64(t*k.dv), k.rows)
		i := r*k.cols + c
		z := k.z[i]
		z += float64(f * (k.z[i+k.cols] - z))
		if z -= float64(t * (k.rise + float64(t*k.bend))); z > top {
			top = z
		}
	}
	return top
}

// rowsCrossed is the largest value on lines that run east.
func (k *kernel) rowsCrossed() float64 {
	top, inv := math.Inf(-1), 1/k.dv
	first, last := whole(k.v, k.dv, k.rows)
	for r := first; r <= last; r++ {
		t := float64((float64(r) - k.v) * inv)
		c, f := cellOf(k.u+float64(t*k.du), k.cols)
		i := r*k.cols + c
		z := k.z[i]
		z += float64(f * (k.z[i+1] - z))
		if z -= float64(t * (k.rise + float64(t*k.bend))); z > top {
			top = z
		}
	}
	return top
}

// diagonals is the largest value on the diagonals, south-west to north-east.
func (k *kernel) diagonals() float64 {
	top, inv := math.Inf(-1), 1/(k.du-k.dv)
	from := k.u - k.v + float64(k.rows-1)
	first, last := whole(from, k.du-k.dv, k.cols+k.rows-1)
	for d := first; d <= last; d++ {
		t := float64((float64(d) - from) * inv)
		c, f := cellOf(k.u+float64(t*k.du), k.cols)
		r := c - d + k.rows - 1
		if r < 0 || r > k.rows-2 {
			continue
		}
		i := r*k.cols + c
		z := k.z[i]
		z += float64(f * (k.z[i+k.cols+1] - z))
		if z -= float64(t * (k.rise + float64(t*k.bend))); z > top {
			top = z
		}
	}
	return top
}
