package reception

import (
	"math"

	"spadework/engine/geom"
)

// What facets ask for, in twofold arithmetic with bounds: it settles all but
// rays through corners, where integers do.

// fine is a ray in twofold figures.
type fine struct {
	r      *ray
	dx, dy twofold // target less laser, exact
	gx, gy float64
	reach  float64 // |dx| + |dy|
	tilted bool    // the beam does not keep H all the way
	lift   near    // the beam over H at the target
	clear  float64
}

// perSquareRest is what 27/(4·10^8) is more than the float64 perSquare, to 53 bits.
const perSquareRest = -2.2394534685866995e-24

// fineOf makes a ray ready.
func (a *stand) fineOf(r *ray) fine {
	f := fine{
		r: r, dx: sumOf(r.to.X, -r.from.X), dy: sumOf(r.to.Y, -r.from.Y),
		gx: a.laser.Gradient.X, gy: a.laser.Gradient.Y, reach: r.reach, clear: a.clearance,
	}
	f.tilted = f.gx != 0 || f.gy != 0 || r.curved
	f.lift = f.beam(f.dx, f.dy)
	return f
}

// beam is the beam over H at x, y from the laser.
func (f *fine) beam(x, y twofold) near {
	if !f.tilted {
		return near{}
	}
	ex, ny := x.times(twofold{f.gx, 0}), y.times(twofold{f.gy, 0})
	out := near{ex.plus(ny), 4 * hair * (math.Abs(ex.hi) + math.Abs(ny.hi))}
	if f.r.curved {
		bend := x.times(x).plus(y.times(y)).times(twofold{perSquare, perSquareRest})
		out.at = out.at.plus(bend)
		out.off += 8 * hair * (bend.hi + math.Abs(out.at.hi))
	}
	return out
}

// height is the H at which the beam at the target stands over above bottom.
func (f *fine) height(bottom, over float64) near {
	out := near{sumOf(bottom, over), 0}
	if f.tilted {
		out.at = out.at.minus(f.lift.at)
		out.off = f.lift.off + 2*hair*(math.Abs(bottom)+math.Abs(over)+math.Abs(f.lift.at.hi))
	}
	return out
}

// raised is an elevation z with the clearance, less the beam.
func (f *fine) raised(z near, beam near) near {
	if f.clear != 0 {
		z.at = z.at.plus(twofold{f.clear, 0})
	}
	if f.tilted {
		z.at = z.at.minus(beam.at)
	}
	z.off += beam.off + 4*hair*(math.Abs(z.at.hi)+f.clear+math.Abs(beam.at.hi))
	return z
}

// side is a corner seen along the ray: its place from the laser, exact, and
// twice the area of the triangle with the ray, > 0 left of it.
type side struct {
	x, y twofold
	w    twofold
	size float64
}

func (f *fine) side(c geom.Point3) side {
	s := side{x: sumOf(c.X, -f.r.from.X), y: sumOf(c.Y, -f.r.from.Y)}
	s.w = f.dx.times(s.y).minus(f.dy.times(s.x))
	s.size = math.Abs(s.x.hi) + math.Abs(s.y.hi)
	return s
}

// crossing is what is asked for where the ray crosses the edge from c to d.
//
// w errs by less than 3 hair times what its products can be. The share of the
// edge errs by that of its numerator and of its denominator, relative to the
// denominator, and its rounding.
func (f *fine) crossing(c, d geom.Point3) (out near, ok bool) {
	p, q := f.side(c), f.side(d)
	across := p.w.minus(q.w)
	width := math.Abs(across.hi)
	err := 3 * hair * f.reach * max(p.size, q.size)
	if !(err*1e6 < width && width > smallest) {
		return out, false
	}
	share := p.w.over(across)
	off := 4*err/width + hair
	rise := sumOf(d.Z, -c.Z)
	z := near{twofold{c.Z, 0}.plus(share.times(rise)), 0}
	z.off = 2*off*math.Abs(rise.hi) + 2*hair*(math.Abs(c.Z)+math.Abs(d.Z))
	if !f.tilted {
		return f.raised(z, near{}), true
	}
	dx, dy := q.x.minus(p.x), q.y.minus(p.y)
	beam := f.beam(p.x.plus(share.times(dx)), p.y.plus(share.times(dy)))
	size := max(p.size, q.size)
	slope := math.Abs(f.gx) + math.Abs(f.gy)
	if f.r.curved {
		slope += 4 * perSquare * size
	}
	beam.off += slope * (2*off*(math.Abs(dx.hi)+math.Abs(dy.hi)) + 8*hair*size)
	return f.raised(z, beam), true
}

// over is what is asked for at an end of the ray over a facet, at the laser or at
// the target.
func (f *fine) over(c *[3]geom.Point3, target bool) (out near, ok bool) {
	at, beam := f.r.from, near{}
	if target {
		at, beam = f.r.to, f.lift
	}
	var x, y, n [3]twofold
	size := 0.0
	for i, p := range c {
		x[i], y[i] = sumOf(p.X, -at.X), sumOf(p.Y, -at.Y)
		size = max(size, math.Abs(x[i].hi)+math.Abs(y[i].hi))
	}
	for i := range n {
		j, k := (i+1)%3, (i+2)%3
		n[i] = x[j].times(y[k]).minus(y[j].times(x[k]))
	}
	area := n[0].plus(n[1]).plus(n[2])
	err := 4 * hair * size * size
	if !(err*1e6 < area.hi && area.hi > smallest) {
		return out, false
	}
	u1, u2 := sumOf(c[1].Z, -c[0].Z), sumOf(c[2].Z, -c[0].Z)
	rise := n[1].times(u1).plus(n[2].times(u2)).over(area)
	z := near{twofold{c[0].Z, 0}.plus(rise), 0}
	z.off = 16*(err/area.hi+hair)*(math.Abs(u1.hi)+math.Abs(u2.hi)) + 2*hair*(math.Abs(c[0].Z)+math.Abs(rise.hi))
	return f.raised(z, beam), true
}

// highest is the least float64 beam height over all that the candidates ask for,
// −Inf for none; ok is false where that is in doubt.
func (f *fine) highest(a *stand, cands []candidate) (above float64, ok bool) {
	floor := math.Inf(-1)
	for i := range cands {
		floor = max(floor, cands[i].low)
	}
	most := near{at: twofold{math.Inf(-1), 0}}
	var last [2]geom.Point3 // the edge last looked at, which two facets share
	for i := range cands {
		c := &cands[i]
		if c.high < floor {
			continue
		}
		if math.IsInf(c.low, 0) {
			return math.Inf(1), c.low > 0
		}
		corners := a.cornersOf(c, f.r)
		if c.flat {
			most = most.or(near{sumOf(corners[0].Z, f.clear), 0})
			continue
		}
		for _, p := range c.ends {
			if p == inDoubt {
				return 0, false
			}
			if p == idle || p < atLaser && last == [2]geom.Point3{corners[(p+1)%3], corners[p]} {
				continue
			}
			n, ok := f.at(corners, p)
			if !ok {
				return 0, false
			}
			if p < atLaser {
				last = [2]geom.Point3{corners[p], corners[(p+1)%3]}
			}
			most = most.or(n)
		}
	}
	if math.IsInf(most.at.hi, -1) {
		return math.Inf(-1), true
	}
	return most.above()
}

// at is what is asked for at a place of a facet.
func (f *fine) at(c *[3]geom.Point3, p place) (near, bool) {
	if p >= atLaser {
		return f.over(c, p == atTarget)
	}
	return f.crossing(c[p], c[(p+1)%3])
}
