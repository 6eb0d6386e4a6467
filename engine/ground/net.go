package ground

import (
	"math"

	"spadework/engine/geom"
)

// net is how a surface of triangles is walked, one code for the TIN and the
// grid. Edges are face<<2 | i as in mesh.
type net interface {
	place(v int32) geom.Point
	elevation(v int32) float64
	start(e edge) int32                // the vertex e begins at
	across(e edge) (edge, bool)        // the same edge of the neighbour; false on the rim
	known(f int32) bool                // the survey speaks on face f
	faceAt(p geom.Point) (int32, bool) // a face that holds p or has it on its edge
	rim(yield func(e edge) bool)       // visits the edges without a neighbour; the net is convex
	count() int32                      // faces are 0..count−1
	proper(f int32) bool               // face f is a triangle
	Bounds() geom.Box
}

// corner is a vertex in space.
func corner(n net, e edge) geom.Point3 {
	v := n.start(e)
	return n.place(v).Raised(n.elevation(v))
}

// sideOf is on which side of e the point p lies.
func sideOf(n net, e edge, p geom.Point) int {
	return geom.Orient(n.place(n.start(e)), n.place(n.start(after(e))), p)
}

// knownFace is a face at p on which the survey speaks: the face that holds p
// or, where p lies on its edge or corner, another there.
func knownFace(n net, p geom.Point) (int32, bool) {
	f, ok := n.faceAt(p)
	if !ok {
		return 0, false
	}
	if n.known(f) {
		return f, true
	}
	for i := range int32(3) {
		e := f<<2 | i
		if n.place(n.start(e)) == p {
			return knownAround(n, e)
		}
	}
	for i := range int32(3) {
		e := f<<2 | i
		if sideOf(n, e, p) == 0 {
			o, ok := n.across(e)
			return o >> 2, ok && n.known(o>>2)
		}
	}
	return 0, false
}

// knownAround is a face around the start of e on which the survey speaks.
func knownAround(n net, e edge) (f int32, ok bool) {
	around(n, e, func(e edge) bool {
		f, ok = e>>2, n.known(e>>2)
		return !ok
	})
	return f, ok
}

// around visits the edges that begin where e does, one for each face there,
// until visit returns false.
func around(n net, e edge, visit func(e edge) bool) {
	for x := e; ; {
		if !visit(x) {
			return
		}
		o, ok := n.across(before(x))
		if !ok {
			break
		}
		if x = o; x == e {
			return
		}
	}
	for x := e; ; { // the rim was met: the other way round from e
		o, ok := n.across(x)
		if !ok {
			return
		}
		x = after(o)
		if !visit(x) {
			return
		}
	}
}

// gradient is the slope of face f; false for a sliver whose area rounds to
// nothing.
func gradient(n net, f int32) (geom.Vector, bool) {
	a, b, c := corner(n, f<<2), corner(n, f<<2|1), corner(n, f<<2|2)
	u, v := b.Plan().Sub(a.Plan()), c.Plan().Sub(a.Plan())
	du, dv := b.Z-a.Z, c.Z-a.Z
	det := u.Cross(v)
	if !(det > 0) {
		return geom.Vector{}, false
	}
	return geom.Vector{
		X: (float64(du*v.Y) - float64(dv*u.Y)) / det,
		Y: (float64(dv*u.X) - float64(du*v.X)) / det,
	}, true
}

// heightIn is the elevation of face f over p in it: the corners' mean, weighted
// by areas, which stays between the corners however thin the face is.
func heightIn(n net, f int32, p geom.Point) float64 {
	a, b, c := corner(n, f<<2), corner(n, f<<2|1), corner(n, f<<2|2)
	wa := weight(b, c, p)
	wb := weight(c, a, p)
	wc := weight(a, b, p)
	sum := wa + wb + wc
	if !(sum > 0) { // rounded to nothing: p lies on a corner or edge of a sliver
		return nearestZ(p, a, b, c)
	}
	return a.Z + (float64(wb*(b.Z-a.Z))+float64(wc*(c.Z-a.Z)))/sum
}

// weight is twice the area of p with the edge a–b, 0 where rounding makes it
// negative.
func weight(a, b geom.Point3, p geom.Point) float64 {
	return max(0, a.Plan().Sub(p).Cross(b.Plan().Sub(p)))
}

func nearestZ(p geom.Point, corners ...geom.Point3) float64 {
	z, best := math.NaN(), math.Inf(1)
	for _, c := range corners {
		if d := c.Plan().Distance(p); d < best {
			z, best = c.Z, d
		}
	}
	return z
}

func height(n net, p geom.Point) (float64, bool) {
	f, ok := knownFace(n, p)
	if !ok {
		return math.NaN(), false
	}
	return heightIn(n, f, p), true
}

func slope(n net, p geom.Point) (geom.Vector, bool) {
	f, ok := knownFace(n, p)
	if !ok {
		return geom.Vector{}, false
	}
	return gradient(n, f)
}

func facets(n net, box geom.Box, visit func(a, b, c geom.Point3) bool) {
	for f := range n.count() {
		if !n.proper(f) || !n.known(f) {
			continue
		}
		a, b, c := corner(n, f<<2), corner(n, f<<2|1), corner(n, f<<2|2)
		if geom.BoxOf(a.Plan(), b.Plan(), c.Plan()).Meets(box) && !visit(a, b, c) {
			return
		}
	}
}
