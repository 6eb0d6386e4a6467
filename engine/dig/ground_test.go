package dig

import (
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/ground"
)

// facets is test ground: between xs[i] and xs[i+1] along an axis it runs
// straight from zs[i] to zs[i+1], level across; outside there is none. The axis
// starts at origin and runs along dir.
type facets struct {
	origin geom.Point
	dir    geom.Vector
	xs, zs []float64
}

// level is ground of one elevation far and wide.
func level(z float64) facets {
	return facets{dir: geom.Vector{X: 1}, xs: []float64{-1e5, 1e5}, zs: []float64{z, z}}
}

// slope is ground of elevation z at x = 0 that rises g per metre east.
func slope(z, g float64) facets {
	return facets{dir: geom.Vector{X: 1}, xs: []float64{-1e4, 1e4}, zs: []float64{z - 1e4*g, z + 1e4*g}}
}

func (f facets) Height(p geom.Point) (float64, bool) {
	x := p.Sub(f.origin).Dot(f.dir)
	n := len(f.xs)
	if !(x >= f.xs[0]-1e-9 && x <= f.xs[n-1]+1e-9) {
		return math.NaN(), false
	}
	i := 1
	for i < n-1 && f.xs[i] < x {
		i++
	}
	t := (x - f.xs[i-1]) / (f.xs[i] - f.xs[i-1])
	return f.zs[i-1] + t*(f.zs[i]-f.zs[i-1]), true
}

func (f facets) Profile(line []geom.Point) []ground.ProfilePoint {
	var out []ground.ProfilePoint
	start := 0.0
	add := func(s float64, p geom.Point) {
		z, ok := f.Height(p)
		out = append(out, ground.ProfilePoint{Station: s, At: p, Z: z, Known: ok})
	}
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		run := a.Distance(b)
		shares := []float64{0}
		for _, x := range f.xs {
			along := b.Sub(a).Dot(f.dir)
			if s := (x - a.Sub(f.origin).Dot(f.dir)) / along; s > 0 && s < 1 {
				shares = append(shares, s)
			}
		}
		slices.Sort(shares)
		for _, s := range shares {
			add(start+s*run, a.Toward(b, s))
		}
		start += run
	}
	add(start, line[len(line)-1])
	return out
}

func (f facets) LowestOn(ring geom.Ring) ground.Lowest {
	low := ground.Lowest{Z: math.Inf(1), OK: true, Missing: true}
	for _, p := range f.Profile(closed(ring)) {
		if !p.Known {
			low.OK = false
			continue
		}
		low.Missing = false
		if p.Z < low.Z {
			low.Z, low.At = p.Z, p.At
		}
	}
	return low
}

// raised is the same ground dz higher.
func (f facets) raised(dz float64) facets {
	f.zs = slices.Clone(f.zs)
	for i := range f.zs {
		f.zs[i] += dz
	}
	return f
}

// moved is the same ground on a moved site.
func (f facets) moved(m motion) facets {
	f.origin, f.dir = m.point(f.origin), m.vector(f.dir)
	return f
}

// motion turns a site anticlockwise about its origin, then shifts it.
type motion struct {
	angle float64
	shift geom.Vector
}

func (m motion) vector(v geom.Vector) geom.Vector {
	sin, cos := math.Sincos(m.angle)
	return geom.Vector{X: v.X*cos - v.Y*sin, Y: v.X*sin + v.Y*cos}
}

func (m motion) point(p geom.Point) geom.Point {
	return geom.Point{}.Add(m.vector(geom.Vector(p))).Add(m.shift)
}
