package unit

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

// TestLengthReads has the texts people write; the metres are exact by the
// international foot, 0.3048 m (1959 agreement), so the comparison is exact:
// the nearest float64 is what the Go compiler makes of the decimal.
func TestLengthReads(t *testing.T) {
	for _, c := range []struct {
		text string
		bare Scale
		want Length
	}{
		{"16 in", Metres, 0.4064}, {"16in.", Feet, 0.4064}, {"16 pulgadas", Feet, 0.4064},
		{`2'-4 1/2"`, Metres, 0.7239}, {`2' 4 1/2"`, Feet, 0.7239}, {`2'4½"`, Feet, 0.7239}, {`2'-4-1/2"`, Feet, 0.7239},
		{"2-4-1/2", Feet, 0.7239}, {`2-4-1/2"`, Metres, 0.7239}, {"2′-4½″", Feet, 0.7239}, {"2’-4½”", Feet, 0.7239},
		{`2'-4`, Feet, 0.7112}, {"2''", Feet, 0.0508}, {"−2'-4\"", Feet, -0.7112}, {"- 2'-4\"", Feet, -0.7112},
		{"100-0", Feet, 30.48}, {`6-4"`, Metres, 1.9304}, {"-2-4-1/2", Feet, -0.7239},
		{"1.33'", Metres, 0.405384}, {`4"`, Metres, 0.1016}, {"12 ft 3 in", Metres, 3.7338}, {"3 pies 4 pulg", Feet, 1.016},
		{"410 mm", Feet, 0.41}, {"41 cm", Feet, 0.41}, {"0,41 m", Feet, 0.41}, {"0.41m", Feet, 0.41}, {"4.1 dm", Feet, 0.41},
		{"2 m 30 cm", Feet, 2.3}, {"1 yd 2 ft 3 in", Feet, 1.6002}, {"1 yd", Feet, 0.9144}, {"1 mi", Feet, 1609.344},
		{"1 1/2 in", Feet, 0.0381}, {"1-1/2 in", Feet, 0.0381}, {"1½ in", Feet, 0.0381}, {"1 ½ in", Feet, 0.0381},
		{`3/8"`, Feet, 0.009525}, {"⅜″", Feet, 0.009525}, {"3⁄8 in", Feet, 0.009525}, {`9/8"`, Feet, 0.028575},
		{"104.5", Metres, 104.5}, {"104.5", Feet, 31.8516}, {"16", Feet, 4.8768}, {"+16", Metres, 16}, {".5", Metres, 0.5},
		{"1 234.5", Metres, 1234.5}, {"1\u00a0234.5", Metres, 1234.5}, {"1 234 567,5 mm", Metres, 1234.5675},
		{"1,234.5", Metres, 1234.5}, {"1.234,5", Metres, 1234.5}, {"1,234,567", Metres, 1234567}, {"0,410", Metres, 0.41},
		{"1234,567", Metres, 1234.567}, {"12,34", Metres, 12.34},
		{"1 us_survey_ft", Metres, 1200.0 / 3937}, {"3937", SurveyFeet, 1200}, {"0", Feet, 0}, {"-0", Feet, 0},
		// Only one reading lies within the limit or has fewer than 12 inches.
		{"12,500 km", Metres, 12500}, {`2'-41/2"`, Feet, 0.7239},
	} {
		got, err := ParseLength(c.text, c.bare)
		if err != nil || got != c.want {
			t.Errorf("ParseLength(%q, %v) = %v, %v, want %v", c.text, c.bare, float64(got), err, float64(c.want))
		}
	}
}

// TestLengthComma: a document that is known to use the decimal comma.
func TestLengthComma(t *testing.T) {
	r := Reader{Bare: Metres, Comma: true}
	for text, want := range map[string]Length{"104,500": 104.5, "1,234": 1.234, "104.5": 104.5, "1.234,5": 1234.5,
		"1,234.5": 1234.5, "1.234.567": 1234567} {
		if got, err := r.Length(text); err != nil || got != want {
			t.Errorf("Length(%q) with comma = %v, %v, want %v", text, float64(got), err, float64(want))
		}
	}
	checkError(t, "1.234", "length", Ambiguous, []string{"1,234 m", "1234 m"}, func(s string) error {
		_, err := r.Length(s)
		return err
	})
}

// checkError wants one kind and, where they are not nil, just these readings.
func checkError(t *testing.T, text, quantity string, kind Kind, readings []string, parse func(string) error) {
	t.Helper()
	var e *ParseError
	if err := parse(text); !errors.As(err, &e) {
		t.Errorf("parse(%q) as %s = %v, want a *ParseError %s", text, quantity, err, kind)
		return
	}
	if e.Kind != kind || e.Quantity != quantity || readings != nil && !slices.Equal(e.Readings, readings) {
		t.Errorf("parse(%q) = %v, want %s: %s with readings %q", text, e, quantity, kind, readings)
	}
	if e.Text == "" && text != "" || strings.Contains(e.Error(), "\n") {
		t.Errorf("parse(%q) = %q, want the text quoted on one line", text, e.Error())
	}
}

// TestLengthAmbiguous lists every reading with its value.
func TestLengthAmbiguous(t *testing.T) {
	for _, c := range []struct {
		text     string
		bare     Scale
		kind     Kind
		readings []string
	}{
		{"1,234", Metres, Ambiguous, []string{"1.234 m", "1234 m"}},
		{"1,234", Feet, Ambiguous, []string{"1.234 ft (0.3761 m)", "1234 ft (376.1232 m)"}},
		{"104,500 mm", Feet, Ambiguous, []string{"104.500 mm (0.1045 m)", "104500 mm (104.5 m)"}},
		{"2-4", Feet, Ambiguous, []string{`2'-4" (0.7112 m)`, "2 ft … 4 ft"}},
		{"2-4", Metres, Ambiguous, []string{`2'-4" (0.7112 m)`, "2 m … 4 m"}},
		{`2-4"`, Feet, Ambiguous, []string{`2'-4" (0.7112 m)`, "2 in … 4 in"}},
		{"2-4 1/2", Feet, Ambiguous, []string{`2'-4 1/2" (0.7239 m)`, "2 ft … 4 1/2 ft"}},
		{"1-1/2", Feet, Ambiguous, []string{"1 1/2 in (0.0381 m)", "1 1/2 ft (0.4572 m)", `1'-0 1/2" (0.3175 m)`}},
		{"5 1/2", Feet, Ambiguous, []string{"5 1/2 in (0.1397 m)", "5 1/2 ft (1.6764 m)"}},
		{"5 1/2", Metres, Ambiguous, []string{"5 1/2 in (0.1397 m)", "5 1/2 m (5.5 m)"}},
		{"½", Feet, Ambiguous, []string{"1/2 in (0.0127 m)", "1/2 ft (0.1524 m)"}},
		{`11/2"`, Feet, Ambiguous, []string{`11/2" (0.1397 m)`, `1 1/2" (0.0381 m)`}},
		{`115/16"`, Feet, Ambiguous, []string{`115/16" (0.1826 m)`, `1 15/16" (0.0492 m)`, `11 5/16" (0.2873 m)`}},
		{"2-4-1/2", Metres, MissingUnit, []string{`2'-4 1/2" (0.7239 m)`}},
		{"100-0", SurveyFeet, MissingUnit, []string{`100'-0" (30.48 m)`}},
		{"10-20", Feet, Range, []string{"10 ft … 20 ft"}},
	} {
		checkError(t, c.text, "length", c.kind, c.readings, lengthIn(c.bare))
	}
}

func lengthIn(bare Scale) func(string) error {
	return func(s string) error {
		_, err := ParseLength(s, bare)
		return err
	}
}

// TestLengthRefuses has one text for each rule.
func TestLengthRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		part string
	}{
		{"", Empty, ""}, {" \t ", Empty, ""}, {strings.Repeat("1 ", 60), TooLong, ""}, {strings.Repeat("-", 30), TooLong, ""}, {strings.Repeat("0", 127), TooLong, ""},
		{"16 Inn", UnknownUnit, "Inn"}, {"0x1p3", UnknownUnit, "x"}, {"1_000", UnknownUnit, "_"}, {"16 µ", UnknownUnit, "µ"},
		{"NaN", NotFinite, "NaN"}, {"-Inf", NotFinite, "Inf"}, {"infinity ft", NotFinite, "infinity"},
		{"1e999", Exponent, ""}, {"1E+05", Exponent, ""}, {"2.5e-3 m", Exponent, ""},
		{"12-", BadNumber, ""}, {"2 4", BadNumber, "4"}, {"--3", BadNumber, "-"}, {"5.", BadNumber, "5."}, {"ft", BadNumber, "ft"},
		{"1.2.3", BadNumber, "1.2.3"}, {"1,23,456", BadNumber, "1,23,456"}, {"12\x00", BadNumber, "\x00"}, {"2-4-6", BadNumber, "6"},
		{"1234567890123456789.5", Digits, ""}, {"1/0 in", BadFraction, "1/0"}, {"1 11/8 in", BadFraction, "1 11/8"},
		{"1.5 1/2 in", BadFraction, "1"}, {"100 %", WrongUnit, "%"}, {"12°", WrongUnit, "°"},
		{`1.5' 3"`, MixedUnits, "3"}, {"1 m 3 in", MixedUnits, "3"}, {"4 in 2 ft", MixedUnits, "2"},
		{`2'-14"`, InchesOver, "14"}, {`2'-12"`, InchesOver, "12"}, {"1 m 100 cm", InchesOver, "100"},
		{`2'-4'`, Range, ""}, {"4 in - 6 in", Range, ""},
		{"10000000.1", TooLarge, ""}, {"20000 km", TooLarge, ""}, {"16 in 4", MissingUnit, ""},
	} {
		_, err := ParseLength(c.text, Metres)
		var e *ParseError
		if !errors.As(err, &e) || e.Kind != c.kind || c.part != "" && strings.TrimSpace(e.Part) != c.part {
			t.Errorf("ParseLength(%q) = %v, want %s about %q", c.text, err, c.kind, c.part)
		}
	}
}

// TestScale reads what it prints.
func TestScale(t *testing.T) {
	for _, s := range []Scale{Metres, Feet, SurveyFeet} {
		if got, err := ParseScale(s.String()); err != nil || got != s {
			t.Errorf("ParseScale(%q) = %v, %v, want %v", s, got, err, s)
		}
	}
	checkError(t, "feet", "scale", UnknownUnit, nil, func(s string) error {
		_, err := ParseScale(s)
		return err
	})
}
