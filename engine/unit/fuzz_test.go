package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// seeds are texts of every kind that any of the parsers reads or refuses.
var seeds = []string{"16 in", `2'-4 1/2"`, "2-4-1/2", "1.33'", "410 mm", "0,41 m", "1 234.5", "1,234", "5 1/2", "100-0", "½", "1½ in", "11/2\"",
	"−2'-4\"", "1e999", "NaN", "0x1p3", "", " ", "1/0", "12,500 km", "1/4 in/ft", "2 %", "1:80", "1 in 80", "8 mm/m", "2 in/100 ft", "2 in 100 ft",
	"1/4 in in 10 ft", "1/48", "0.5", "3/4:1", "vertical", "1H:2V", "8+50.25", "0+125,5", "12°30'15\"", "N 45°30' E", "±20″", "1.5 mm @ 30 m",
	"8 ‰", "2457102.345", "99999999999999999999", "0.00000000000000000000000001", "1\x00", "\xff\xfe", "- - 1", "1-1-1-1/2", "''\"", "115/16/16"}

// fuzzFinds are texts that a fuzzer broke a parser with, each named after what
// was wrong.
var fuzzFinds = []struct {
	name, text string
	kind       Kind // of reading it as a length in metres
}{
	{"a space at the end makes a full text too long", strings.Repeat("0", maxText), ""},
	{"too long only with spaces around it", strings.Repeat("0", 127), TooLong},
	{"readings without bound, decimal commas", strings.Repeat("1,234 ", 6) + "1,234", BadNumber},
	{"readings without bound, improper fractions", strings.Repeat("11111111/9 ", 3) + "11111111/9", BadNumber},
	{"two primes and a quote", "''\"", BadNumber},
	{"a fraction of a fraction", "115/16/16", BadNumber},
	{"a fraction over one as a slope", "10/1", Ambiguous},
}

// TestFuzzFinds: each is read, or refused by its kind, with spaces around it too.
func TestFuzzFinds(t *testing.T) {
	for _, c := range fuzzFinds {
		for _, text := range []string{c.text, " " + c.text, c.text + "\t"} {
			l, err := ParseLength(text, Metres)
			var e *ParseError
			switch {
			case c.kind == "" && (err != nil || l != 0):
				t.Errorf("%s: ParseLength(%q) = %v m, %v, want 0", c.name, text, float64(l), err)
			case c.kind != "" && (!errors.As(err, &e) || e.Kind != c.kind || len(e.Readings) > maxReadings):
				t.Errorf("%s: ParseLength(%q) = %v, want %s", c.name, text, err, c.kind)
			}
		}
	}
}

// checkFuzz wants either a finite value or a *ParseError that says something.
func checkFuzz(t *testing.T, text string, value float64, err error) {
	t.Helper()
	var e *ParseError
	switch {
	case err == nil && !(math.Abs(value) <= 1e7):
		t.Errorf("parse(%q) = %v, want a finite value within the limit", text, value)
	case err != nil && (!errors.As(err, &e) || e.Kind == "" || e.Quantity == ""):
		t.Errorf("parse(%q) = %#v, want a whole *ParseError", text, err)
	case err != nil && e.Kind == Ambiguous && len(e.Readings) < 2:
		t.Errorf("parse(%q) = %v, want two readings or more", text, err)
	case err != nil:
		checkSays(t, e)
	}
}

// checkSays wants what the sentence of the kind quotes.
func checkSays(t *testing.T, e *ParseError) {
	t.Helper()
	switch e.Kind {
	case UnknownUnit, WrongUnit, NotFinite, InchesOver, StationDigits:
		if e.Part == "" {
			t.Errorf("%v quotes no part", e)
		}
	}
	if (e.Kind == TooLarge || e.Kind == StationDigits) && e.Limit == "" {
		t.Errorf("%v tells no limit", e)
	}
}

// fuzzReaders are the readers that differ.
var fuzzReaders = []Reader{{}, {Bare: Feet}, {Bare: SurveyFeet}, {Bare: Metres, Comma: true}}

func seed(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	for _, c := range fuzzFinds {
		f.Add(c.text)
	}
}

func FuzzParseLength(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		for _, r := range fuzzReaders {
			l, err := r.Length(text)
			checkFuzz(t, text, float64(l), err)
			again, errAgain := r.Length(" " + text + "\t")
			if err == nil && (errAgain != nil || again != l) {
				t.Errorf("Length(%q) = %v, with spaces around %v, %v", text, float64(l), float64(again), errAgain)
			}
		}
	})
}

func FuzzParseCoordinate(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		for _, r := range fuzzReaders {
			um, err := r.Coordinate(text)
			checkFuzz(t, text, float64(um)/1e6, err)
			if l, errLength := r.Length(text); err == nil && (errLength != nil || !near(float64(um)/1e6, float64(l), 0.51e-6)) {
				t.Errorf("Coordinate(%q) = %d µm, Length %v m, %v", text, um, float64(l), errLength)
			}
		}
	})
}

func FuzzParseStation(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		for _, r := range fuzzReaders {
			st, err := r.Station(text)
			checkFuzz(t, text, float64(st), err)
		}
	})
}

func FuzzParseSlope(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		for _, r := range fuzzReaders {
			s, err := r.Slope(text)
			if err == nil && (s.Run <= 0 || s.Rise > s.Run || s.Rise < -s.Run || gcd(magnitude(s.Rise), magnitude(s.Run)) != 1) {
				t.Errorf("Slope(%q) = %d/%d, want lowest terms within 1:1", text, s.Rise, s.Run)
			}
			if err != nil {
				checkFuzz(t, text, 0, err)
			}
			b, err := r.Batter(text)
			if err == nil && (b.Rise <= 0 || b.Run < 0) {
				t.Errorf("Batter(%q) = %d/%d, want both parts not below zero", text, b.Run, b.Rise)
			}
			if err != nil {
				checkFuzz(t, text, 0, err)
			}
		}
	})
}

func FuzzParseAngle(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		for _, r := range fuzzReaders {
			a, err := r.Angle(text)
			checkFuzz(t, text, float64(a), err)
			b, err := r.Bearing(text)
			checkFuzz(t, text, float64(b), err)
			if err == nil && !(b >= 0 && b < 360*Degree) {
				t.Errorf("Bearing(%q) = %v, want 0 to a turn", text, float64(b))
			}
			g, err := r.Accuracy(text)
			checkFuzz(t, text, float64(g), err)
		}
	})
}
