package estimate

import (
	"fmt"
	"math"

	"spadework/engine/real"
)

// Cholesky is the lower triangle L of a symmetric positive matrix A = L·L'.
type Cholesky struct{ lower Matrix }

// NotPositive says that a matrix has no Cholesky triangle because the given
// pivot, from 0, is not above 0.
type NotPositive struct{ Pivot int }

func (e *NotPositive) Error() string {
	return fmt.Sprintf("matrix is not positive definite at pivot %d", e.Pivot)
}

// NewCholesky takes the triangle of a, whose upper half is not read. A pivot not
// above 0, or NaN, is a *NotPositive.
func NewCholesky(a Matrix) (*Cholesky, error) {
	l := NewMatrix(a.Rows, a.Rows)
	for i := range a.Rows {
		row := l.Row(i)
		for j := range i {
			row[j] = (a.At(i, j) - dot(row[:j], l.Row(j)[:j])) / l.At(j, j)
		}
		pivot := a.At(i, i) - dot(row[:i], row[:i])
		if !(pivot > 0) {
			return nil, &NotPositive{i}
		}
		row[i] = math.Sqrt(pivot)
	}
	return &Cholesky{l}, nil
}

// Lower is a copy of L. L times independent standard normal values has the
// covariance A.
func (c *Cholesky) Lower() Matrix { return c.lower.Clone() }

// Solve is the x with A·x = b.
func (c *Cholesky) Solve(b []float64) []float64 {
	x := c.forward(b)
	for i := len(x) - 1; i >= 0; i-- {
		x[i] /= c.lower.At(i, i)
		axpy(-x[i], c.lower.Row(i)[:i], x[:i])
	}
	return x
}

// forward is the y with L·y = b.
func (c *Cholesky) forward(b []float64) []float64 {
	y := make([]float64, len(b))
	for i := range b {
		row := c.lower.Row(i)
		y[i] = (b[i] - dot(row[:i], y[:i])) / row[i]
	}
	return y
}

// Distance is b'·A⁻¹·b, the squared Mahalanobis distance where A is a
// covariance. Never negative.
func (c *Cholesky) Distance(b []float64) float64 {
	y := c.forward(b)
	return dot(y, y)
}

// LogDeterminant is the logarithm of det A.
func (c *Cholesky) LogDeterminant() float64 {
	sum := 0.0
	for i := range c.lower.Rows {
		sum += 2 * real.Log(c.lower.At(i, i))
	}
	return sum
}
