package dig

import (
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/pipe"
	"spadework/engine/unit"
)

// Kind is the kind of an excavation.
type Kind string

// The kinds. Footing, Pad, Pit and Box are areas; Strip, Trench and Field are
// runs along a line. A Field is Count parallel trenches, a Box the hole of a
// distribution box.
const (
	Footing Kind = "footing"
	Pad     Kind = "pad"
	Pit     Kind = "pit"
	Box     Kind = "box"
	Strip   Kind = "strip"
	Trench  Kind = "trench"
	Field   Kind = "field"
)

// Run says that the kind lies along a line.
func (k Kind) Run() bool { return k == Strip || k == Trench || k == Field }

// Area says that the kind has an outline of its own.
func (k Kind) Area() bool { return k == Footing || k == Pad || k == Pit || k == Box }

// Hand is a side of a line seen from its first point onward.
type Hand string

// The hands.
const (
	Left  Hand = "left"
	Right Hand = "right"
)

// Excavation is one dig as the drawing gives it. Fields that its kind does not
// use are zero.
type Excavation struct {
	ID    string
	Kind  Kind
	Words string // as on the drawing, first in every trace

	// Areas: the concrete or pit size, either centred rectangle or outline.
	At      geom.Point
	Size    [2]unit.Length // across the bearing, along it; at bearing 0 east, north
	Bearing unit.Angle     // clockwise from north
	Outline geom.Ring      // goes before At; either way round

	// Runs.
	Line  []geom.Point
	Width unit.Length // of the concrete or the pipe zone

	Bottom     Bottom
	Fall       unit.Grade // of a run from its first point onward, + falls, − rises; 0 level
	Steps      []Step
	Inverts    []Invert
	Chosen     phrase.Message // who chose Inverts; zero: the drawing gives them
	Structures []Structure
	Thickened  []Edge   // areas only
	Outlets    *Outlets // Box only

	Pipe     *pipe.Section // nil: none known
	Bedding  unit.Length   // these three lie under the bottom, ≥ 0
	Blinding unit.Length
	Subbase  unit.Length

	Working   unit.Length // dug beyond the concrete on each side, ≥ 0; 0 is neat
	Sides     Sides
	Rounded   bool        // corners of the cut are arcs; else sides meet in mitres
	Concrete  unit.Length // thickness, 0 not known; Bottom.Thickness goes before
	Material  string      // what is dug, by the list of materials; "" not told
	Tolerance *Tolerance  // nil: not given, which is a note

	// Field only: trenches from Line towards Hand, centre to centre.
	Count   int
	Spacing unit.Length
	Hand    Hand

	Soil            string
	Before          []string // ids to be dug before this one
	FinishOnPourDay bool
	Holds           []string // hold points
}
