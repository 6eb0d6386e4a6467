package geom

import "math/big"

// rat is the exact value of a float64 (0 for NaN and Inf).
func rat(v float64) *big.Rat {
	r := new(big.Rat)
	if r.SetFloat64(v) == nil {
		return new(big.Rat)
	}
	return r
}

func orientExact(a, b, c Point) int {
	sub := func(p, q float64) *big.Rat { return new(big.Rat).Sub(rat(p), rat(q)) }
	mul := func(p, q *big.Rat) *big.Rat { return new(big.Rat).Mul(p, q) }
	l := mul(sub(a.X, c.X), sub(b.Y, c.Y))
	r := mul(sub(a.Y, c.Y), sub(b.X, c.X))
	return l.Cmp(r)
}
