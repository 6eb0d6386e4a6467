package unit

import "strconv"

// System is the family of units a Style prints.
type System uint8

// The systems: feet and inches, or metres and millimetres.
const (
	Metric System = iota
	Imperial
)

// Face is how a grade rod is divided.
type Face uint8

// The faces: hundredths of a foot, feet-inches-fractions, or metres.
const (
	FaceMetric Face = iota
	FaceTenths
	FaceInches
)

// Style says how quantities print. Every method rounds once, from the exact
// value to the printed step, halves away from zero.
type Style struct {
	System   System
	Face     Face // of the rod in hand
	Fraction int  // smallest part of an inch as 1/Fraction: 1, 2, 4, 8, 16, 32; 0 prints decimal feet
	Comma    bool // decimal comma
}

// Length prints a length with its unit.
func (s Style) Length(l Length) string {
	return strconv.FormatFloat(float64(l), 'f', 3, 64) + " m"
}

// Elevation prints a height above the job's zero, decimal in either system.
func (s Style) Elevation(e Elevation) string { return s.Length(Length(e)) }

// Reading prints a rod reading in the face of the rod.
func (s Style) Reading(r Reading) string { return s.Length(Length(r)) }

// Station prints a station as full hundreds (feet) or kilometres (metres), a
// plus sign and the rest: 8+50, 0+125.
func (s Style) Station(st Station) string { return s.Length(Length(st)) }

// Grade prints a grade in percent.
func (s Style) Grade(g Grade) string { return strconv.FormatFloat(float64(g)*100, 'f', 3, 64) + " %" }

// Angle prints an angle in degrees.
func (s Style) Angle(a Angle) string {
	return strconv.FormatFloat(float64(a/Degree), 'f', 2, 64) + "°"
}

// Area prints an area with its unit.
func (s Style) Area(a Area) string { return strconv.FormatFloat(float64(a), 'f', 1, 64) + " m²" }

// Volume prints a volume with its unit.
func (s Style) Volume(v Volume) string { return strconv.FormatFloat(float64(v), 'f', 1, 64) + " m³" }

// Chance prints a probability in percent.
func (s Style) Chance(c Chance) string { return strconv.FormatFloat(float64(c)*100, 'f', 1, 64) + " %" }

// Number prints a figure without a unit, in the fewest digits that give it
// back.
func (s Style) Number(f float64) string { return strconv.FormatFloat(f, 'g', -1, 64) }
