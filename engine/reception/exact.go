package reception

import (
	"math"
	"math/big"
	"math/bits"

	"spadework/engine/geom"
)

// The exact side: all lengths become integers of one unit 2^e, and a value along
// the ray a fraction of integers. A value v is kept as num/den with
// v = num/(den·five·2^s), five and s the same for all values of a way; with
// curvature five is 5^8, as k = 27/(2^10·5^8).

// way is a ray in integers.
type way struct {
	e, s       int
	five       int64
	lx, ly     big.Int // the laser, units 2^e
	dx, dy     big.Int // target less laser
	clear      big.Int // clearance
	alpha      big.Int // five·2^(s+e): units of height to units of value
	rise, bend big.Int // the beam over H at t = 1 less its share, in units of value
	q          [3]corner3
	w, n, c    [3]big.Int
	t0, t1     share
	a, b, area big.Int
	x, y       big.Int // scratch
}

// corner3 is a corner from the laser, units 2^e.
type corner3 struct{ x, y, z big.Int }

// share is num/den of the way, den > 0.
type share struct{ num, den big.Int }

// value is num/den, den > 0, in the units of its way.
type value struct{ num, den big.Int }

// less says v < o.
func (v *value) less(o *value) bool {
	var l, r big.Int
	return l.Mul(&v.num, &o.den).Cmp(r.Mul(&o.num, &v.den)) < 0
}

// unitOf is the exponent of the lowest bit of v, large for 0.
func unitOf(v float64) int {
	m, k := split(v)
	if m == 0 {
		return math.MaxInt16
	}
	return k + bits.TrailingZeros64(m)
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

// setUnits sets z to v in units of 2^e, of which v is a whole multiple.
func setUnits(z *big.Int, v float64, e int) *big.Int {
	m, k := split(v)
	z.SetUint64(m)
	if k >= e {
		z.Lsh(z, uint(k-e))
	} else {
		z.Rsh(z, uint(e-k))
	}
	if v < 0 {
		z.Neg(z)
	}
	return z
}

// set makes w the way of a ray under a gradient; unit is that of the site.
func (w *way) set(r *ray, g geom.Vector, clear float64, unit int) {
	w.e = min(unit, unitOf(r.from.X), unitOf(r.from.Y), unitOf(r.to.X), unitOf(r.to.Y), unitOf(clear))
	setUnits(&w.lx, r.from.X, w.e)
	setUnits(&w.ly, r.from.Y, w.e)
	w.dx.Sub(setUnits(&w.x, r.to.X, w.e), &w.lx)
	w.dy.Sub(setUnits(&w.x, r.to.Y, w.e), &w.ly)
	setUnits(&w.clear, clear, w.e)
	slope := min(unitOf(g.X), unitOf(g.Y), 0)
	w.s, w.five = -(w.e + slope), 1
	if r.curved {
		w.s, w.five = max(w.s, 10-2*w.e), 5*5*5*5*5*5*5*5
	}
	w.s = max(w.s, -w.e)
	five := big.NewInt(w.five)
	w.alpha.Lsh(five, uint(w.s+w.e))
	w.rise.Add(w.x.Mul(setUnits(&w.x, g.X, slope), &w.dx), w.y.Mul(setUnits(&w.y, g.Y, slope), &w.dy))
	w.rise.Lsh(w.rise.Mul(&w.rise, five), uint(w.s+w.e+slope))
	w.bend.SetInt64(0)
	if r.curved {
		w.bend.Add(w.x.Mul(&w.dx, &w.dx), w.y.Mul(&w.dy, &w.dy))
		w.bend.Lsh(w.bend.Mul(&w.bend, big.NewInt(27)), uint(w.s+2*w.e-10))
	}
}

// clip sets t0..t1 to the part of the way over a facet, counter-clockwise; false
// if there is none. It leaves the height over the way as (a + b·t)/area.
func (w *way) clip(corners *[3]geom.Point3) bool {
	for i, p := range corners {
		q := &w.q[i]
		q.x.Sub(setUnits(&q.x, p.X, w.e), &w.lx)
		q.y.Sub(setUnits(&q.y, p.Y, w.e), &w.ly)
		w.cross(&w.w[i], &w.dx, &w.dy, &q.x, &q.y)
	}
	w.t0.num.SetInt64(0)
	w.t0.den.SetInt64(1)
	w.t1.num.SetInt64(1)
	w.t1.den.SetInt64(1)
	for i := range w.q {
		// The weight of corner i at t is n + c·t.
		j, k := (i+1)%3, (i+2)%3
		w.cross(&w.n[i], &w.q[j].x, &w.q[j].y, &w.q[k].x, &w.q[k].y)
		w.c[i].Sub(&w.w[j], &w.w[k])
		if !w.narrow(&w.n[i], &w.c[i]) {
			return false
		}
	}
	return w.beyond(&w.t0, &w.t1) <= 0
}

// cross sets z to a × b.
func (w *way) cross(z, ax, ay, bx, by *big.Int) {
	w.y.Mul(ay, bx)
	z.Sub(w.x.Mul(ax, by), &w.y)
}

// beyond is the sign of a − b.
func (w *way) beyond(a, b *share) int {
	return w.x.Mul(&a.num, &b.den).Cmp(w.y.Mul(&b.num, &a.den))
}

// narrow keeps of t0..t1 where n + c·t ≥ 0; false if that is seen to be nowhere.
func (w *way) narrow(n, c *big.Int) bool {
	var t share
	switch c.Sign() {
	case 0:
		return n.Sign() >= 0
	case 1:
		t.num.Neg(n)
		t.den.Set(c)
		if w.beyond(&t, &w.t0) > 0 {
			w.t0 = t
		}
	default:
		t.num.Set(n)
		t.den.Neg(c)
		if w.beyond(&t, &w.t1) < 0 {
			w.t1 = t
		}
	}
	return true
}

// facet is the largest surface less beam on the facet, clearance added; false if
// the way does not meet it. Corners are finite.
func (w *way) facet(corners *[3]geom.Point3) (v value, ok bool) {
	if !w.clip(corners) {
		return v, false
	}
	w.a.SetInt64(0)
	w.b.SetInt64(0)
	w.area.SetInt64(0)
	for i, p := range corners {
		z := setUnits(&w.q[i].z, p.Z, w.e)
		z.Add(z, &w.clear)
		w.a.Add(&w.a, w.x.Mul(z, &w.n[i]))
		w.b.Add(&w.b, w.x.Mul(z, &w.c[i]))
		w.area.Add(&w.area, &w.n[i])
	}
	w.a.Mul(&w.a, &w.alpha)
	w.b.Sub(w.b.Mul(&w.b, &w.alpha), w.x.Mul(&w.area, &w.rise))
	v = w.valueAt(&w.t0)
	if o := w.valueAt(&w.t1); v.less(&o) {
		v = o
	}
	if t, ok := w.summit(); ok {
		v = w.valueAt(&t)
	}
	return v, true
}

// valueAt is (a + b·t)/area − bend·t², b with the beam's rise taken off.
func (w *way) valueAt(t *share) (v value) {
	// With t = n/d: ((a·d + b·n)·d − area·bend·n²) / (area·d²).
	v.num.Add(w.x.Mul(&w.a, &t.den), w.y.Mul(&w.b, &t.num))
	v.num.Mul(&v.num, &t.den)
	v.den.Mul(&t.den, &t.den)
	v.den.Mul(&v.den, &w.area)
	if w.bend.Sign() != 0 {
		w.x.Mul(&t.num, &t.num)
		w.x.Mul(&w.x, &w.area)
		v.num.Sub(&v.num, w.x.Mul(&w.x, &w.bend))
	}
	return v
}

// summit is where the beam's bend makes the largest difference lie between t0
// and t1: at b/(2·area·bend).
func (w *way) summit() (t share, ok bool) {
	if w.bend.Sign() == 0 || w.b.Sign() <= 0 {
		return t, false
	}
	t.num.Set(&w.b)
	t.den.Mul(&w.area, &w.bend)
	t.den.Lsh(&t.den, 1)
	return t, w.beyond(&t, &w.t0) > 0 && w.beyond(&t, &w.t1) < 0
}

// height is the H at which the beam at the target stands over over above zero,
// as a value.
func (w *way) height(bottom, over float64) (v value) {
	// The unit of the two may be finer than the way's.
	e := min(w.e, unitOf(bottom), unitOf(over))
	v.num.Add(setUnits(&w.x, bottom, e), setUnits(&w.y, over, e))
	v.num.Mul(&v.num, big.NewInt(w.five))
	v.den.SetInt64(1)
	w.x.Add(&w.rise, &w.bend)
	if shift := w.s + e; shift >= 0 {
		v.num.Lsh(&v.num, uint(shift))
	} else {
		v.den.Lsh(&v.den, uint(-shift))
		w.x.Lsh(&w.x, uint(-shift))
	}
	v.num.Sub(&v.num, &w.x)
	return v
}

// round is v in metres rounded up or down to a float64, and whether it is that
// float64 exactly.
func (w *way) round(v *value, mode big.RoundingMode) (f float64, exact bool) {
	var num, den, q big.Float
	num.SetInt(&v.num)
	den.SetInt(w.x.Mul(&v.den, big.NewInt(w.five)))
	q.SetPrec(53).SetMode(mode).Quo(&num, &den)
	exact = q.Acc() == big.Exact
	q.SetMantExp(&q, -w.s)
	f, _ = q.Float64()
	back := new(big.Float).SetFloat64(f) // differs only where f is subnormal
	switch c := back.Cmp(&q); {
	case c < 0 && mode == big.ToPositiveInf:
		return math.Nextafter(f, math.Inf(1)), false
	case c > 0 && mode == big.ToNegativeInf:
		return math.Nextafter(f, math.Inf(-1)), false
	case c != 0:
		return f, false
	}
	return f, exact
}

// above is the least float64 over v.
func (w *way) above(v *value) float64 {
	f, exact := w.round(v, big.ToPositiveInf)
	if exact {
		return math.Nextafter(f, math.Inf(1))
	}
	return f
}
