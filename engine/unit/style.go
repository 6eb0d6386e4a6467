package unit

import (
	"math"
	"strconv"
	"strings"
)

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

// Style says how quantities print. Every method rounds once, from the value to
// the printed step, halves away from zero; a value within a millionth of a step
// of a half counts as the half, since a float64 cannot hold most halves. NaN
// and infinities print as a dash. What a Style prints, a Reader with the same
// Comma reads back.
type Style struct {
	System      System
	Face        Face // of the rod in hand
	Fraction    int  // smallest part of an inch as 1/Fraction: 1, 2, 4, 8, 16, 32; 0 prints decimal feet
	Places      int  // decimals of lengths and elevations, 1 to 6; 0 is 2 in feet, 3 in metres
	Millimetres bool // metric lengths in whole millimetres
	Comma       bool // decimal comma
}

// places is the number of decimals of lengths.
func (s Style) places() int {
	switch {
	case s.Places > 0:
		return min(s.Places, 6)
	case s.System == Imperial:
		return 2
	}
	return 3
}

// Length prints a length with its unit: 2'-4 1/2" or 2.38 ft, 0.410 m or
// 410 mm.
func (s Style) Length(l Length) string {
	switch {
	case s.System == Imperial && s.Fraction > 0:
		return s.feetInches(l)
	case s.System == Metric && s.Millimetres:
		return s.suffix(s.Fixed(float64(l)*1000, 0), " mm")
	}
	return s.Elevation(Elevation(l))
}

// feetInches prints feet, inches and the fraction.
func (s Style) feetInches(l Length) string {
	f, ok := s.Split(l)
	if !ok {
		return unknown
	}
	return f.String()
}

// Elevation prints a height above the job's zero, decimal in either system:
// 104.50 ft, 31.852 m.
func (s Style) Elevation(e Elevation) string {
	if s.System == Imperial {
		return s.suffix(s.ElevationFigure(e), " ft")
	}
	return s.suffix(s.ElevationFigure(e), " m")
}

// ElevationFigure is Elevation without the unit, for a table whose head names
// it.
func (s Style) ElevationFigure(e Elevation) string {
	if s.System == Imperial {
		return s.Fixed(float64(e)/float64(Foot), s.places())
	}
	return s.Fixed(float64(e), s.places())
}

// Reading prints a rod reading as the face of the rod shows it, without a unit:
// 4.87, 4'-10 3/8", 1.486. An inch face is read to eighths unless Fraction says
// otherwise.
func (s Style) Reading(r Reading) string {
	switch s.Face {
	case FaceTenths:
		return s.Fixed(float64(r)/float64(Foot), 2)
	case FaceInches:
		if s.Fraction <= 0 {
			s.Fraction = 8
		}
		return s.feetInches(Length(r))
	}
	return s.Fixed(float64(r), 3)
}

// Station prints full hundreds of feet or kilometres, a plus sign and the rest:
// 8+50, 0+125. Parts of a foot or metre print to the places of lengths, unless
// there are none.
func (s Style) Station(st Station) string {
	x, digits := float64(st), 3
	if s.System == Imperial {
		x, digits = x/float64(Foot), 2
	}
	places := s.places()
	n, ok := steps(x * float64(powersOfTen[places]))
	if !ok {
		return unknown
	}
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	if one := int64(powersOfTen[places]); n%one == 0 {
		n, places = n/one, 0
	}
	full := int64(powersOfTen[digits+places])
	rest := s.fixed(full+n%full, places)
	return sign + strconv.FormatInt(n/full, 10) + "+" + rest[1:]
}

// Grade prints a grade in percent with up to three decimals, none of them a
// zero at the end: 2.083 %, 2 %.
func (s Style) Grade(g Grade) string { return s.suffix(s.short(float64(g)*100, 3), " %") }

// Percent prints a grade in percent with a fixed number of decimals, up to 6,
// and no sign after it, as a laser's dial shows it: 2.180.
func (s Style) Percent(g Grade, places int) string {
	return s.Fixed(float64(g)*100, places)
}

// Keyed prints a grade as a dial shows it.
func (s Style) Keyed(k Keyed) string { return s.Percent(Grade(k), 3) }

// suffix adds a unit to a figure that is known.
func (s Style) suffix(figure, unit string) string {
	if figure == unknown {
		return figure
	}
	return figure + unit
}

// Area prints an area with its unit, one decimal: 12.5 ft², 1.2 m².
func (s Style) Area(a Area) string {
	if s.System == Imperial {
		return s.suffix(s.Fixed(float64(a)/float64(Foot)/float64(Foot), 1), " ft²")
	}
	return s.suffix(s.Fixed(float64(a), 1), " m²")
}

// Volume prints a volume with its unit, one decimal: 12.5 yd³, 9.6 m³.
func (s Style) Volume(v Volume) string {
	if s.System == Imperial {
		return s.suffix(s.Fixed(float64(v/CubicYard), 1), " yd³")
	}
	return s.suffix(s.Fixed(float64(v), 1), " m³")
}

// Chance prints a probability in percent, one decimal. What would round to
// certainty without being certain prints as < 0.1 % or > 99.9 %.
func (s Style) Chance(c Chance) string {
	switch p := float64(c) * 100; {
	case p > 0 && p < 0.1:
		return "< 0" + s.mark() + "1 %"
	case p > 99.9 && p < 100:
		return "> 99" + s.mark() + "9 %"
	default:
		return s.suffix(s.short(p, 1), " %")
	}
}

// Number prints a figure without a unit, in the fewest digits that give it
// back.
func (s Style) Number(f float64) string {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return unknown
	}
	form := byte('f')
	if m := math.Abs(f); m >= 1e15 || m < 1e-6 && m > 0 {
		form = 'g'
	}
	out := strconv.FormatFloat(f+0, form, -1, 64) // +0: no minus before zero
	if s.Comma {
		return strings.Replace(out, ".", ",", 1)
	}
	return out
}
