package reception_test

import (
	"math"
	"math/big"
	"slices"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/reception"
)

// The referee judges one ray by rational arithmetic alone, trying every facet and
// every side of every obstacle. It shares no code with the package.

func ratOf(v float64) *big.Rat   { return new(big.Rat).SetFloat64(v) }
func add(a, b *big.Rat) *big.Rat { return new(big.Rat).Add(a, b) }
func sub(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }
func mul(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
func quo(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }

type ratPoint struct{ x, y *big.Rat }

func ratPointOf(p geom.Point) ratPoint { return ratPoint{ratOf(p.X), ratOf(p.Y)} }

// turn is (b−a)×(c−a).
func turn(a, b, c ratPoint) *big.Rat {
	return sub(mul(sub(b.x, a.x), sub(c.y, a.y)), mul(sub(b.y, a.y), sub(c.x, a.x)))
}

type referee struct {
	site   reception.Site
	facets [][3]geom.Point3
}

func refereeOf(site reception.Site, box geom.Box) *referee {
	out := &referee{site: site}
	site.Ground.Facets(box, func(a, b, c geom.Point3) bool {
		out.facets = append(out.facets, [3]geom.Point3{a, b, c})
		return true
	})
	return out
}

// verdict is all there is to say of a ray.
type verdict struct {
	inRange, known bool
	low, high      *big.Rat // what the receiver takes
	need           *big.Rat // over this; nil for nothing
	never          bool     // an obstacle of unknown top stands in the way
}

// line is the way from the laser to the target.
type line struct {
	from, to   geom.Point
	a, b       ratPoint
	rise, bend *big.Rat
}

func (l line) at(t *big.Rat) ratPoint {
	return ratPoint{add(l.a.x, mul(t, sub(l.b.x, l.a.x))), add(l.a.y, mul(t, sub(l.b.y, l.a.y)))}
}

func (l line) beam(t *big.Rat) *big.Rat { return add(mul(t, l.rise), mul(mul(t, t), l.bend)) }

// crossings are the t at which the line's way passes the line p–q, or where p
// and q lie along it.
func (l line) crossings(p, q ratPoint) []*big.Rat {
	wp, wq := turn(l.a, l.b, p), turn(l.a, l.b, q)
	if wp.Cmp(wq) != 0 {
		k := quo(wp, sub(wp, wq))
		at := ratPoint{add(p.x, mul(k, sub(q.x, p.x))), add(p.y, mul(k, sub(q.y, p.y)))}
		return []*big.Rat{l.foot(at)}
	}
	if wp.Sign() == 0 {
		return []*big.Rat{l.foot(p), l.foot(q)}
	}
	return nil
}

// foot is the t of a point's foot on the line, 0 for a line of no length.
func (l line) foot(p ratPoint) *big.Rat {
	dx, dy := sub(l.b.x, l.a.x), sub(l.b.y, l.a.y)
	d2 := add(mul(dx, dx), mul(dy, dy))
	if d2.Sign() == 0 {
		return new(big.Rat)
	}
	return quo(add(mul(dx, sub(p.x, l.a.x)), mul(dy, sub(p.y, l.a.y))), d2)
}

func on(t *big.Rat) bool { return t.Sign() >= 0 && t.Cmp(big.NewRat(1, 1)) <= 0 }

// judge is the verdict on one pair.
func (r *referee) judge(l reception.Laser, t reception.Target) verdict {
	a, b := ratPointOf(l.At), ratPointOf(t.At)
	dx, dy := sub(b.x, a.x), sub(b.y, a.y)
	d2 := add(mul(dx, dx), mul(dy, dy))
	way := line{from: l.At, to: t.At, a: a, b: b, bend: new(big.Rat)}
	way.rise = add(mul(ratOf(l.Gradient.X), dx), mul(ratOf(l.Gradient.Y), dy))
	if r.site.Curvature == beam.Combined {
		way.bend = mul(big.NewRat(675, 10_000_000_000), d2)
	}
	reach := ratOf(float64(r.site.Range))
	v := verdict{inRange: d2.Cmp(mul(reach, reach)) <= 0}
	over := add(way.rise, way.bend)
	v.low = sub(add(ratOf(float64(t.Bottom)), ratOf(float64(t.Lowest))), over)
	v.high = sub(add(ratOf(float64(t.Bottom)), ratOf(float64(t.Highest))), over)
	r.overGround(way, &v)
	for _, o := range r.site.Obstacles {
		r.overObstacle(way, o, &v)
	}
	return v
}

// raise notes a surface of elevation z over t.
func (r *referee) raise(way line, z, t *big.Rat, v *verdict) {
	need := sub(add(z, ratOf(float64(r.site.Clearance))), way.beam(t))
	if v.need == nil || need.Cmp(v.need) > 0 {
		v.need = need
	}
}

func (r *referee) overGround(way line, v *verdict) {
	type part struct{ from, to *big.Rat }
	var parts []part
	for _, f := range r.facets {
		if beside(way, f) {
			continue
		}
		c := [3]ratPoint{ratPointOf(f[0].Plan()), ratPointOf(f[1].Plan()), ratPointOf(f[2].Plan())}
		tries := []*big.Rat{new(big.Rat), big.NewRat(1, 1)}
		for i := range c {
			tries = append(tries, way.crossings(c[i], c[(i+1)%3])...)
		}
		// The surface along the way is z0 + slope·t.
		z0, _ := heightOn(f, c, way.at(new(big.Rat)))
		z1, _ := heightOn(f, c, way.at(big.NewRat(1, 1)))
		if way.bend.Sign() != 0 {
			tries = append(tries, quo(sub(sub(z1, z0), way.rise), mul(big.NewRat(2, 1), way.bend)))
		}
		var p part
		for _, t := range tries {
			if !on(t) {
				continue
			}
			z, in := heightOn(f, c, way.at(t))
			if !in {
				continue
			}
			r.raise(way, z, t, v)
			if p.from == nil || t.Cmp(p.from) < 0 {
				p.from = t
			}
			if p.to == nil || t.Cmp(p.to) > 0 {
				p.to = t
			}
		}
		if p.from != nil {
			parts = append(parts, p)
		}
	}
	// Known as far as parts that begin there or before reach.
	slices.SortFunc(parts, func(p, q part) int { return p.from.Cmp(q.from) })
	known := big.NewRat(-1, 1)
	for _, p := range parts {
		if p.from.Sign() > 0 && p.from.Cmp(known) > 0 {
			break
		}
		if p.to.Cmp(known) > 0 {
			known = p.to
		}
	}
	v.known = known.Cmp(big.NewRat(1, 1)) >= 0
}

// beside says that all corners of a facet lie on one side of the way's line, by the
// exact orientation test.
func beside(way line, f [3]geom.Point3) bool {
	side := 0
	for _, p := range f {
		side += geom.Orient(way.from, way.to, p.Plan())
	}
	return side == 3 || side == -3
}

// heightOn is the plane of a facet over p, and whether p lies in the facet.
func heightOn(f [3]geom.Point3, c [3]ratPoint, p ratPoint) (z *big.Rat, in bool) {
	z, in = new(big.Rat), true
	area := turn(c[0], c[1], c[2])
	for i := range c {
		w := quo(turn(c[(i+1)%3], c[(i+2)%3], p), area)
		in = in && w.Sign() >= 0
		z = add(z, mul(w, ratOf(f[i].Z)))
	}
	return z, in
}

func (r *referee) overObstacle(way line, o reception.Obstacle, v *verdict) {
	tries := []*big.Rat{new(big.Rat), big.NewRat(1, 1)}
	for i := range o.Outline {
		p, q := o.Outline.Side(i)
		tries = append(tries, way.crossings(ratPointOf(p), ratPointOf(q))...)
	}
	if way.bend.Sign() != 0 {
		tries = append(tries, quo(new(big.Rat).Neg(way.rise), mul(big.NewRat(2, 1), way.bend)))
	}
	for _, t := range tries {
		if !on(t) || !within(o.Outline, way.at(t)) {
			continue
		}
		if math.IsInf(float64(o.Top), 1) {
			v.never = true
			continue
		}
		r.raise(way, ratOf(float64(o.Top)), t, v)
	}
}

// within says that p lies in the closed ring, by the winding number.
func within(ring geom.Ring, p ratPoint) bool {
	winding := 0
	for i := range ring {
		f, g := ring.Side(i)
		a, b := ratPointOf(f), ratPointOf(g)
		side := turn(a, b, p)
		between := func(u, v, w *big.Rat) bool { return u.Cmp(w)*v.Cmp(w) <= 0 }
		if side.Sign() == 0 && between(a.x, b.x, p.x) && between(a.y, b.y, p.y) {
			return true
		}
		switch up, down := a.y.Cmp(p.y) <= 0 && b.y.Cmp(p.y) > 0, a.y.Cmp(p.y) > 0 && b.y.Cmp(p.y) <= 0; {
		case up && side.Sign() > 0:
			winding++
		case down && side.Sign() < 0:
			winding--
		}
	}
	return winding != 0
}

// serves says whether beam height h serves.
func (v verdict) serves(h float64) bool {
	x := ratOf(h)
	return v.inRange && v.known && !v.never && x.Cmp(v.low) >= 0 && x.Cmp(v.high) <= 0 &&
		(v.need == nil || x.Cmp(v.need) > 0)
}

// least is the least float64 height at or over low and over what is in the way.
func (v verdict) least() float64 {
	h, _ := v.low.Float64()
	if v.need != nil && v.need.Cmp(v.low) > 0 {
		h, _ = v.need.Float64()
	}
	h = math.Nextafter(math.Nextafter(h, math.Inf(-1)), math.Inf(-1))
	for ratOf(h).Cmp(v.low) < 0 || v.need != nil && ratOf(h).Cmp(v.need) <= 0 {
		h = math.Nextafter(h, math.Inf(1))
	}
	return h
}

// wrong says what of a window differs from the verdict, "" if nothing does.
func (v verdict) wrong(w reception.Window) string {
	if !v.inRange || !v.known || v.never {
		if w.Open() {
			return "a window where there is none"
		}
		return ""
	}
	low := v.least()
	open := ratOf(low).Cmp(v.high) <= 0
	switch {
	case open != w.Open():
		return "open or shut"
	case !open:
		return ""
	case low != float64(w.Low):
		return "low end"
	case !v.serves(float64(w.High)) || v.serves(math.Nextafter(float64(w.High), math.Inf(1))):
		return "high end"
	case !v.serves(low) || v.serves(math.Nextafter(low, math.Inf(-1))):
		return "low end by serving"
	}
	return ""
}
