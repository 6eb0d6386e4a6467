package dig

import "spadework/engine/unit"

// Rule is how the drawing gives a bottom.
type Rule string

// The rules, with the fields of Bottom that each reads.
const (
	ByElevation Rule = "elevation"    // Elevation
	BelowDatum  Rule = "below"        // Depth, Datum
	BelowGround Rule = "below_ground" // Depth, From
	BelowTop    Rule = "top"          // Elevation, or Datum and Offset; Thickness
	ByCover     Rule = "cover"        // Cover, From
	ByInvert    Rule = "invert"       // Excavation.Inverts, or Outlets of a Box
)

// Reference says which ground a depth or cover is measured from.
type Reference string

// The grounds.
const (
	Existing Reference = "existing"
	Finished Reference = "finished"
)

// Datum is a named level of the drawing.
type Datum struct {
	ID        string
	Elevation unit.Elevation
}

// Bottom is how the drawing gives the bottom of concrete, of bedding stone or
// of the pipe. Bedding, blinding and sub-base of the excavation lie under it.
type Bottom struct {
	Rule      Rule
	Elevation unit.Elevation // of the bottom, or of the top
	Datum     Datum
	Offset    unit.Length // of the top over Datum, + up
	Depth     unit.Length // > 0 down
	Thickness unit.Length // > 0
	From      Reference
	Cover     unit.Length // least over the top of the pipe, > 0; with ByInvert checked if > 0
}
