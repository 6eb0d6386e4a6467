package reception

import (
	"math"

	"spadework/engine/geom"
)

// u is the unit round-off of float64.
const u = 1.0 / (1 << 53)

// perSquare is k of the package comment; exactly 27/(4·10^8).
const perSquare = 6.75e-8

// ray is the straight line from a laser to a target, t = 0 at the laser and 1 at
// the target. The beam over it is at H + t·rise + t²·bend.
type ray struct {
	from, to   geom.Point
	dx, dy, d2 float64
	reach      float64 // |dx| + |dy|
	rise, bend float64
	curved     bool
	slack      float64 // bounds what rounding of rise and bend does to a value
}

// rayTo is the ray of l to p.
func rayTo(l *Laser, p geom.Point, curved bool) ray {
	d := p.Sub(l.At)
	r := ray{from: l.At, to: p, dx: d.X, dy: d.Y, d2: d.Dot(d), curved: curved}
	r.reach = math.Abs(d.X) + math.Abs(d.Y)
	x, y := float64(l.Gradient.X*d.X), float64(l.Gradient.Y*d.Y)
	r.rise = x + y
	if curved {
		r.bend = float64(perSquare * r.d2)
	}
	// The differences, the products and the sum lose a factor 1+u each; three
	// products and two sums more when a value is worked out from t.
	r.slack = 16*u*(math.Abs(x)+math.Abs(y)+r.bend) + tiny
	return r
}

// tiny covers what underflow can add.
const tiny = 1e-300

// beam is how far the beam stands over H at t.
func (r *ray) beam(t float64) float64 { return float64(t*r.rise) + float64(float64(t*t)*r.bend) }

// least is no more than the beam over H anywhere between t0 ≤ t1.
func (r *ray) least(t0, t1 float64) float64 {
	t0, t1 = share01(t0), share01(t1)
	low := float64(t0 * r.rise)
	if r.rise < 0 {
		low = float64(t1 * r.rise)
	}
	return low + float64(float64(t0*t0)*r.bend) - r.slack
}

// at is the place at t, rounded.
func (r *ray) at(t float64) geom.Point { return r.from.Toward(r.to, min(1, max(0, t))) }

// need bounds the beam height that a facet asks for, at t about where: no more
// than high, which is −Inf where the ray surely does not meet it, and no less
// than low, which is −Inf where it may not. ends say where on the facet it is
// asked for.
type need struct {
	low, high, t float64
	ends         [2]place
}

// place is where the ray enters or leaves a facet: over its edge from corner 0, 1
// or 2, at the laser, at the target, or it is not known or of no concern.
type place int8

const (
	atLaser  place = 3
	atTarget place = 4
	inDoubt  place = -1
	idle     place = -2
)

var nothing = need{low: math.Inf(-1), high: math.Inf(-1)}

// seen is a facet seen from the laser along a ray.
type seen struct {
	x, y, z [3]float64 // corners from the laser
	w       [3]float64 // d × corner, in square metres: > 0 left of the ray
	t       [3]float64 // of the corner's foot on the ray
	e       float64    // bounds the error of each w, and of t·d²
	wide    float64    // the largest |w|
}

// facet is the need of a facet: the largest surface less beam over what the ray
// has in common with it, rounded up by its error.
//
// A difference of coordinates errs by u relative, a product of two by 3u, their
// sum by u more: w and t·d² err by less than 5u·(|dx|+|dy|)·(|x|+|y|), and e
// takes 8u.
func (r *ray) facet(c *[3]geom.Point3) need {
	var f seen
	size := 0.0
	for i := range f.x {
		f.x[i], f.y[i] = c[i].X-r.from.X, c[i].Y-r.from.Y
		size = larger(size, math.Abs(f.x[i])+math.Abs(f.y[i]))
		f.w[i] = float64(r.dx*f.y[i]) - float64(r.dy*f.x[i])
	}
	f.e = float64(8*u*r.reach)*size + tiny
	least, most := smallest3(&f.w), largest3(&f.w)
	if least > f.e || most < -f.e {
		return nothing
	}
	for i := range f.x {
		f.t[i] = float64(r.dx*f.x[i]) + float64(r.dy*f.y[i])
	}
	if largest3(&f.t) < -f.e || smallest3(&f.t) > r.d2+f.e+float64(8*u*r.d2) {
		return nothing
	}
	f.z = [3]float64{c[0].Z, c[1].Z, c[2].Z}
	f.wide = larger(most, -least)
	return r.needOf(&f)
}

// needOf is facet for one that the ray may meet.
func (r *ray) needOf(f *seen) need {
	top := largest3(&f.z)
	flat := top == smallest3(&f.z)
	switch {
	case r.d2 == 0 || f.wide <= 16*f.e:
		return r.coarse(f, top)
	case top > math.MaxFloat64:
		return r.endless(f)
	}
	for i := range f.t {
		f.t[i] /= r.d2
	}
	n := r.chord(f)
	if flat && r.rise == 0 && r.bend == 0 && !math.IsInf(n.high, -1) {
		n.high = top // exact, whatever part is met
		if !math.IsInf(n.low, -1) {
			n.low = top
		}
	}
	return n
}

// endless is the need of a facet without a top.
func (r *ray) endless(f *seen) need {
	out := r.coarse(f, math.Inf(1))
	f.z = [3]float64{}
	for i := range f.t {
		f.t[i] /= r.d2
	}
	if n := r.chord(f); !math.IsInf(n.low, -1) {
		out.low = math.Inf(1)
	}
	return out
}

// middle is a t of the facet's middle.
func (r *ray) middle(f *seen) float64 {
	if r.d2 == 0 {
		return 0
	}
	return min(1, max(0, (f.t[0]+f.t[1]+f.t[2])/3/r.d2))
}

// coarse is the need by the highest corner alone, where the facet is as thin as
// rounding.
func (r *ray) coarse(f *seen, top float64) need {
	t0, t1 := 0.0, 1.0
	if r.d2 > 0 {
		pad := (f.e + float64(8*u*r.d2)) / r.d2
		t0 = smallest3(&f.t)/r.d2 - pad
		t1 = largest3(&f.t)/r.d2 + pad
	}
	high := top - r.least(t0, t1) + float64(4*u*math.Abs(top))
	return need{low: math.Inf(-1), high: high, t: r.middle(f), ends: [2]place{inDoubt, inDoubt}}
}
