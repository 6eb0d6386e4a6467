package reception

import (
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// obstacles are the tops of all prisms, cut into triangles.
type obstacles struct {
	*mesh
	of  []int32 // the obstacle of each facet
	all []Obstacle
}

// newObstacles cuts the outlines; an outline that is no simple ring, or a top
// that is NaN or −Inf, is a fault.
func newObstacles(all []Obstacle) (*obstacles, *phrase.Fault) {
	out := &obstacles{all: all}
	var facets [][3]geom.Point3
	for i, o := range all {
		if f := o.check(); f != nil {
			return nil, f
		}
		for _, t := range triangles(o.Outline) {
			z := float64(o.Top)
			facets = append(facets, [3]geom.Point3{t[0].Raised(z), t[1].Raised(z), t[2].Raised(z)})
			out.of = append(out.of, int32(i))
		}
	}
	out.mesh = newMesh(facets)
	out.mesh.obstacle = true
	return out, nil
}

func (o Obstacle) check() *phrase.Fault {
	if top := float64(o.Top); !(math.Abs(top) <= limit || math.IsInf(top, 1)) {
		return fault("reception.top", phrase.With("id", o.ID), phrase.With("top", o.Top))
	}
	for _, p := range o.Outline {
		if !isPlace(p) {
			return fault("reception.outline", phrase.With("id", o.ID))
		}
	}
	if _, _, crossed := o.Outline.SelfIntersects(); crossed || len(o.Outline) < 3 {
		return fault("reception.outline", phrase.With("id", o.ID))
	}
	return nil
}

// triangles cuts a simple ring into triangles that together are its area, exactly:
// all corners are the ring's. Corners on a straight side are left out first, as
// the area is the same without them.
func triangles(ring geom.Ring) [][3]geom.Point {
	left := slices.Clone(ring.CounterClockwise())
	var out [][3]geom.Point
	for i := 0; len(left) >= 3 && i < len(left); {
		a, b, c := around(left, i)
		turn := geom.Orient(a, b, c)
		if turn < 0 || turn > 0 && !isEar(left, a, b, c) {
			i++
			continue
		}
		if turn > 0 {
			out = append(out, [3]geom.Point{a, b, c})
		}
		left = slices.Delete(left, i, i+1)
		i = 0
	}
	return out
}

// around is corner i of the ring between its neighbours.
func around(r geom.Ring, i int) (a, b, c geom.Point) {
	n := len(r)
	return r[(i+n-1)%n], r[i], r[(i+1)%n]
}

// isEar says that no other corner of the ring lies in the triangle.
func isEar(r geom.Ring, a, b, c geom.Point) bool {
	for _, p := range r {
		if p != a && p != b && p != c && geom.Orient(a, b, p) >= 0 && geom.Orient(b, c, p) >= 0 && geom.Orient(c, a, p) >= 0 {
			return false
		}
	}
	return true
}
