package trust

import "math"

// primes are the numbers whose roots' multiples, less their whole part, fill the
// unit cube evenly (H. Niederreiter, Random Number Generation and Quasi-Monte
// Carlo Methods, 1992, section 3.1: a Kronecker sequence).
var primes = [...]float64{2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53}

// pairs is how many points of the sequence are taken, each with its mirror
// image: shares come out to some 0.003.
const pairs = 128

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

// point is the k-th coordinate of the i-th point, strictly between 0 and 1.
func point(i, k int) float64 {
	x := (float64(i) + 0.5) * math.Sqrt(primes[k])
	x -= math.Floor(x)
	return math.Min(math.Max(x, 1e-12), 1-1e-12)
}
