package geom

import (
	"math"
	"math/big"
	"math/bits"
)

// The exact signs: coordinates become integers of one unit 2^e. Where these fit
// 61 bits the determinant is worked out in 256-bit integers; where they do not
// (coordinates of very different size) in rational numbers.

// lattice finds the unit 2^e of which all values are whole multiples, and says
// whether all multiples stay below 2^61.
func lattice(values []float64) (e int, ok bool) {
	e, top := math.MaxInt32, math.MinInt32
	for _, v := range values {
		if v == 0 {
			continue
		}
		m, k := split(v)
		if k > 971 { // NaN or Inf
			return 0, false
		}
		k += bits.TrailingZeros64(m)
		e = min(e, k)
		_, exp := math.Frexp(v)
		top = max(top, exp)
	}
	return e, e == math.MaxInt32 || top-e <= 61
}

// split is |v| = m·2^k with whole m.
func split(v float64) (m uint64, k int) {
	b := math.Float64bits(v)
	m, k = b&(1<<52-1), int(b>>52)&0x7ff
	if k == 0 {
		return m, -1074
	}
	return m | 1<<52, k - 1075
}

// units is v in units of 2^e, for v and e of lattice.
func units(v float64, e int) int64 {
	if v == 0 {
		return 0
	}
	m, k := split(v)
	if k >= e {
		m <<= uint(k - e)
	} else {
		m >>= uint(e - k)
	}
	if v < 0 {
		return -int64(m)
	}
	return int64(m)
}

// wide is a signed 128-bit integer, two's complement.
type wide struct {
	hi int64
	lo uint64
}

// times is a·b for |a|, |b| < 2^63.
func times(a, b int64) wide {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	h := int64(hi)
	if a < 0 {
		h -= b
	}
	if b < 0 {
		h -= a
	}
	return wide{h, lo}
}

func (x wide) plus(y wide) wide {
	lo, c := bits.Add64(x.lo, y.lo, 0)
	return wide{x.hi + y.hi + int64(c), lo}
}

func (x wide) minus(y wide) wide {
	lo, b := bits.Sub64(x.lo, y.lo, 0)
	return wide{x.hi - y.hi - int64(b), lo}
}

func (x wide) sign() int {
	if x.hi < 0 {
		return -1
	}
	if x.hi == 0 && x.lo == 0 {
		return 0
	}
	return 1
}

// magnitude is |x| and whether x is negative.
func (x wide) magnitude() (hi, lo uint64, negative bool) {
	if x.hi >= 0 {
		return uint64(x.hi), x.lo, false
	}
	lo, b := bits.Sub64(0, x.lo, 0)
	hi, _ = bits.Sub64(0, uint64(x.hi), b)
	return hi, lo, true
}

// huge is a signed 256-bit integer, two's complement, least limb first.
type huge [4]uint64

// addProduct is h + x·y.
func (h *huge) addProduct(x, y wide) {
	xh, xl, xn := x.magnitude()
	yh, yl, yn := y.magnitude()
	var p huge
	var c uint64
	p[1], p[0] = bits.Mul64(xl, yl)
	p[3], p[2] = bits.Mul64(xh, yh)
	for _, q := range [2][2]uint64{{xh, yl}, {xl, yh}} {
		hi, lo := bits.Mul64(q[0], q[1])
		p[1], c = bits.Add64(p[1], lo, 0)
		p[2], c = bits.Add64(p[2], hi, c)
		p[3] += c
	}
	c = 0
	for i := range h {
		if xn != yn {
			h[i], c = bits.Sub64(h[i], p[i], c)
		} else {
			h[i], c = bits.Add64(h[i], p[i], c)
		}
	}
}

func (h *huge) sign() int {
	if h[3]>>63 != 0 {
		return -1
	}
	if h[0]|h[1]|h[2]|h[3] == 0 {
		return 0
	}
	return 1
}

func orientExact(a, b, c Point) int {
	v := [...]float64{a.X, a.Y, b.X, b.Y, c.X, c.Y}
	e, ok := lattice(v[:])
	if !ok {
		return orientRational(a, b, c)
	}
	cx, cy := units(c.X, e), units(c.Y, e)
	ax, ay := units(a.X, e)-cx, units(a.Y, e)-cy
	bx, by := units(b.X, e)-cx, units(b.Y, e)-cy
	return times(ax, by).minus(times(ay, bx)).sign()
}

func inCircleExact(a, b, c, d Point) int {
	v := [...]float64{a.X, a.Y, b.X, b.Y, c.X, c.Y, d.X, d.Y}
	e, ok := lattice(v[:])
	if !ok {
		return inCircleRational(a, b, c, d)
	}
	dx, dy := units(d.X, e), units(d.Y, e)
	ax, ay := units(a.X, e)-dx, units(a.Y, e)-dy
	bx, by := units(b.X, e)-dx, units(b.Y, e)-dy
	cx, cy := units(c.X, e)-dx, units(c.Y, e)-dy
	var h huge
	h.addProduct(times(ax, ax).plus(times(ay, ay)), times(bx, cy).minus(times(cx, by)))
	h.addProduct(times(bx, bx).plus(times(by, by)), times(cx, ay).minus(times(ax, cy)))
	h.addProduct(times(cx, cx).plus(times(cy, cy)), times(ax, by).minus(times(bx, ay)))
	return h.sign()
}

func orient3Exact(a, b, c, d Point3) int {
	v := [...]float64{a.X, a.Y, a.Z, b.X, b.Y, b.Z, c.X, c.Y, c.Z, d.X, d.Y, d.Z}
	e, ok := lattice(v[:])
	if !ok {
		return orient3Rational(a, b, c, d)
	}
	dx, dy, dz := units(d.X, e), units(d.Y, e), units(d.Z, e)
	ax, ay, az := units(a.X, e)-dx, units(a.Y, e)-dy, units(a.Z, e)-dz
	bx, by, bz := units(b.X, e)-dx, units(b.Y, e)-dy, units(b.Z, e)-dz
	cx, cy, cz := units(c.X, e)-dx, units(c.Y, e)-dy, units(c.Z, e)-dz
	var h huge
	h.addProduct(times(az, 1), times(bx, cy).minus(times(cx, by)))
	h.addProduct(times(bz, 1), times(cx, ay).minus(times(ax, cy)))
	h.addProduct(times(cz, 1), times(ax, by).minus(times(bx, ay)))
	return h.sign()
}

// rat is the exact value of a float64, nil for NaN and Inf.
func rat(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }

// from is the exact differences of values to an origin of the same
// coordinates in turn; false with NaN or Inf.
func from(origin []float64, values ...float64) ([]*big.Rat, bool) {
	out := make([]*big.Rat, len(values))
	for i, v := range values {
		p, o := rat(v), rat(origin[i%len(origin)])
		if p == nil || o == nil {
			return nil, false
		}
		out[i] = p.Sub(p, o)
	}
	return out, true
}

// minor is a·d − b·c.
func minor(a, b, c, d *big.Rat) *big.Rat {
	l, r := new(big.Rat).Mul(a, d), new(big.Rat).Mul(b, c)
	return l.Sub(l, r)
}

// expand is the sign of Σ weights[i]·minors[i].
func expand(weights, minors [3]*big.Rat) int {
	sum := new(big.Rat)
	for i, w := range weights {
		sum.Add(sum, new(big.Rat).Mul(w, minors[i]))
	}
	return sum.Sign()
}

func orientRational(a, b, c Point) int {
	v, ok := from([]float64{c.X, c.Y}, a.X, a.Y, b.X, b.Y)
	if !ok {
		return 0
	}
	return minor(v[0], v[1], v[2], v[3]).Sign()
}

func inCircleRational(a, b, c, d Point) int {
	v, ok := from([]float64{d.X, d.Y}, a.X, a.Y, b.X, b.Y, c.X, c.Y)
	if !ok {
		return 0
	}
	lift := func(x, y *big.Rat) *big.Rat {
		xx, yy := new(big.Rat).Mul(x, x), new(big.Rat).Mul(y, y)
		return xx.Add(xx, yy)
	}
	return expand(
		[3]*big.Rat{lift(v[0], v[1]), lift(v[2], v[3]), lift(v[4], v[5])},
		[3]*big.Rat{minor(v[2], v[3], v[4], v[5]), minor(v[4], v[5], v[0], v[1]), minor(v[0], v[1], v[2], v[3])})
}

func orient3Rational(a, b, c, d Point3) int {
	v, ok := from([]float64{d.X, d.Y, d.Z}, a.X, a.Y, a.Z, b.X, b.Y, b.Z, c.X, c.Y, c.Z)
	if !ok {
		return 0
	}
	return expand(
		[3]*big.Rat{v[2], v[5], v[8]},
		[3]*big.Rat{minor(v[3], v[4], v[6], v[7]), minor(v[6], v[7], v[0], v[1]), minor(v[0], v[1], v[3], v[4])})
}
