package beam

import (
	"spadework/engine/level"
	"spadework/engine/unit"
)

// Curvature says how far a line of sight leaves the level surface.
type Curvature uint8

// The kinds: earth's curvature less refraction, or left out.
const (
	Combined Curvature = iota
	None
)

// Drop is how far a level line of sight stands over the level surface at
// distance d in metres, never negative: 0.0675 (d/1000)². The sign of d does
// not count; NaN stays NaN under Combined.
func (c Curvature) Drop(d float64) float64 {
	if c == None {
		return 0
	}
	return float64(level.Curvature(unit.Length(d)))
}

// String is the word of the job file.
func (c Curvature) String() string {
	if c == None {
		return "none"
	}
	return "combined"
}
