package reception

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// exactly is a twofold as a fraction.
func exactly(a twofold) *big.Rat {
	out := new(big.Rat).SetFloat64(a.hi)
	return out.Add(out, new(big.Rat).SetFloat64(a.lo))
}

// drawTwofold is of about 106 bits, its size from 2^-40 to 2^40.
func drawTwofold(r *rand.Rand) twofold {
	hi := math.Ldexp(r.Float64()-0.5, r.IntN(80)-40)
	return sumOf(hi, math.Ldexp(hi*(r.Float64()-0.5), -53))
}

// Twofold arithmetic against fractions of integers (math/big): each result within
// hair of its size, sums of the larger term.
func TestTwofoldIsNearFractions(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	within := func(what string, got twofold, want *big.Rat, size float64) {
		off := new(big.Rat).Sub(exactly(got), want)
		if d, _ := off.Abs(off).Float64(); !(d <= hair*math.Abs(size)) {
			t.Fatalf("%s = %v, off by %g, want within %g", what, got, d, hair*math.Abs(size))
		}
		if s := normal(got.hi, got.lo); s != got {
			t.Fatalf("%s = %v, want it normal: %v", what, got, s)
		}
	}
	for range 20000 {
		a, b := drawTwofold(r), drawTwofold(r)
		x, y := exactly(a), exactly(b)
		within("sum", a.plus(b), new(big.Rat).Add(x, y), max(math.Abs(a.hi), math.Abs(b.hi)))
		within("difference", a.minus(b), new(big.Rat).Sub(x, y), max(math.Abs(a.hi), math.Abs(b.hi)))
		product := new(big.Rat).Mul(x, y)
		size, _ := product.Float64()
		within("product", a.times(b), product, size)
		quotient := new(big.Rat).Quo(x, y)
		size, _ = quotient.Float64()
		within("quotient", a.over(b), quotient, size)
		if p := productOf(a.hi, b.hi); exactly(p).Cmp(new(big.Rat).Mul(new(big.Rat).SetFloat64(a.hi), new(big.Rat).SetFloat64(b.hi))) != 0 {
			t.Fatalf("productOf(%v, %v) = %v, want it exact", a.hi, b.hi, p)
		}
	}
}

// perSquare and its rest are 27/(4·10^8).
func TestBendIsTheFraction(t *testing.T) {
	off := new(big.Rat).Sub(exactly(twofold{perSquare, perSquareRest}), big.NewRat(27, 400_000_000))
	if d, _ := off.Abs(off).Float64(); !(d <= hair*perSquare) {
		t.Errorf("k is off by %g, want within %g", d, hair*perSquare)
	}
}

// Roundings are those of the value wherever they are told at all, and left open
// where the bound leaves them in doubt.
func TestRoundingsAreToldOrInDoubt(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	told := 0
	for i := range 20000 {
		a := drawTwofold(r)
		if i%4 == 0 {
			a.lo = 0
		}
		n := near{a, 0}
		if i%2 == 0 {
			n.off = math.Abs(a.hi) * math.Ldexp(r.Float64(), -100)
		}
		for _, side := range []float64{-1, 0, 1} { // the value may be at either end of its bound
			v := new(big.Rat).Add(exactly(a), new(big.Rat).SetFloat64(side*n.off))
			check := func(what string, f float64, ok bool, holds func(f float64) bool) {
				if !ok {
					if n.off == 0 {
						t.Fatalf("%s of %v exactly is not told", what, a)
					}
					return
				}
				told++
				if !holds(f) {
					t.Fatalf("%s of %v ± %g = %v, at side %v", what, a, n.off, f, side)
				}
			}
			over := func(f float64) int { return new(big.Rat).SetFloat64(f).Cmp(v) }
			f, ok := n.above()
			check("above", f, ok, func(f float64) bool { return over(f) > 0 && over(math.Nextafter(f, math.Inf(-1))) <= 0 })
			f, ok = n.up()
			check("up", f, ok, func(f float64) bool { return over(f) >= 0 && over(math.Nextafter(f, math.Inf(-1))) < 0 })
			f, ok = n.down()
			check("down", f, ok, func(f float64) bool { return over(f) <= 0 && over(math.Nextafter(f, math.Inf(1))) > 0 })
		}
	}
	if told < 100_000 {
		t.Errorf("%d roundings told, want 100 000 of 180 000", told)
	}
}
