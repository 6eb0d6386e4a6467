package safety

import (
	"math"
	"strconv"

	"spadework/engine/unit"
)

// Unit is what a limit is counted in.
type Unit string

// The units. Ratio is horizontal over vertical of a side, Grade rise over run;
// TSF is tons (2000 lbf) per square foot of unconfined strength.
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
	Words  string // as a job wrote it, "" for the rules' own
}

// metres is the size of a unit of length, 0 for other units.
func (u Unit) metres() unit.Length {
	switch u {
	case Feet:
		return unit.Foot
	case Inches:
		return unit.Inch
	case Metres:
		return unit.Metre
	}
	return 0
}

// Length is the limit in metres, 0 if it is not a length.
func (l Limit) Length() unit.Length {
	return unit.Length(l.Number * float64(l.Unit.metres()))
}

// RunPerDrop is the horizontal run over a drop of a line that falls at the
// limit's angle: 1 at 45°, exactly; NaN if it is not an angle.
func (l Limit) RunPerDrop() float64 {
	switch {
	case l.Unit != Degrees:
		return math.NaN()
	case l.Number == 45: // the tangent of a rounded π/4 is not 1
		return 1
	}
	sin, cos := math.Sincos(l.Number * float64(unit.Degree))
	return cos / sin
}

// Quantity is the limit as findings carry it: a unit.Length, unit.Grade or
// unit.Angle, a bare figure for the units that have no type, nil for a duty.
func (l Limit) Quantity() any {
	switch l.Unit {
	case NoUnit:
		return nil
	case Feet, Inches, Metres:
		return l.Length()
	case Grade:
		return unit.Grade(l.Number)
	case Degrees:
		return unit.Angle(l.Number) * unit.Degree
	}
	return l.Number
}

// String is the limit in the unit of its source, as a job wrote it where a job
// did: "5 ft", "1.5:1", "" for a duty.
func (l Limit) String() string {
	figure := strconv.FormatFloat(l.Number, 'f', -1, 64)
	switch {
	case l.Words != "":
		return l.Words
	case l.Unit == NoUnit:
		return ""
	case l.Unit == Ratio:
		return figure + ":1"
	case l.Unit == Grade:
		return "1:" + strconv.FormatFloat(1/l.Number, 'f', -1, 64)
	}
	return figure + " " + string(l.Unit)
}
