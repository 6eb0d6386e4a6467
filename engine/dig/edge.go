package dig

import "spadework/engine/unit"

// EdgeSides says which sides of an outline an edge runs along.
type EdgeSides string

// A compass name takes the sides whose outward normal lies nearest to it;
// SideIndex the one side Edge.Index, 0 from the outline's first corner as
// given, or from a rectangle's right rear corner seen along its bearing.
const (
	AllSides  EdgeSides = "all"
	NorthSide EdgeSides = "north"
	EastSide  EdgeSides = "east"
	SouthSide EdgeSides = "south"
	WestSide  EdgeSides = "west"
	SideIndex EdgeSides = "index"
)

// Edge is a thickened edge of a slab: a band Width wide inside the outline that
// lies Depth under the rest of the bottom, both > 0. The haunch between the two
// is not part of it.
type Edge struct {
	Sides EdgeSides
	Index int
	Width unit.Length
	Depth unit.Length
}
