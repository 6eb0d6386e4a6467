package reception

import (
	"math"

	"spadework/engine/geom"
)

// candidate is a facet that may ask for the greatest beam height.
type candidate struct {
	high     float64 // no less than what it asks for, clearance added
	t        float64 // about where
	facet    int32
	obstacle bool
	flat     bool // asks for just high, if the ray meets it
}

// Scratch is memory that questions reuse; the zero Scratch is ready. What From
// and Digs return lies in it and holds until it is used again.
type Scratch struct {
	windows []Window
	digs    []Window
	cands   []candidate
	marks   [2][]int32 // of the ground's facets and of the obstacles': when last seen
	mark    int32
	way     way
	raised  float64 // clearance
	gap     bool    // no ground somewhere near the ray
}

// offer enters a facet if what it may ask for is at least floor.
func (s *Scratch) offer(c candidate, n need, floor float64) {
	if !(n.high >= floor) {
		return
	}
	c.t = n.t
	c.high = n.high
	if s.raised != 0 {
		c.high += s.raised
		c.high += 2 * u * (math.Abs(c.high) + s.raised)
	}
	s.cands = append(s.cands, c)
}

// isFlat says that a facet asks for its own elevation wherever it is met.
func (r *ray) isFlat(c *[3]geom.Point3) bool {
	return r.rise == 0 && r.bend == 0 && c[0].Z == c[1].Z && c[1].Z == c[2].Z
}

// surface is ground made ready for rays.
type surface interface {
	// collect offers the facets that may ask for at least floor.
	collect(r *ray, floor float64, s *Scratch)
	// corners are those of a facet, counter-clockwise.
	corners(facet int32, r *ray) *[3]geom.Point3
	// speaks says exactly whether there is ground all along the ray, after
	// collect; the laser has some.
	speaks(r *ray, s *Scratch) bool
	// unit is the exponent of the lowest bit of any coordinate.
	unit() int
}
