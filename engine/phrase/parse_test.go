package phrase

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"spadework/engine/unit"
)

// TestKindsHaveTexts: every kind and quantity of unit has its words and its
// remedy in both languages, with each variant of the key.
func TestKindsHaveTexts(t *testing.T) {
	for _, kind := range unit.Kinds() {
		for _, quantity := range unit.Quantities() {
			for _, e := range []*unit.ParseError{
				{Kind: kind, Quantity: quantity, Text: "x", Limit: "9"},
				{Kind: kind, Quantity: quantity, Text: "x y", Part: "y", Limit: "9", Readings: []string{"1 m", "2 m"}},
			} {
				what, remedy := FromParse(e)
				for _, m := range []Message{what, remedy} {
					for _, lang := range []Language{English, Spanish} {
						checkWords(t, lang, m)
					}
				}
			}
		}
	}
}

// checkWords wants a text in the language itself, not its key and not the
// other language's.
func checkWords(t *testing.T, lang Language, m Message) {
	t.Helper()
	if _, ok := find(table()[lang], m); !ok {
		t.Errorf("%s has no text in %s", m.Key, lang)
	}
	if got := m.Render(lang, unit.Style{}); strings.Contains(got, "unit.") || strings.Contains(got, "  ") {
		t.Errorf("%s in %s = %q, want no key and no gap", m.Key, lang, got)
	}
}

// TestFromParse: what a user reads.
func TestFromParse(t *testing.T) {
	for _, c := range []struct {
		read         func(string) error
		text         string
		what, remedy string
		lang         Language
	}{
		{readLength, "16 inn", `"16 inn" is not a length: "inn" is not a unit`, `write 16 in, 1'-4", 410 mm or 1.33 ft`, English},
		{readLength, "16 inn", `"16 inn" no es una longitud: "inn" no es una unidad`, `escriba 16 in, 1'-4", 410 mm o 1.33 ft`, Spanish},
		{readLength, "1,234", `"1,234" can be read as 1.234 ft (0.3761 m) or 1234 ft (376.1232 m)`, "write out the one that is meant", English},
		{readLength, "7-8", `"7-8" se puede leer como 7'-8" (2.3368 m) o 7 ft … 8 ft`, "escriba completo el que quiere decir", Spanish},
		{readLength, `2'-14"`, `“2'-14"” is not a length: "14" is more than the next larger unit holds`,
			`carry the full units over, for example 3'-2" for 2'-14"`, English},
		{readLength, "", "nothing is written where a length belongs", `write 16 in, 1'-4", 410 mm or 1.33 ft`, English},
		{readLength, "12-", `"12-" is not a length: a number is missing`, `write 16 in, 1'-4", 410 mm or 1.33 ft`, English},
		{readSlope, "1.5:1", `"1.5:1" is beyond the limit of 100 % for a slope`,
			"check the figure; for the side of a dig write a batter, horizontal to vertical", English},
		{readSlope, "2", `"2" does not say its unit; it may be meant as 2 %`, "write the unit: 2 %, 1/4 in/ft, 1:80 or 8 mm/m", English},
		{readStation, "8+5", `"8+5" is not a station: "5" must have 2 digits before its decimals`,
			"write 8+50 in feet, 0+125 in metres or a plain length", English},
	} {
		f := ParseFault(fmt.Errorf("row 3: %w", c.read(c.text)))
		if f == nil {
			t.Errorf("ParseFault(%q) = nil", c.text)
			continue
		}
		checkText(t, "What", f.What.Render(c.lang, unit.Style{}), c.what)
		checkText(t, "Remedy", f.Remedy.Render(c.lang, unit.Style{}), c.remedy)
	}
	if f := ParseFault(errors.New("other")); f != nil {
		t.Errorf("ParseFault(other) = %v, want nil", f)
	}
}

func readLength(s string) error {
	_, err := unit.ParseLength(s, unit.Feet)
	return err
}

func readSlope(s string) error {
	_, err := unit.ParseSlope(s)
	return err
}

func readStation(s string) error {
	_, err := unit.ParseStation(s, unit.Feet)
	return err
}
