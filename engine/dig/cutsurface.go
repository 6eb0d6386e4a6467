package dig

import (
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Facets is ground as triangles; every ground.Surface is one.
type Facets interface {
	Facets(box geom.Box, visit func(a, b, c geom.Point3) bool)
}

// CutSurface is what a dig is cut to: its bottoms, and around them the sides as
// they rise outward. Over a convex part it is the highest of bottom and sides;
// of several parts, and at a reflex corner, the lowest holds. The zero
// CutSurface has no parts.
type CutSurface struct {
	origin geom.Point // what the pieces count from
	z0     float64
	pieces []piece
}

// Excavated is what a cut takes out of the ground.
type Excavated struct {
	Bank    unit.Volume // in the ground, of what the survey covers
	Bound   unit.Volume // most that Bank is off
	Area    unit.Area   // in plan
	Missing unit.Area   // of the cut in plan that has no survey, at most; over 0 Bank is not all
	Top     []geom.Ring // the top edge (daylight line): outer rings counter-clockwise, holes clockwise; nil if not known
	Bounds  geom.Box    // of what is dug
}

// Known says that the survey covers the whole cut.
func (e Excavated) Known() bool { return e.Missing == 0 }

// CutSurface is the surface that a resolved dig is cut to.
func (d Dig) CutSurface() CutSurface { return CutSurface{} }

// Height is the elevation of the cut over p; false where no part of the dig
// reaches, however high the ground, beyond a vertical side.
func (c CutSurface) Height(p geom.Point) (z unit.Elevation, ok bool) { return 0, false }

// Within is the cut of a convex piece of the dug outline alone, dug before its
// neighbours: the ring's sides on the outline rise as the dig's do, those across
// it stand vertical.
func (c CutSurface) Within(ring geom.Ring) CutSurface { return CutSurface{} }

// Excavate cuts the surface out of the ground.
func (c CutSurface) Excavate(ground Facets) Excavated { return Excavated{} }

// piece is a convex piece of a part.
type piece struct{}
