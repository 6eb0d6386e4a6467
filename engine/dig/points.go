package dig

import (
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// PointKind is what a point of a dig is.
type PointKind string

// The kinds of points. Centre and Corner are of areas: a plan takes Centre
// where its beam is parallel to the bottom, else the corners. The others are of
// runs; Before and After are the two sides of a step or of two inverts at one
// station. Outlet is an outlet of a box, whose Bottom is its invert.
const (
	Centre PointKind = "centre"
	Corner PointKind = "corner"
	Start  PointKind = "start"
	End    PointKind = "end"
	Bend   PointKind = "bend"
	Break  PointKind = "break" // the grade changes
	Before PointKind = "before"
	After  PointKind = "after"
	Along  PointKind = "along" // at the interval
	Outlet PointKind = "outlet"
)

// NumberPoint is a point of a dig where a number is wanted.
type NumberPoint struct {
	Name    string // the kind, with a number where there are several; once in its part
	Kind    PointKind
	Part    string
	Station unit.Station // of runs
	At      geom.Point
	Bottom  unit.Elevation
}

// Points are the points of all parts where numbers are wanted: of an area its
// centre and corners, of a run its ends, bends, changes and every full interval
// from its first point. An interval that is not positive asks for none.
func (d Dig) Points(interval unit.Length) []NumberPoint { return nil }
