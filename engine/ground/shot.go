package ground

import "spadework/engine/geom"

// Shot is a surveyed point of the ground.
type Shot struct {
	At geom.Point
	Z  float64 // elevation, metres
}

// Point3 is the shot in space.
func (s Shot) Point3() geom.Point3 { return s.At.Raised(s.Z) }

// Options say where the survey speaks and what counts as near.
type Options struct {
	Boundary    geom.Ring   // no ground outside; nil = the convex hull
	Holes       []geom.Ring // no ground inside these
	LongestEdge float64     // metres; triangles with a longer edge are no ground, 0 = all are
	Near        float64     // metres; closer neighbours are counted, 0 = 1 mm
}

// Report counts what Build met. Nothing is repaired beyond what it tells.
// Counts are full; the lists hold the first 100 of each.
type Report struct {
	Points    int // vertices of the surface
	Triangles int // where the survey speaks

	Merged    int // points at the place and height of an earlier one
	Conflicts int // points at the place of an earlier one with another height: the earlier holds
	Nearby    int // pairs of neighbours closer than Options.Near, both kept
	Crossings int // breaklines crossing each other: a point is added with the mean of their heights
	Dropped   int // breakline legs of no length, left out
	Outside   int // points outside the boundary, or in a hole, or at no triangle within LongestEdge

	ConflictList []Conflict
	NearbyList   []Pair
	CrossingList []CrossedLines
}

// Pair is two rows of the input by Row.
type Pair struct{ A, B Row }

// Conflict is a place given with two heights.
type Conflict struct {
	Pair
	ZA, ZB float64 // metres; ZA of the earlier row holds
}

// CrossedLines is a place where two breaklines cross.
type CrossedLines struct {
	At     geom.Point
	ZA, ZB float64 // heights by each line there, metres; the surface takes the mean
}

// Row names a point of the input: shot Index, or point Index of breakline
// Line (both from 0). Shots have Line −1; a point added at a crossing has
// Line −2.
type Row struct{ Line, Index int }
