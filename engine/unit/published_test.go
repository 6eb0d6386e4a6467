package unit

import (
	"math/big"
	"testing"
)

// TestFeet: 1 ft = 0.3048 m and 1 US survey ft = 1200/3937 m (85 FR 62698);
// 304 800 m = 1 000 000 ft = 999 998 survey ft (National Geodetic Survey, FAQ
// on the survey foot, as quoted by others).
func TestFeet(t *testing.T) {
	for _, text := range []string{"304800 m", "1 000 000 ft", "999 998 us_survey_ft"} {
		if got, err := ParseLength(text, Metres); err != nil || got != 304800 {
			t.Errorf("ParseLength(%q) = %v m, %v, want 304800 m", text, float64(got), err)
		}
	}
	if got, want := surveyFeet.size.rat(), big.NewRat(1200, 3937); got.Cmp(want) != 0 {
		t.Errorf("survey foot = %v m, want %v m", got, want)
	}
	if got, want := feet.size.rat(), big.NewRat(3048, 10000); got.Cmp(want) != 0 {
		t.Errorf("foot = %v m, want %v m", got, want)
	}
}

// crewsTable is the printed table of inches to hundredths of a foot that crews
// carry (common practice).
var crewsTable = []struct{ inches, hundredths string }{
	{"1/8", "0.01"}, {"1/4", "0.02"}, {"3/8", "0.03"}, {"1/2", "0.04"}, {"5/8", "0.05"}, {"3/4", "0.06"}, {"7/8", "0.07"},
	{"1", "0.08"}, {"1-1/8", "0.09"}, {"1-1/4", "0.10"}, {"1-3/8", "0.11"}, {"1-1/2", "0.12"}, {"2", "0.17"}, {"3", "0.25"},
	{"4", "0.33"}, {"4-1/2", "0.37"}, {"5", "0.42"}, {"6", "0.50"}, {"7", "0.58"}, {"7-1/2", "0.62"}, {"8", "0.67"}, {"9", "0.75"},
	{"10", "0.83"}, {"10-1/2", "0.87"}, {"11", "0.92"},
}

// TestCrewsTable: our rounding agrees with the table except in the four exact
// ties, an eighth of a foot and its odd multiples, which the table rounds down
// and we round up.
func TestCrewsTable(t *testing.T) {
	up := map[string]string{"1-1/2": "0.13", "4-1/2": "0.38", "7-1/2": "0.63", "10-1/2": "0.88"}
	tenths := Style{Face: FaceTenths}
	for _, row := range crewsTable {
		l, err := ParseLength(row.inches+" in", Feet)
		if err != nil {
			t.Fatal(err)
		}
		want := row.hundredths
		if ours, ok := up[row.inches]; ok {
			want = ours
		}
		if got := tenths.Reading(Reading(l)); got != want {
			t.Errorf("Reading(%s in) = %s ft, want %s ft (table %s)", row.inches, got, want, row.hundredths)
		}
	}
}

// TestHundredthOfAFoot is 0.12 in, not 1/8: over 0.10 ft the difference is
// 0.05 in (exact).
func TestHundredthOfAFoot(t *testing.T) {
	for text, want := range map[string]string{"0.01 ft": "0.12 in", "0.05 in": "0.05 in"} {
		a, errA := ParseLength(text, Feet)
		b, errB := ParseLength(want, Feet)
		if errA != nil || errB != nil || a != b {
			t.Errorf("ParseLength(%q) = %v m, want %q = %v m (%v, %v)", text, float64(a), want, float64(b), errA, errB)
		}
	}
	tenth, _ := ParseCoordinate("0.10 ft", Feet)
	eighths, _ := ParseCoordinate("1 1/4 in", Feet)
	difference, _ := ParseCoordinate("0.05 in", Feet)
	if eighths-tenth != difference || difference != 1270 {
		t.Errorf("ten eighths of an inch − 0.10 ft = %d µm, want 0.05 in = %d µm = 1270 µm", eighths-tenth, difference)
	}
}

// TestPublishedSlopes: exact ratios, printed in percent. 1 in/ft = 83.3 mm/m
// (note to the International Plumbing Code, second-hand); 24 m with 0.30 m fall
// is 1 in 80, and 50 m at 1 in 80 is 0.625 m (second-hand); the rest exact.
func TestPublishedSlopes(t *testing.T) {
	for _, c := range []struct {
		text     string
		rise     int64
		run      int64
		percent  string
		decimals int
	}{
		{"1/4 in/ft", 1, 48, "2.08333", 5}, {"1/8 in/ft", 1, 96, "1.04167", 5}, {"1/16 in/ft", 1, 192, "0.52083", 5},
		{"1:40", 1, 40, "2.5", 1}, {"1:80", 1, 80, "1.25", 2}, {"1:110", 1, 110, "0.90909", 5}, {"2 in/100 ft", 1, 600, "0.16667", 5},
		{"4 in/100 ft", 1, 300, "0.33333", 5}, {"1/4 in in 10 ft", 1, 480, "0.20833", 5}, {"1/2 in/100 ft", 1, 2400, "0.04167", 5},
		{"20 %", 1, 5, "20", 0}, {"0.30 m in 24 m", 1, 80, "1.25", 2}, {"1 in/ft", 1, 12, "8.33", 2},
	} {
		s, err := ParseSlope(c.text)
		if err != nil || s.Rise != c.rise || s.Run != c.run {
			t.Errorf("ParseSlope(%q) = %d/%d, %v, want %d/%d", c.text, s.Rise, s.Run, err, c.rise, c.run)
		}
		if got := (Style{}).Percent(s.Grade(), c.decimals); got != c.percent {
			t.Errorf("Percent(%q) = %s, want %s", c.text, got, c.percent)
		}
	}
	s, err := ParseSlope("1 in 80")
	if got := Micrometres(s.Grade().Over(50 * Metre)); err != nil || got != 625_000 {
		t.Errorf("1 in 80 over 50 m = %d µm, %v, want 625000 µm", got, err)
	}
	quarter, errQ := ParseSlope("1/4 in/ft")
	two, errT := ParseSlope("2 %")
	if errQ != nil || errT != nil || quarter.Rise*two.Run == two.Rise*quarter.Run {
		t.Errorf("1/4 in/ft = %v and 2 %% = %v, want two different limits", quarter, two)
	}
}

// TestPublishedAccuracies: laser accuracy as makers and crews write it, in the
// other units (geometry, exact; printed digits).
func TestPublishedAccuracies(t *testing.T) {
	for _, c := range []struct {
		text, in  string
		size, tol float64
	}{
		{`10"`, "in per 100 ft", 0.0582, 0.5e-4}, {`10"`, "mm per 30 m", 1.454, 0.5e-3}, {`20"`, "mm per 30 m", 2.909, 0.5e-3},
		{"1/16 in per 100 ft", "seconds", 10.743, 0.5e-3}, {"1/16 in per 100 ft", "mm per 30 m", 1.5625, 1e-12},
		{"1/16 in per 100 ft", "in per 100 ft", 1.0 / 16, 1e-15},
	} {
		g, err := ParseAccuracy(c.text)
		got := float64(g) * map[string]float64{"in per 100 ft": 1200, "mm per 30 m": 30_000, "seconds": float64(1 / ArcSecond)}[c.in]
		if err != nil || !near(got, c.size, c.tol) {
			t.Errorf("ParseAccuracy(%q) = %v %s, %v, want %v (tol %g: printed digits)", c.text, got, c.in, err, c.size, c.tol)
		}
	}
}
