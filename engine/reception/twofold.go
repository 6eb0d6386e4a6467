package reception

import "math"

// twofold is the sum of two float64, lo at most half a step of hi: about 106
// bits. Sums, products and quotients of T. J. Dekker, "A floating-point technique
// for extending the available precision", Numerische Mathematik 18 (1971), with
// no fused steps, so that they are the same on every machine. Each is off by less
// than hair of its size, sums by less than hair of the larger term; figures may
// be from 1e-140 to 1e140.
type twofold struct{ hi, lo float64 }

// hair is 32 u², over the 15 u² of a quotient, the coarsest of the three
// (M. Joldes, J.-M. Muller, V. Popescu, ACM Transactions on Mathematical Software
// 44, 2017; a product without fused steps is within 8 u²).
const hair = 32 * u * u

// sumOf is a + b exactly.
func sumOf(a, b float64) twofold {
	s := a + b
	v := s - a
	return twofold{s, (a - (s - v)) + (b - v)}
}

// productOf is a·b exactly.
func productOf(a, b float64) twofold {
	const half = 1<<27 + 1
	p := float64(a * b)
	c, d := float64(half*a), float64(half*b)
	ah, bh := c-(c-a), d-(d-b)
	al, bl := a-ah, b-bh
	return twofold{p, ((float64(ah*bh) - p) + float64(ah*bl) + float64(al*bh)) + float64(al*bl)}
}

// normal is a + b exactly where |a| ≥ |b|.
func normal(a, b float64) twofold {
	s := a + b
	return twofold{s, b - (s - a)}
}

func (a twofold) plus(b twofold) twofold {
	s, t := sumOf(a.hi, b.hi), sumOf(a.lo, b.lo)
	s = normal(s.hi, s.lo+t.hi)
	return normal(s.hi, s.lo+t.lo)
}

func (a twofold) negative() twofold       { return twofold{-a.hi, -a.lo} }
func (a twofold) minus(b twofold) twofold { return a.plus(b.negative()) }

func (a twofold) times(b twofold) twofold {
	p := productOf(a.hi, b.hi)
	return normal(p.hi, p.lo+(float64(a.hi*b.lo)+float64(a.lo*b.hi)))
}

func (a twofold) over(b twofold) twofold {
	q := a.hi / b.hi
	r := a.minus(b.times(twofold{q, 0}))
	next := r.hi / b.hi
	r = r.minus(b.times(twofold{next, 0}))
	return normal(q, next).plus(twofold{r.hi / b.hi, 0})
}

// less says a < b.
func (a twofold) less(b twofold) bool { return a.hi < b.hi || a.hi == b.hi && a.lo < b.lo }

// near is a value known to be within off of at.
type near struct {
	at  twofold
	off float64
}

// or is the larger of two.
func (n near) or(o near) near {
	off := max(n.off, o.off)
	if n.at.less(o.at) {
		n = o
	}
	return near{n.at, off}
}

// smallest is the size under which roundings are left to integers.
const smallest = 1e-140

// settled says that the float64 about the value can be told at all.
func (n near) settled() bool {
	size := math.Abs(n.at.hi)
	return size > smallest && size < 1/smallest && n.off < size*u/4
}

// above is the least float64 over the value; ok is false where that is in doubt.
func (n near) above() (f float64, ok bool) {
	switch {
	case n.settled() && n.at.lo-n.off >= 0:
		return math.Nextafter(n.at.hi, math.Inf(1)), true
	case n.settled() && n.at.lo+n.off < 0:
		return n.at.hi, true
	}
	return 0, false
}

// up is the least float64 no less than the value.
func (n near) up() (f float64, ok bool) {
	switch {
	case n.settled() && n.at.lo-n.off > 0:
		return math.Nextafter(n.at.hi, math.Inf(1)), true
	case n.settled() && n.at.lo+n.off <= 0:
		return n.at.hi, true
	}
	return 0, false
}

// down is the greatest float64 no more than the value.
func (n near) down() (f float64, ok bool) {
	switch {
	case n.settled() && n.at.lo-n.off >= 0:
		return n.at.hi, true
	case n.settled() && n.at.lo+n.off < 0:
		return math.Nextafter(n.at.hi, math.Inf(-1)), true
	}
	return 0, false
}
