package estimate

import "math"

// Tolerances of rank, for columns scaled to about 1: dependent is the part of a
// column that earlier ones do not explain under which it counts as explained
// (four of float64's sixteen digits are left), involved the share from which an
// unknown takes part in what is open.
const (
	dependent = 1e-12
	involved  = 1e-7
)

// QR is a matrix as orthogonal times triangular, by Householder reflections
// (G. H. Golub, C. F. Van Loan, Matrix Computations, 5.2), in echelon form where
// columns depend on earlier ones.
type QR struct {
	rows    int
	columns [][]float64 // scaled; reflectors from the pivot row down, R above
	heads   []float64   // of R at each pivot
	pivots  []int       // column of each pivot
	free    []int       // columns that depend on earlier pivots
	scale   []int       // column j was multiplied by 2 to the scale[j]
}

// NewQR factors a, which it does not change.
func NewQR(a Matrix) *QR {
	q := &QR{rows: a.Rows, scale: make([]int, a.Cols)}
	for j := range a.Cols {
		column := make([]float64, a.Rows)
		for i := range column {
			column[i] = a.At(i, j)
		}
		q.scale[j] = rescale(column)
		q.columns = append(q.columns, column)
	}
	for j := range q.columns {
		q.eliminate(j)
	}
	return q
}

// rescale multiplies a column by the power of two that brings its size to
// between ½ and 1, which rounds nothing.
func rescale(column []float64) int {
	largest := 0.0
	for _, v := range column {
		largest = math.Max(largest, math.Abs(v))
	}
	_, e := math.Frexp(largest)
	for i, v := range column {
		column[i] = math.Ldexp(v, -e)
	}
	if size := math.Sqrt(dot(column, column)); size > 0 {
		_, more := math.Frexp(size)
		for i, v := range column {
			column[i] = math.Ldexp(v, -more)
		}
		e += more
	}
	return -e
}

// eliminate makes column j a pivot, or free if earlier ones explain it.
func (q *QR) eliminate(j int) {
	r := len(q.pivots)
	v := q.columns[j][min(r, q.rows):]
	size := math.Sqrt(dot(v, v))
	if !(size > dependent) {
		q.free = append(q.free, j)
		return
	}
	head := -math.Copysign(size, v[0])
	v[0] -= head
	q.pivots = append(q.pivots, j)
	q.heads = append(q.heads, head)
	for k := j + 1; k < len(q.columns); k++ {
		reflect(v, head, q.columns[k][r:])
	}
}

// reflect mirrors b in the plane across v, whose square is −2·head·v[0].
func reflect(v []float64, head float64, b []float64) {
	d := dot(v, b)
	if d != 0 {
		axpy(d/float64(head*v[0]), v, b)
	}
}

// Open lists the columns that no right-hand side determines, in rising order:
// those that depend on others, and the others of that dependence.
func (q *QR) Open() []int {
	open := make([]bool, len(q.columns))
	for _, f := range q.free {
		open[f] = true
		for i, v := range q.back(q.columns[f]) {
			if math.Abs(v) > involved {
				open[q.pivots[i]] = true
			}
		}
	}
	var list []int
	for j, is := range open {
		if is {
			list = append(list, j)
		}
	}
	return list
}

// back solves R·z = b over the pivots; only the first rows of b count.
func (q *QR) back(b []float64) []float64 {
	z := make([]float64, len(q.pivots))
	copy(z, b)
	for i := min(len(b), len(z)) - 1; i >= 0; i-- {
		z[i] /= q.heads[i]
		axpy(-z[i], q.columns[q.pivots[i]][:i], z[:i])
	}
	return z
}

// Solve is the x that minimises |A·x − b|. Columns left open are a *Deficient.
func (q *QR) Solve(b []float64) ([]float64, error) {
	if open := q.Open(); len(open) > 0 {
		return nil, &Deficient{open}
	}
	b = append([]float64(nil), b...)
	for i, j := range q.pivots {
		reflect(q.columns[j][i:], q.heads[i], b[i:])
	}
	x := q.back(b)
	for j := range x {
		x[j] = math.Ldexp(x[j], q.scale[j])
	}
	return x, nil
}

// Cofactor is (A'A)⁻¹. Only for a matrix without open columns.
func (q *QR) Cofactor() Matrix {
	n := len(q.columns)
	inverse := q.inverse()
	out := NewMatrix(n, n)
	for i := range n {
		for j := i; j < n; j++ {
			v := math.Ldexp(dot(inverse.Row(i)[j:], inverse.Row(j)[j:]), q.scale[i]+q.scale[j])
			out.Set(i, j, v)
			out.Set(j, i, v)
		}
	}
	return out
}

// inverse is R⁻¹ of the scaled columns.
func (q *QR) inverse() Matrix {
	n := len(q.columns)
	out := NewMatrix(n, n)
	unit := make([]float64, n)
	for j := range n {
		unit[j] = 1
		for i, v := range q.back(unit[:j+1]) {
			out.Set(i, j, v)
		}
		unit[j] = 0
	}
	return out
}
