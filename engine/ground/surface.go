package ground

import "spadework/engine/geom"

// Surface is ground whose elevation is known over some part of the plan and
// is continuous and piecewise linear there. Its methods never guess: where the
// survey does not speak they say so.
type Surface interface {
	// Height is the elevation over p in metres; ok is false outside the survey
	// and for NaN. On the survey's border it is known.
	Height(p geom.Point) (z float64, ok bool)

	// Slope is the gradient at p, rise per metre east and north. On an edge or
	// point it is that of one of the facets there.
	Slope(p geom.Point) (slope geom.Vector, ok bool)

	// Profile is the ground along a line: every point of the line and every
	// crossing of a facet's edge, in order, with gaps told.
	Profile(line []geom.Point) []ProfilePoint

	// FirstHit is where a straight sight line first meets the ground. Touching
	// is meeting. The decision is exact for the surface's float64 points. With an
	// end that is not finite it is unknown.
	FirstHit(from, to geom.Point3) Sight

	// Contour is the lines at elevation z, higher ground on their left; a
	// closed line repeats its first point. Flat facets at exactly z belong to
	// the higher ground.
	Contour(z float64) [][]geom.Point

	// LowestOn is the lowest ground along the outline itself, not inside it.
	LowestOn(ring geom.Ring) Lowest

	// Facets calls visit with every triangle that meets box, borders included,
	// counter-clockwise in plan, until visit returns false. Some that only come
	// near may be among them.
	Facets(box geom.Box, visit func(a, b, c geom.Point3) bool)

	// Bounds is the box of the survey.
	Bounds() geom.Box
}

// ProfilePoint is a point of a profile.
type ProfilePoint struct {
	Station float64 // metres along the line from its first point
	At      geom.Point
	Z       float64 // elevation, NaN where Known is false
	Known   bool    // the survey has a height here
	Gap     bool    // no ground from here to the next point
}

// Sight tells what a straight sight line meets.
type Sight struct {
	Blocked bool        // it meets the ground
	At      geom.Point3 // where first, rounded; the zero point if not blocked
	Share   float64     // of the way from the first end, 0 to 1
	Unknown bool        // part of the way before At (or all the way) has no ground below it
}

// Lowest is the lowest ground along an outline.
type Lowest struct {
	Z       float64 // elevation, of what is known
	At      geom.Point
	OK      bool // the whole outline lies on the survey
	Missing bool // none of it does; Z and At mean nothing
}
