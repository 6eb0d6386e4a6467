package reception

import (
	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Kind sorts reasons.
type Kind uint8

// The kinds of reasons.
const (
	Served            Kind = iota // there is none
	NotFinite                     // a figure of the laser or the target is no number
	TooFar                        // By metres beyond the range
	OutsideSurvey                 // no ground known at At on the way
	HiddenByGround                // over At the beam would have to be By higher than the receiver reaches
	HiddenByObstacle              // likewise over Obstacle; By is +Inf where its top is not known
	BlockedByGround               // at the given height: over At the beam must be By higher
	BlockedByObstacle             // likewise over Obstacle
	Apart                         // no one height serves all points of the dig: By metres between point Point and point Other
	NoRoom                        // Lowest lies over Highest, By metres
	BeamTooLow                    // at the given height, By metres under what the receiver needs
	BeamTooHigh                   // at the given height, By metres over what the receiver reaches
)

// Reason is why nothing, or one height not, serves. Its figures are rounded.
type Reason struct {
	Kind     Kind
	By       unit.Length
	At       geom.Point
	Obstacle string        // its id
	Point    int           // which target of the dig, from 0
	Other    int           // Apart: the other one
	Guidance beam.Guidance // of the target
}
