package unit

import (
	"math/big"
	"math/bits"
)

// ratio is num/den, not negative, den > 0.
type ratio struct{ num, den uint64 }

// one is the ratio 1.
var one = ratio{1, 1}

// times is a·b; ok is false where it does not fit.
func (a ratio) times(b ratio) (out ratio, ok bool) {
	h1, num := bits.Mul64(a.num, b.num)
	h2, den := bits.Mul64(a.den, b.den)
	return ratio{num, den}, h1 == 0 && h2 == 0
}

// plus is a + b; ok is false where it does not fit.
func (a ratio) plus(b ratio) (out ratio, ok bool) {
	if a.den == b.den {
		num, carry := bits.Add64(a.num, b.num, 0)
		return ratio{num, a.den}, carry == 0
	}
	h1, left := bits.Mul64(a.num, b.den)
	h2, right := bits.Mul64(b.num, a.den)
	h3, den := bits.Mul64(a.den, b.den)
	num, carry := bits.Add64(left, right, 0)
	return ratio{num, den}, h1|h2|h3|carry == 0
}

// less says a < b.
func (a ratio) less(b ratio) bool {
	h1, l1 := bits.Mul64(a.num, b.den)
	h2, l2 := bits.Mul64(b.num, a.den)
	return h1 < h2 || h1 == h2 && l1 < l2
}

// reduced is a in lowest terms.
func (a ratio) reduced() ratio {
	g := gcd(a.num, a.den)
	return ratio{a.num / g, a.den / g}
}

// rat is a in arbitrary precision.
func (a ratio) rat() *big.Rat {
	return new(big.Rat).SetFrac(new(big.Int).SetUint64(a.num), new(big.Int).SetUint64(a.den))
}

// gcd is the greatest common divisor; gcd(0, b) = b.
func gcd(a, b uint64) uint64 {
	for a != 0 {
		a, b = b%a, a
	}
	return b
}

// exact is a signed rational: r where it fits, else big.
type exact struct {
	neg bool
	r   ratio
	big *big.Rat // not negative; nil where r holds the value
}

// rat is the signed value.
func (x exact) rat() *big.Rat {
	out := new(big.Rat)
	if x.big != nil {
		out.Set(x.big)
	} else {
		out = x.r.rat()
	}
	if x.neg {
		out.Neg(out)
	}
	return out
}

// float64 is the nearest float64. Below 2^53 both parts are exact float64s and
// one IEEE division rounds once; otherwise big.Rat does.
func (x exact) float64() float64 {
	const whole = 1 << 53
	if x.big != nil || x.r.num > whole || x.r.den > whole {
		f, _ := x.rat().Float64()
		return f
	}
	f := float64(x.r.num) / float64(x.r.den)
	if x.neg && f != 0 {
		return -f
	}
	return f
}

// over says that |x| > limit.
func (x exact) over(limit uint64) bool {
	if x.big != nil {
		return x.big.Cmp(ratio{limit, 1}.rat()) > 0
	}
	return ratio{limit, 1}.less(x.r)
}

// micrometres is x metres in whole micrometres, halves away from zero. x lies
// within lengthLimit.
func (x exact) micrometres() int64 {
	n := x.wholeMicrometres()
	if x.neg {
		return -n
	}
	return n
}

// wholeMicrometres is micrometres without the sign: ⌊(2·num·10⁶ + den) / 2·den⌋.
func (x exact) wholeMicrometres() int64 {
	if x.big == nil && x.r.den < 1<<62 {
		hi, lo := bits.Mul64(x.r.num, 2_000_000)
		lo, carry := bits.Add64(lo, x.r.den, 0)
		if hi+carry < 2*x.r.den {
			q, _ := bits.Div64(hi+carry, lo, 2*x.r.den)
			return int64(q)
		}
	}
	v := exact{r: x.r, big: x.big}.rat()
	v.Mul(v, new(big.Rat).SetInt64(1_000_000))
	v.Add(v, big.NewRat(1, 2))
	return new(big.Int).Quo(v.Num(), v.Denom()).Int64()
}
