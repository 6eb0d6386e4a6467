package unit

import (
	"strconv"
	"strings"
)

// Kind sorts what is wrong with a text; package phrase has a sentence and a
// remedy for each.
type Kind string

// The kinds. Kinds lists them all.
const (
	Empty         Kind = "empty"
	TooLong       Kind = "too_long"       // more characters than any figure has
	BadNumber     Kind = "number"         // Part is not a number, or stands where none can
	NotFinite     Kind = "not_finite"     // NaN or Inf
	Exponent      Kind = "exponent"       // 1e5, mostly a spreadsheet that dropped digits
	Digits        Kind = "digits"         // more than 18 digits
	BadFraction   Kind = "fraction"       // 1/0, 1 9/8
	UnknownUnit   Kind = "unknown_unit"   // Part is not a unit
	MissingUnit   Kind = "missing_unit"   // Readings tell what could be meant
	WrongUnit     Kind = "wrong_unit"     // Part is a unit of something else
	MixedUnits    Kind = "mixed_units"    // 4 in 2 ft, 1.5 ft 3 in, 1 m 3 in
	InchesOver    Kind = "inches_over"    // 12 in or more after feet
	Range         Kind = "range"          // two values, 2 in to 4 in
	Ambiguous     Kind = "ambiguous"      // Readings has two or more
	TooLarge      Kind = "too_large"      // beyond Limit
	Negative      Kind = "negative"       // where the sign has no meaning
	StationDigits Kind = "station_digits" // 8+5: two digits follow the plus in feet, three in metres
)

// Kinds is every kind a ParseError can have.
func Kinds() []Kind {
	return []Kind{Empty, TooLong, BadNumber, NotFinite, Exponent, Digits, BadFraction, UnknownUnit, MissingUnit,
		WrongUnit, MixedUnits, InchesOver, Range, Ambiguous, TooLarge, Negative, StationDigits}
}

// Quantities is every Quantity a ParseError can have.
func Quantities() []string {
	return []string{"length", "coordinate", "station", "slope", "batter", "angle", "bearing", "accuracy", "scale"}
}

// ParseError is a text that could not be read as one value. Its Error is short
// and technical; phrase.FromParse has the words for people.
type ParseError struct {
	Kind     Kind
	Quantity string   // what was wanted: length, slope …
	Text     string   // as written
	Part     string   // of Text, what is wrong; may be empty
	Limit    string   // for TooLarge the largest; for StationDigits how many digits
	Readings []string // texts that would be read, each with its value
}

// Error is "length: unknown_unit: "16 inn": "inn"".
func (e *ParseError) Error() string {
	var b strings.Builder
	b.WriteString(e.Quantity + ": " + string(e.Kind) + ": " + strconv.Quote(e.Text))
	if e.Part != "" && e.Part != e.Text {
		b.WriteString(": " + strconv.Quote(e.Part))
	}
	if e.Limit != "" {
		b.WriteString(": limit " + e.Limit)
	}
	if len(e.Readings) > 0 {
		b.WriteString(": " + strings.Join(e.Readings, " | "))
	}
	return b.String()
}
