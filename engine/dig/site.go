package dig

import (
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Ground is a survey surface. ok is false where it has no height.
type Ground interface {
	// Height is the elevation over p in metres.
	Height(p geom.Point) (z float64, ok bool)
	// LowestOn is the lowest elevation on and inside a ring and where it lies;
	// ok is false if any of the ring lies outside the survey.
	LowestOn(r geom.Ring) (z float64, at geom.Point, ok bool)
}

// Site is the ground an excavation lies in. nil is unknown.
type Site struct {
	Existing Ground
	Finished Ground
}

// LevelGround is ground of one elevation everywhere.
type LevelGround unit.Elevation

// Height is the elevation of the level ground.
func (g LevelGround) Height(geom.Point) (z float64, ok bool) { return float64(g), true }

// LowestOn is the elevation of the level ground, at the ring's first corner; ok
// is false for a ring without corners.
func (g LevelGround) LowestOn(r geom.Ring) (z float64, at geom.Point, ok bool) {
	if len(r) == 0 {
		return 0, geom.Point{}, false
	}
	return float64(g), r[0], true
}
