package reception

import (
	"math"

	"spadework/engine/geom"
)

// candidate is a facet that may ask for the greatest beam height.
type candidate struct {
	low, high float64 // bounds of what it asks for, clearance added; low is −Inf where it may not be met
	t         float64 // about where
	facet     int32
	ends      [2]place
	obstacle  bool
	flat      bool // asks for just high, if the ray meets it
}

// Scratch is memory that questions reuse; the zero Scratch is ready. What From,
// Within and Digs return lies in it and holds until it is used again.
type Scratch struct {
	windows []Window
	digs    []Window
	cands   []candidate
	near    []block
	marks   [2][]int32 // of the ground's facets and of the obstacles': when last seen
	mark    int32
	way     way
	laid    bool    // way is that of the ray in hand
	raised  float64 // clearance
	floor   float64 // what asks for less is of no concern
	ceiling float64 // what asks for more leaves no window
	shut    bool    // something does
	gap     bool    // no ground somewhere near the ray
	all     bool    // every facet is of concern
}

// begin makes s ready for a ray, whose facets matter if they ask for at least
// floor; one that asks for more than ceiling ends the search.
func (s *Scratch) begin(raised, floor, ceiling float64) {
	if s.mark == math.MaxInt32 {
		s.mark, s.marks = 0, [2][]int32{}
	}
	s.mark++
	s.cands = s.cands[:0]
	s.raised, s.floor, s.ceiling = raised, floor, ceiling
	s.laid, s.shut, s.gap = false, false, false
}

// offer enters a facet if what it may ask for is at least the floor, and raises
// the floor to what it surely asks for.
func (s *Scratch) offer(c candidate, n need) {
	c.low, c.high, c.t, c.ends = n.low, n.high, n.t, n.ends
	if s.raised != 0 {
		c.high += s.raised
		c.high += 2 * u * (math.Abs(c.high) + s.raised)
		if c.low += s.raised; c.low <= math.MaxFloat64 {
			c.low -= 2 * u * (math.Abs(c.low) + s.raised)
		}
	}
	if !(c.high >= s.floor) {
		return
	}
	s.cands = append(s.cands, c)
	if s.all {
		return
	}
	s.floor = larger(s.floor, smaller(c.low, math.MaxFloat64))
	s.shut = s.shut || c.low > s.ceiling
}

// least is an elevation: a facet all under it asks for less than the floor
// between t0 and t1 of a ray. highest bounds the size of elevations.
func (s *Scratch) least(r *ray, t0, t1, highest float64) float64 {
	limit := s.floor - s.raised + r.least(t0, t1)
	return limit - 8*u*(math.Abs(s.floor)+s.raised+math.Abs(limit)+highest)
}

// isFlat says that a facet asks for its own elevation wherever it is met.
func (r *ray) isFlat(c *[3]geom.Point3) bool {
	return r.rise == 0 && r.bend == 0 && c[0].Z == c[1].Z && c[1].Z == c[2].Z
}

// surface is ground made ready for rays.
type surface interface {
	// collect offers the facets that may ask for at least the floor of s, until
	// one shuts the window.
	collect(r *ray, s *Scratch)
	// corners are those of a facet, counter-clockwise.
	corners(facet int32, r *ray) *[3]geom.Point3
	// speaks says exactly whether there is ground all along the ray, after
	// collect has gone all the way; the laser has some.
	speaks(r *ray, s *Scratch) bool
	// unit is the exponent of the lowest bit of any coordinate.
	unit() int
}
