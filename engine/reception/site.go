package reception

import (
	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/unit"
)

// Site is what the beam must pass.
type Site struct {
	Ground    ground.Surface
	Obstacles []Obstacle
	Range     unit.Length    // in plan, > 0: as far as the receiver takes the beam
	Clearance unit.Length    // ≥ 0, over ground and obstacles alike
	Curvature beam.Curvature // None leaves curvature and refraction out
}

// Obstacle is a prism that stands on the site: a building, a spoil heap, plant
// that is parked. It is solid from below up to Top.
type Obstacle struct {
	ID      string
	Outline geom.Ring      // simple, either way round
	Top     unit.Elevation // +Inf where it is not known: nothing passes over it
}
