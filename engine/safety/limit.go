package safety

import "spadework/engine/unit"

// Unit is what a limit is counted in.
type Unit string

// The units. Ratio is horizontal over vertical of a side, Grade rise over run;
// TSF is tons (2000 lbf) per square foot, of unconfined strength.
const (
	NoUnit    Unit = ""
	Feet      Unit = "ft"
	Inches    Unit = "in"
	Metres    Unit = "m"
	Ratio     Unit = "h:v"
	Grade     Unit = "v:h"
	Degrees   Unit = "deg"
	Hours     Unit = "h"
	Percent   Unit = "%"
	TSF       Unit = "tsf"
	InchPerKV Unit = "in/kV"
)

// Limit is a rule's figure in the unit of its source. The zero Limit is of a
// duty without a figure.
type Limit struct {
	Number float64
	Unit   Unit
}

// Length is the limit in metres, 0 if it is not a length.
func (l Limit) Length() unit.Length {
	switch l.Unit {
	case Feet:
		return unit.Length(l.Number) * unit.Foot
	case Inches:
		return unit.Length(l.Number) * unit.Inch
	case Metres:
		return unit.Length(l.Number)
	}
	return 0
}
