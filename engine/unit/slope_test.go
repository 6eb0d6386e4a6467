package unit

import (
	"testing"

	"pgregory.net/rapid"
)

func slopeError(s string) error {
	_, err := ParseSlope(s)
	return err
}

// TestSlopeReads: exact ratios.
func TestSlopeReads(t *testing.T) {
	for _, c := range []struct {
		text      string
		rise, run int64
	}{
		{"1/4 in/ft", 1, 48}, {`1/4" per foot`, 1, 48}, {`1/4"/ft`, 1, 48}, {`1/4"/1'`, 1, 48}, {"¼″/ft", 1, 48}, {"1/4 pulg por pie", 1, 48},
		{"1-1/2 in/ft", 1, 8}, {"1 1/2 in/ft", 1, 8}, {"2 %", 1, 50}, {"2.18%", 109, 5000}, {"2,18 %", 109, 5000}, {"-2 %", -1, 50},
		{"−2 %", -1, 50}, {"1/2 %", 1, 200}, {"2 percent", 1, 50}, {"8 ‰", 1, 125}, {"1:80", 1, 80}, {"1 : 80", 1, 80}, {"-1:80", -1, 80},
		{"1 in 80", 1, 80}, {"1 en 80", 1, 80}, {"8 mm/m", 1, 125}, {"2 in/100 ft", 1, 600}, {"2 in per 100 ft", 1, 600},
		{"1/4 in in 10 ft", 1, 480}, {"0.30 m in 24 m", 1, 80}, {"0.3/24", 1, 80}, {"1/48", 1, 48}, {"1/3", 1, 3}, {"0.02", 1, 50},
		{"0.04", 1, 25}, {"0", 0, 1}, {"1:1", 1, 1}, {"100 %", 1, 1}, {"1,250 %", 1, 80}, {"12 1/2 %", 1, 8},
	} {
		s, err := ParseSlope(c.text)
		if err != nil || s.Rise != c.rise || s.Run != c.run || s.Words != c.text {
			t.Errorf("ParseSlope(%q) = %d/%d %q, %v, want %d/%d", c.text, s.Rise, s.Run, s.Words, err, c.rise, c.run)
		}
		if want := Grade(float64(c.rise) / float64(c.run)); err == nil && s.Grade() != want {
			t.Errorf("ParseSlope(%q).Grade() = %v, want %v", c.text, s.Grade(), want)
		}
	}
}

// TestSlopeRefuses: what is ambiguous, steeper than 1:1 or no slope.
func TestSlopeRefuses(t *testing.T) {
	for _, c := range []struct {
		text     string
		kind     Kind
		readings []string
	}{
		{"1/4", Ambiguous, []string{"1/4 in/ft (2.0833 %)", "1:4 (25 %)"}},
		{"0.5", Ambiguous, []string{"0.5 %", "0.5:1 (50 %)"}},
		{"1 1/2", Ambiguous, []string{"1 1/2 in/ft (12.5 %)", "1 1/2 %"}},
		{"2 in 100 ft", Ambiguous, []string{"2 in per 100 ft (0.1667 %)", "2 ft per 100 ft (2 %)"}},
		{"11/4 in/ft", Ambiguous, []string{"11/4 in/ft (22.9167 %)", "1 1/4 in/ft (10.4167 %)"}},
		{"10/1", MissingUnit, []string{"10/1 in/ft (83.3333 %)"}}, {"3/2", MissingUnit, []string{"3/2 in/ft (12.5 %)"}}, // may be a side's 3:2
		{"2", MissingUnit, []string{"2 %"}}, {"2 ft", MissingUnit, nil}, {"2 in/", MissingUnit, nil}, {"2 in per 100", MissingUnit, nil},
		{"1.5:1", TooLarge, nil}, {"150 %", TooLarge, nil}, {"1:0", BadFraction, nil}, {"1 in/0 ft", BadFraction, nil},
		{"2 °", WrongUnit, nil}, {"2 % %", WrongUnit, nil}, {"", Empty, nil}, {"flat", BadNumber, nil}, {"2 furlong/mile", UnknownUnit, nil},
		{"NaN %", NotFinite, nil}, {"1e-2", Exponent, nil},
		{"0.123456789012345678 %", Digits, nil},
	} {
		checkError(t, c.text, "slope", c.kind, c.readings, slopeError)
	}
}

// TestRatio: a bare number is rise over run, as in a document that says so.
func TestRatio(t *testing.T) {
	for text, want := range map[string]Grade{"0.5": 0.5, "-0.0218": -0.0218, "2 %": 0.02, "1": 1} {
		if s, err := ParseRatio(text); err != nil || s.Grade() != want {
			t.Errorf("ParseRatio(%q) = %v, %v, want %v", text, s, err, want)
		}
	}
	checkError(t, "2", "slope", TooLarge, nil, func(s string) error {
		_, err := ParseRatio(s)
		return err
	})
}

// TestSlopeReversed twice is the slope.
func TestSlopeReversed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom([]string{"2 %", "-2 %", "1/4 in/ft", "-1:80"}).Draw(t, "text")
		s, err := ParseSlope(text)
		if err != nil {
			t.Fatal(err)
		}
		back := s.Reversed()
		again, err := ParseSlope(back.Words)
		if err != nil || again != back || back.Reversed() != s || back.Grade() != -s.Grade() {
			t.Errorf("ParseSlope(%q).Reversed() = %+v, reads %+v, %v", text, back, again, err)
		}
	})
	checkText(t, "Slope{1, 48}.String()", Slope{Rise: 1, Run: 48}.String(), "1/48")
	checkText(t, "Slope{}.String()", Slope{}.String(), "—")
}

// TestBatter: horizontal first, as in 29 CFR 1926 subpart P appendix B, whose
// table B-1 has vertical, 3/4:1, 1:1 and 1 1/2:1 (as quoted by others).
func TestBatter(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"vertical", 0}, {"Vertical", 0}, {"0:1", 0}, {"3/4:1", 0.75}, {"1:1", 1}, {"2:2", 1}, {"1.5:1", 1.5}, {"1½:1", 1.5}, {"1 1/2:1", 1.5},
		{"1-1/2:1", 1.5}, {"1.5 to 1", 1.5}, {"1H:2V", 0.5}, {"2V:1H", 0.5}, {"1.5 h : 1 v", 1.5}, {"20:1", 20},
	} {
		if b, err := ParseBatter(c.text); err != nil || b.Ratio() != c.want || b.Words != c.text {
			t.Errorf("ParseBatter(%q) = %+v (%v), %v, want %v", c.text, b, b.Ratio(), err, c.want)
		}
	}
	for _, c := range []struct {
		text     string
		kind     Kind
		readings []string
	}{
		{"1:2", Ambiguous, []string{"1H:2V", "1V:2H"}}, {"3:2", Ambiguous, []string{"3H:2V", "3V:2H"}},
		{"1:1½", Ambiguous, []string{"1H:1 1/2V", "1V:1 1/2H"}}, {"1:0", BadFraction, nil}, {"30:1", TooLarge, nil}, {"1.5", MissingUnit, nil},
		{"1H:1", MissingUnit, nil}, {"-1:1", BadNumber, nil}, {"1:1:1", BadNumber, nil}, {"steep", BadNumber, nil}, {"", Empty, nil},
	} {
		checkError(t, c.text, "batter", c.kind, c.readings, func(s string) error {
			_, err := ParseBatter(s)
			return err
		})
	}
}
