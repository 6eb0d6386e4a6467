package estimate

// Matrix is dense, stored by rows.
type Matrix struct {
	Rows, Cols int
	data       []float64
}

// NewMatrix is a matrix of zeros.
func NewMatrix(rows, cols int) Matrix {
	return Matrix{rows, cols, make([]float64, rows*cols)}
}

// At is the element of row i and column j, from 0.
func (m Matrix) At(i, j int) float64 { return m.data[i*m.Cols+j] }

// Set changes the element of row i and column j.
func (m Matrix) Set(i, j int, v float64) { m.data[i*m.Cols+j] = v }

// Row is row i, not a copy.
func (m Matrix) Row(i int) []float64 { return m.data[i*m.Cols : (i+1)*m.Cols] }

// Clone is a copy that shares nothing.
func (m Matrix) Clone() Matrix {
	return Matrix{m.Rows, m.Cols, append([]float64(nil), m.data...)}
}

// dot is the scalar product, added in index order.
func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += float64(v * b[i])
	}
	return sum
}

// axpy adds k·x to y.
func axpy(k float64, x, y []float64) {
	for i, v := range x {
		y[i] += float64(k * v)
	}
}
