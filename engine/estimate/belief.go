package estimate

import (
	"math"

	"spadework/engine/real"
)

// Value is an estimate with its variance.
type Value struct{ Mean, Variance float64 }

// Belief is a solved Information: the largest determined part of its matrix as
// a triangle, taken in the order of the best known, at unit diagonal.
type Belief struct {
	order  []int       // unknown of each row; the first len(lower) are pivots
	lower  [][]float64 // rows of the triangle over the pivots, then of the rest
	rank   int
	scale  []float64 // root of the information of each unknown, 1 where none
	middle []float64 // lower⁻¹·vector over the pivots
	log    float64   // LogEvidence where nothing is open
}

// weakest is the part of an unknown's information that others do not explain
// under which it counts as explained; the rounding of a few thousand sums lies
// under it, and an unknown known by others to 3 in 10 million of itself over it.
const weakest = 1e-13

// openFrom is the part of a function outside the determined space from which it
// counts as open, the root of weakest with a margin.
const openFrom = 1e-6

// Belief is what the information says. It does not change with later
// observations.
func (in *Information) Belief() *Belief {
	n := len(in.vector)
	b := &Belief{scale: make([]float64, n)}
	work := in.matrix.Clone()
	for i := range n {
		b.order = append(b.order, i)
		b.scale[i] = 1
		if d := work.At(i, i); d > 0 {
			b.scale[i] = math.Sqrt(d)
		}
	}
	for i := range n {
		for j := range n {
			work.Set(i, j, in.matrix.At(i, j)/b.scale[i]/b.scale[j])
		}
	}
	b.factor(work)
	b.solve(in)
	return b
}

// factor takes the triangle of a scaled matrix, pivot by pivot, largest first.
func (b *Belief) factor(a Matrix) {
	n := a.Rows
	limit := math.Max(weakest, float64(n)*0x1p-48)
	left := make([]float64, n) // diagonal not yet explained, by unknown
	b.lower = make([][]float64, n)
	for i := range n {
		left[i] = a.At(i, i)
		b.lower[i] = make([]float64, 0, n)
	}
	for k := range n {
		best := k
		for i := k + 1; i < n; i++ {
			if left[b.order[i]] > left[b.order[best]] {
				best = i
			}
		}
		if !(left[b.order[best]] > limit) {
			return
		}
		b.order[k], b.order[best] = b.order[best], b.order[k]
		b.lower[k], b.lower[best] = b.lower[best], b.lower[k]
		b.pivot(a, left, k)
	}
}

// pivot adds column k to the triangle.
func (b *Belief) pivot(a Matrix, left []float64, k int) {
	p := b.order[k]
	head := math.Sqrt(left[p])
	row := b.lower[k]
	for i := k + 1; i < len(b.order); i++ {
		u := b.order[i]
		v := (a.At(p, u) - dot(row, b.lower[i][:k])) / head
		b.lower[i] = append(b.lower[i], v)
		left[u] -= float64(v * v)
	}
	b.lower[k] = append(row, head)
	b.rank++
}

// solve prepares means and evidence.
func (b *Belief) solve(in *Information) {
	scaled := make([]float64, len(b.order))
	for i, u := range b.order {
		scaled[i] = in.vector[u] / b.scale[u]
	}
	b.middle = b.forward(scaled)
	logs := 0.0
	for k := range b.rank {
		logs += 2 * real.Log(float64(b.lower[k][k]*b.scale[b.order[k]])/math.Sqrt(2*math.Pi))
	}
	b.log = 0.5 * (in.logs - (in.square - dot(b.middle, b.middle)) - logs)
}

// forward solves the triangle over the pivots.
func (b *Belief) forward(a []float64) []float64 {
	y := make([]float64, b.rank)
	for k := range y {
		y[k] = (a[k] - dot(b.lower[k][:k], y[:k])) / b.lower[k][k]
	}
	return y
}

// reduce turns a linear function into its coordinates over the triangle; ok is
// false where part of it lies outside.
func (b *Belief) reduce(f []Term) (y []float64, ok bool) {
	byUnknown := make([]float64, len(b.order))
	for _, t := range f {
		byUnknown[t.Unknown] += t.Coefficient
	}
	a := make([]float64, len(b.order))
	for i, u := range b.order {
		a[i] = byUnknown[u] / b.scale[u]
	}
	size := math.Sqrt(dot(a, a))
	y = b.forward(a)
	for i := b.rank; i < len(a); i++ {
		if !(math.Abs(a[i]-dot(b.lower[i], y)) <= openFrom*size) {
			return nil, false
		}
	}
	return y, true
}

// Of is the value of a linear function of the unknowns; ok is false while the
// observations leave it open. The mean solves least squares; the variance holds
// where the weights are one over variances.
func (b *Belief) Of(f ...Term) (v Value, ok bool) {
	y, ok := b.reduce(f)
	if !ok {
		return Value{}, false
	}
	return Value{dot(y, b.middle), dot(y, y)}, true
}

// Covariance between two linear functions; ok is false while either is open.
func (b *Belief) Covariance(f, g []Term) (c float64, ok bool) {
	y, first := b.reduce(f)
	z, second := b.reduce(g)
	if !first || !second {
		return 0, false
	}
	return dot(y, z), true
}

// Mean is the unknowns; ok is false while any is open.
func (b *Belief) Mean() (x []float64, ok bool) {
	for i := range b.order {
		v, ok := b.Of(Term{i, 1})
		if !ok {
			return nil, false
		}
		x = append(x, v.Mean)
	}
	return x, true
}

// Open lists the unknowns not yet determined, in rising order.
func (b *Belief) Open() []int {
	var open []int
	for i := range b.order {
		if _, ok := b.reduce([]Term{{i, 1}}); !ok {
			open = append(open, i)
		}
	}
	return open
}

// LogEvidence is the logarithm of the density of all values observed so far,
// priors among them; ok is false while any unknown is open. Under a flat prior
// it compares hypotheses that share it.
func (b *Belief) LogEvidence() (l float64, ok bool) {
	return b.log, b.rank == len(b.order)
}
