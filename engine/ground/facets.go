package ground

import (
	"slices"

	"spadework/engine/geom"
)

// Facets calls visit with the triangles that meet box.
//
// They are found by walking from one to its neighbours: box and survey have a
// convex part in common, so the triangles on it hang together by their edges. It
// needs no index beside the hints.
func (t *TIN) Facets(box geom.Box, visit func(a, b, c geom.Point3) bool) {
	if box.Holds(t.box.Min) && box.Holds(t.box.Max) {
		facets(t, box, visit)
		return
	}
	for _, f := range t.facesIn(box) {
		if t.known(f) && !visit(corner(t, f<<2), corner(t, f<<2|1), corner(t, f<<2|2)) {
			return
		}
	}
}

// facesIn is the faces that meet box, in order.
func (t *TIN) facesIn(box geom.Box) []int32 {
	first, ok := t.faceIn(box)
	if !ok {
		return nil
	}
	seen := map[int32]bool{first: true}
	out := []int32{first}
	for k := 0; k < len(out); k++ {
		for i := range int32(3) {
			o, ok := t.across(out[k]<<2 | i)
			if f := o >> 2; ok && !seen[f] && t.meets(f, box) {
				seen[f] = true
				out = append(out, f)
			}
		}
	}
	slices.Sort(out)
	return out
}

// faceIn is some face that meets box. If none holds the box's middle, the box
// lies outside or across the hull.
func (t *TIN) faceIn(box geom.Box) (int32, bool) {
	box = clip(box, t.box)
	if box.Empty() {
		return 0, false
	}
	if f, ok := t.faceAt(box.Centre()); ok {
		return f, true
	}
	for e := range t.hull {
		if t.meets(e>>2, box) {
			return e >> 2, true
		}
	}
	return 0, false
}

// meets says exactly whether face f and box share a point: neither the axes nor
// a side of the face part them.
func (t *TIN) meets(f int32, box geom.Box) bool {
	v := &t.faces[f].v
	c := [3]geom.Point{t.pts[v[0]], t.pts[v[1]], t.pts[v[2]]}
	if !geom.BoxOf(c[0], c[1], c[2]).Meets(box) {
		return false
	}
	for i, a := range c {
		b := c[(i+1)%3]
		left := box.Min // the corner of the box farthest to the left of the side
		if b.Y < a.Y {
			left.X = box.Max.X
		}
		if b.X > a.X {
			left.Y = box.Max.Y
		}
		if geom.Orient(a, b, left) < 0 {
			return false
		}
	}
	return true
}
