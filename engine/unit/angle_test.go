package unit

import (
	"math"
	"testing"
)

// near says that got is within tol of want; NaN never is.
func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

// ulpDegrees is the rounding of a full turn to radians and back.
const ulpDegrees = 1e-13

func TestAngle(t *testing.T) {
	for text, want := range map[string]float64{"12.5": 12.5, "12,5°": 12.5, "12°30'15\"": 12 + 30.25/60, "12° 30′ 15.5″": 12 + (30+15.5/60)/60,
		"12-30-15": 12 + 30.25/60, "-12°30'": -12.5, "30'": 0.5, "20\"": 20.0 / 3600, "12 deg 30 min": 12.5, "12º30": 12.5, "360": 360,
		"12,500": 12.5} {
		if got, err := ParseAngle(text); err != nil || !near(float64(got/Degree), want, ulpDegrees) {
			t.Errorf("ParseAngle(%q) = %v°, %v, want %v° (tol %v: rounding)", text, float64(got/Degree), err, want, ulpDegrees)
		}
	}
	for text, kind := range map[string]Kind{"12°61'": MixedUnits, "12.5°30'": MixedUnits, "5\"3'": MixedUnits, "1 2": BadNumber,
		"12-30": BadNumber, "361": TooLarge, "": Empty, "12 ft": BadNumber, "12°30'15\"4": MixedUnits, "12°-": BadNumber} {
		checkError(t, text, "angle", kind, nil, func(s string) error {
			_, err := ParseAngle(s)
			return err
		})
	}
}

func TestBearing(t *testing.T) {
	for text, want := range map[string]float64{"N 45°30' E": 45.5, "N45E": 45, "S 10 W": 190, "S 10 E": 170, "N 10 W": 350, "N 10 O": 350,
		"N 45-30-15 E": 45 + 30.25/60, "norte 5 este": 5, "N": 0, "E": 90, "S": 180, "W": 270, "O": 270, "45.5": 45.5, "360": 0, "0": 0,
		"N 0 W": 0, "S 0 E": 180, "N 90 E": 90, "359°59'59\"": 359 + 3599.0/3600} {
		if got, err := ParseBearing(text); err != nil || !near(float64(got/Degree), want, ulpDegrees) {
			t.Errorf("ParseBearing(%q) = %v°, %v, want %v° (tol %v: rounding)", text, float64(got/Degree), err, want, ulpDegrees)
		}
	}
	for text, kind := range map[string]Kind{"-3": Negative, "NE": UnknownUnit, "N 95 E": TooLarge, "N 45": UnknownUnit, "361": TooLarge,
		"E 3 N": UnknownUnit, "": Empty, "N E": BadNumber, "N -3 E": BadNumber} {
		checkError(t, text, "bearing", kind, nil, func(s string) error {
			_, err := ParseBearing(s)
			return err
		})
	}
}

// TestAccuracy: 1/16 in in 100 ft is 1/19 200, 10 seconds of arc are 10π/648 000.
func TestAccuracy(t *testing.T) {
	for text, want := range map[string]float64{"10\"": 10 * math.Pi / 648000, "±20″": 20 * math.Pi / 648000, "10 arcsec": 10 * math.Pi / 648000,
		"1/16 in per 100 ft": 1.0 / 19200, "1/16\" per 100'": 1.0 / 19200, "1.5 mm per 30 m": 5e-5, "0.05 mm/m": 5e-5, "±1.5 mm @ 30 m": 5e-5,
		"0.005 %": 5e-5} {
		if got, err := ParseAccuracy(text); err != nil || !near(float64(got)/want, 1, 1e-15) {
			t.Errorf("ParseAccuracy(%q) = %v, %v, want %v (tol 1e-15 of it: rounding)", text, float64(got), err, want)
		}
	}
	for text, kind := range map[string]Kind{"10": MissingUnit, "0": MissingUnit, "0\"": Negative, "-3\"": Negative, "0 mm/m": Negative,
		"2 %": TooLarge, "3600\"": TooLarge, "1.5 mm": MissingUnit, "1/2\"": MissingUnit, "": Empty, "good": BadNumber} {
		checkError(t, text, "accuracy", kind, nil, func(s string) error {
			_, err := ParseAccuracy(s)
			return err
		})
	}
}

func TestStation(t *testing.T) {
	for _, c := range []struct {
		text string
		bare Scale
		want Station
	}{
		{"8+50", Feet, 259.08}, {"8+50.25", Feet, 259.1562}, {"-0+50", Feet, -15.24}, {"0+00", Feet, 0}, {"0+125", Metres, 125},
		{"0+125.5", Metres, 125.5}, {"0+125,500", Metres, 125.5}, {"1 + 250", Metres, 1250}, {"850", Feet, 259.08}, {"850 ft", Metres, 259.08},
		{"39+37", SurveyFeet, 1200},
	} {
		if got, err := ParseStation(c.text, c.bare); err != nil || got != c.want {
			t.Errorf("ParseStation(%q, %v) = %v m, %v, want %v m", c.text, c.bare, float64(got), err, float64(c.want))
		}
	}
	for _, c := range []struct {
		text string
		bare Scale
		kind Kind
	}{
		{"8+50", Metres, StationDigits}, {"0+125", Feet, StationDigits}, {"8+5", Feet, StationDigits}, {"8+", Feet, BadNumber},
		{"1.5+50", Feet, BadNumber}, {"8+50 ft", Feet, BadNumber}, {"8+50+20", Feet, BadNumber}, {"999999+00", Feet, TooLarge}, {"", Feet, Empty},
	} {
		checkError(t, c.text, "station", c.kind, nil, func(s string) error {
			_, err := ParseStation(s, c.bare)
			return err
		})
	}
}
