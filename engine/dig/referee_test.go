package dig

import (
	"math"
	"slices"

	"spadework/engine/geom"
)

// The referee of volumes knows of a cut what the drawing says and nothing of how
// the room works it out: at every height the outline with each side moved out,
// its corners where the moved lines meet, on a ground of its own triangles. What
// is dug between two heights holds the outline of the lower one, as far as there is
// ground, and lies in that of the upper one. Summed over thin layers the two give
// an interval that holds the volume for certain, but for rounding.

// outlineAt is a cut as the referee takes it: its outline at an elevation, and at
// which elevations it jumps. just under such a level the outline is the smaller one.
type outlineAt interface {
	outline(z float64, under bool) geom.Ring
	jumps() (lowest float64, more []float64)
}

// hill is the referee's ground, and what the cut is dug in.
type hill []hillSide

// hillSide is one triangle of ground, counter-clockwise in plan.
type hillSide [3]geom.Point3

func (g hill) Facets(box geom.Box, visit func(a, b, c geom.Point3) bool) {
	for _, t := range g {
		if t.box().Meets(box) && !visit(t[0], t[1], t[2]) {
			return
		}
	}
}

func (t hillSide) box() geom.Box { return geom.BoxOf(t[0].Plan(), t[1].Plan(), t[2].Plan()) }

// lowest and highest corner.
func (t hillSide) span() (least, most float64) {
	return min(t[0].Z, t[1].Z, t[2].Z), max(t[0].Z, t[1].Z, t[2].Z)
}

// over is how far the triangle's plane lies over z at p, by weights of the corners.
func (t hillSide) over(p geom.Point, z float64) float64 {
	a, b, c := t[0].Plan(), t[1].Plan(), t[2].Plan()
	whole := twice(a, b, c)
	return (twice(p, b, c)*t[0].Z+twice(a, p, c)*t[1].Z+twice(a, b, p)*t[2].Z)/whole - z
}

// twice is two times the area of a triangle, positive counter-clockwise.
func twice(a, b, c geom.Point) float64 {
	return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
}

// cropped is the part of a ring where side is ≥ 0; of a ring that is not convex
// with seams along the line, which hold no area.
func cropped(r, into geom.Ring, side func(geom.Point) float64) geom.Ring {
	into = into[:0]
	for i, a := range r {
		b := r[(i+1)%len(r)]
		va, vb := side(a), side(b)
		if va >= 0 {
			into = append(into, a)
		}
		if (va < 0) != (vb < 0) {
			f := va / (va - vb)
			into = append(into, geom.Point{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)})
		}
	}
	return into
}

// areaOf and heightOver are the area of a ring, and the integral over it of how far
// a triangle's plane lies over z.
func areaOf(r geom.Ring) float64 {
	sum := 0.0
	for i := 2; i < len(r); i++ {
		sum += twice(r[0], r[i-1], r[i]) / 2
	}
	return sum
}

func heightOver(r geom.Ring, t hillSide, z float64) float64 {
	sum := 0.0
	for i := 2; i < len(r); i++ {
		sum += twice(r[0], r[i-1], r[i]) / 6 * (t.over(r[0], z) + t.over(r[i-1], z) + t.over(r[i], z))
	}
	return sum
}

// referee sums one cut in one ground.
type referee struct {
	cut     outlineAt
	ground  hill
	a, b, c geom.Ring
}

// interval is what the volume certainly lies in.
type interval struct{ least, most float64 }

func (v interval) wide() float64 { return v.most - v.least }

// holds says that a volume that is off by bound at most may be the referee's; a
// billionth is the referee's own rounding.
func (v interval) holds(volume, bound float64) bool {
	slack := bound + 1e-9*(1+v.most)
	return volume >= v.least-slack && volume <= v.most+slack
}

// judged is the interval, with layers halved until it is narrower than a share of
// the volume.
func judged(cut outlineAt, ground hill, share float64) interval {
	r := referee{cut: cut, ground: ground}
	for n := 64; ; n *= 2 {
		if v := r.layers(n); v.wide() <= share*v.least || n >= 1<<16 {
			return v
		}
	}
}

// layers sums n layers, the levels where the outline jumps among their borders.
func (r *referee) layers(n int) interval {
	low, jumps := r.cut.jumps()
	top := low
	for _, t := range r.ground {
		_, most := t.span()
		top = max(top, most)
	}
	near := geom.BoxOf(r.cut.outline(top, false)...)
	r.ground = slices.DeleteFunc(slices.Clone(r.ground), func(t hillSide) bool { return !t.box().Meets(near) })
	var sum interval
	add := func(from, to float64) {
		if !(to > from) {
			return
		}
		k := max(1, int(math.Ceil(float64(n)*(to-from)/(top-low))))
		for i := range k {
			z1, z2 := from+(to-from)*float64(i)/float64(k), from+(to-from)*float64(i+1)/float64(k)
			sum.least += r.layer(r.cut.outline(z1, false), z1, z2)
			sum.most += r.layer(r.cut.outline(z2, true), z1, z2)
		}
	}
	from := low
	for _, z := range jumps {
		add(from, min(z, top))
		from = max(from, min(z, top))
	}
	add(from, top)
	return sum
}

// layer is the volume of ground between two elevations within a ring.
func (r *referee) layer(ring geom.Ring, z1, z2 float64) float64 {
	sum := 0.0
	for _, t := range r.ground {
		least, most := t.span()
		if most <= z1 {
			continue
		}
		here := ring
		for i := range t {
			a, b := t[i].Plan(), t[(i+1)%3].Plan()
			next := &r.a
			if i%2 == 1 {
				next = &r.b
			}
			*next = cropped(here, *next, func(p geom.Point) float64 { return twice(a, b, p) })
			here = *next
		}
		if least >= z2 {
			sum += areaOf(here) * (z2 - z1)
			continue
		}
		sum += r.above(here, t, z1) - r.above(here, t, z2)
	}
	return sum
}

// above is the ground of a triangle over an elevation, within a ring.
func (r *referee) above(ring geom.Ring, t hillSide, z float64) float64 {
	r.c = cropped(ring, r.c, func(p geom.Point) float64 { return t.over(p, z) })
	return heightOver(r.c, t, z)
}

// mitredPit is a level pit with sides of its own, its corners counter-clockwise.
type mitredPit struct {
	corners geom.Ring
	sides   []Slope
	bottom  float64
}

func (p mitredPit) jumps() (float64, []float64) {
	var out []float64
	for _, s := range p.sides {
		for _, b := range s.Benches {
			out = append(out, p.bottom+float64(b.Height))
		}
	}
	slices.Sort(out)
	return p.bottom, out
}

func (p mitredPit) outline(z float64, under bool) geom.Ring {
	n := len(p.corners)
	out := make(geom.Ring, n)
	for i := range out {
		h := (i + n - 1) % n
		out[i] = p.meet(h, i, movedOut(p.sides[h], z-p.bottom, under), movedOut(p.sides[i], z-p.bottom, under))
	}
	return out
}

// meet is where two neighbouring sides meet once they are moved out.
func (p mitredPit) meet(h, i int, outH, outI float64) geom.Point {
	at, last, next := p.corners[i], p.corners[h], p.corners[(i+1)%len(p.corners)]
	ux, uy := unitFrom(last, at)
	vx, vy := unitFrom(at, next)
	cross := ux*vy - uy*vx // sine of the turn; outward is (uy, −ux)
	return geom.Point{
		X: at.X + (ux*outI-vx*outH)/cross,
		Y: at.Y + (uy*outI-vy*outH)/cross,
	}
}

func unitFrom(a, b geom.Point) (x, y float64) {
	l := math.Sqrt((b.X-a.X)*(b.X-a.X) + (b.Y-a.Y)*(b.Y-a.Y))
	return (b.X - a.X) / l, (b.Y - a.Y) / l
}

// movedOut is how far a side has moved out at a height over its foot, under: before
// the bench at that very height.
func movedOut(s Slope, h float64, under bool) float64 {
	out, last := 0.0, 0.0
	for _, b := range s.Benches {
		if level := float64(b.Height); h < level-1e-9 || under && h < level+1e-9 {
			break
		}
		out += s.Batter*(float64(b.Height)-last) + float64(b.Width)
		last = float64(b.Height)
	}
	return out + s.Batter*(h-last)
}

// proper says that no side of the outline at an elevation has turned about or
// crosses another: from there on the drawing's words say nothing.
func (p mitredPit) proper(z float64) bool {
	r, n := p.outline(z, false), len(p.corners)
	for i := range r {
		ux, uy := unitFrom(p.corners[i], p.corners[(i+1)%n])
		a, b := r[i], r[(i+1)%n]
		if !((b.X-a.X)*ux+(b.Y-a.Y)*uy > 0.01) {
			return false
		}
		for k := i + 2; k < n && k < n+i-1; k++ {
			c, d := r[k], r[(k+1)%n]
			if (twice(a, b, c) > 0) != (twice(a, b, d) > 0) && (twice(c, d, a) > 0) != (twice(c, d, b) > 0) {
				return false
			}
		}
	}
	return true
}

// roundedPit is a level pit that bulges at every corner, with sides alike and arcs
// round its corners. The arcs are drawn with tangents where the outline is the
// upper one of a layer and with chords where it is the lower.
type roundedPit struct {
	corners geom.Ring
	side    Slope
	bottom  float64
}

func (p roundedPit) jumps() (float64, []float64) {
	return mitredPit{p.corners, []Slope{p.side}, p.bottom}.jumps()
}

func (p roundedPit) outline(z float64, under bool) geom.Ring {
	const steps = 48
	var out geom.Ring
	n := len(p.corners)
	w := movedOut(p.side, z-p.bottom, under)
	for i, at := range p.corners {
		ux, uy := unitFrom(p.corners[(i+n-1)%n], at)
		vx, vy := unitFrom(at, p.corners[(i+1)%n])
		from, turn := math.Atan2(-ux, uy), math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)
		for k := range steps + 1 {
			angle, far := from+turn*float64(k)/steps, w
			if under {
				angle, far = from+turn*(float64(k)+0.5)/steps, w/math.Cos(turn/steps/2)
			}
			if under && k == steps {
				break
			}
			out = append(out, geom.Point{X: at.X + far*math.Cos(angle), Y: at.Y + far*math.Sin(angle)})
		}
	}
	return out
}

// straightRun is a piece of a straight trench from one station to another, with
// plain batters: right, far end, left, near end. An end with a neighbour is a wall.
type straightRun struct {
	at           geom.Point // of station 0
	dir          float64    // radians from X
	from, to     float64
	half         float64
	bottom, rise float64 // at from; along
	batter       [4]float64
	wall         [4]bool
}

func (p straightRun) jumps() (float64, []float64) {
	return min(p.bottom, p.bottom+p.rise*(p.to-p.from)), nil
}

// outline in the frame of the trench: X along from its start, Y to its left.
func (p straightRun) outline(z float64, _ bool) geom.Ring {
	const far = 200
	floor := func(s float64) float64 { return p.bottom + p.rise*s }
	l := p.to - p.from
	out := func(k int, foot float64) float64 {
		if p.wall[k] {
			return 0
		}
		return p.batter[k] * (z - foot)
	}
	r := geom.Ring{{X: -far, Y: -far}, {X: far, Y: -far}, {X: far, Y: far}, {X: -far, Y: far}}
	for _, side := range []func(q geom.Point) float64{
		func(q geom.Point) float64 { return out(0, floor(q.X)) + p.half + q.Y },
		func(q geom.Point) float64 { return out(1, floor(l)) + l - q.X },
		func(q geom.Point) float64 { return out(2, floor(q.X)) + p.half - q.Y },
		func(q geom.Point) float64 { return out(3, floor(0)) + q.X },
		func(q geom.Point) float64 { return z - floor(q.X) },
	} {
		r = cropped(r, nil, side)
	}
	sin, cos := math.Sincos(p.dir)
	for i, q := range r {
		s := q.X + p.from
		r[i] = geom.Point{X: p.at.X + s*cos - q.Y*sin, Y: p.at.Y + s*sin + q.Y*cos}
	}
	return r
}
