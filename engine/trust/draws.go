package trust

import "math"

// pairs is how many points of the sequence are taken, each with its mirror
// image: shares come out to some 0.003.
const pairs = 512

// triangle is the Cholesky triangle of the state's covariance, columns of no
// variance left out.
func (b *Belief) triangle() [states][states]float64 {
	var l [states][states]float64
	for i := range l {
		for j := 0; j <= i; j++ {
			v := b.cov[i][j]
			for k := range j {
				v -= float64(l[i][k] * l[j][k])
			}
			switch {
			case j < i && l[j][j] > 0:
				l[i][j] = v / l[j][j]
			case j == i && v > b.cov[i][i]*1e-12:
				l[i][i] = math.Sqrt(v)
			}
		}
	}
	return l
}

// strides are the steps of a sequence that fills the unit cube of n dimensions
// evenly: powers of 1/x with xⁿ⁺¹ = x + 1, the golden ratio and its like (a
// Kronecker sequence; H. Niederreiter, Random Number Generation and Quasi-Monte
// Carlo Methods, 1992, section 3.1).
func strides(n int) []float64 {
	x := 2.0
	for range 60 { // xⁿ⁺¹ − x − 1 falls to its root from 2 by Newton's steps
		power := 1.0
		for range n {
			power *= x
		}
		x -= (float64(power*x) - x - 1) / (float64(float64(n+1)*power) - 1)
	}
	out := make([]float64, n)
	power := 1.0
	for k := range out {
		power /= x
		out[k] = power
	}
	return out
}

// point is a coordinate of the i-th point of a stride, strictly between 0 and 1.
func point(i int, stride float64) float64 {
	x := 0.5 + float64(float64(i+1)*stride)
	x -= math.Floor(x)
	x = 1 - math.Abs(2*x-1) // folded, so that both ends meet (the baker's transformation)
	return math.Min(math.Max(x, 1e-12), 1-1e-12)
}
