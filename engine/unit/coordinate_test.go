package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestCoordinate rounds the exact value, halves away from zero. Survey feet by
// 1200/3937 m (85 FR 62698).
func TestCoordinate(t *testing.T) {
	for _, c := range []struct {
		text string
		bare Scale
		want int64
	}{
		{"104.5", Metres, 104_500_000}, {"104.5", Feet, 31_851_600}, {"100'-6\"", SurveyFeet, 30_632_400}, {"100-0", Feet, 30_480_000},
		{"3937", SurveyFeet, 1_200_000_000}, {"-3937", SurveyFeet, -1_200_000_000},
		{"2457102.345", SurveyFeet, 748_926_292_609}, // ⌊2457102.345·1200/3937·10⁶⌉ by long division
		{"2 457 102.345", SurveyFeet, 748_926_292_609}, {"2,457,102.345", SurveyFeet, 748_926_292_609},
		{"2457102.345 ft", Feet, 748_924_794_756}, {"2457102.345 us_survey_ft", Feet, 748_926_292_609},
		{"0.0000005", Metres, 1}, {"-0.0000005", Metres, -1}, {"0.00000049999999999", Metres, 0}, {"10000000", Metres, 1e13},
		{"-10000000", Metres, -1e13}, {"1640 ft", SurveyFeet, 499_872_000},
	} {
		if got, err := ParseCoordinate(c.text, c.bare); err != nil || got != c.want {
			t.Errorf("ParseCoordinate(%q, %v) = %d µm, %v, want %d µm", c.text, c.bare, got, err, c.want)
		}
	}
	checkError(t, "2457102.345 ft", "coordinate", Ambiguous,
		[]string{"2457102.345 us_survey_ft (748926.2926 m)", "2457102.345 ft (748924.7948 m)"},
		func(s string) error {
			_, err := ParseCoordinate(s, SurveyFeet)
			return err
		})
}

// TestMicrometres: snapping undoes FromMicrometres over the whole range.
func TestMicrometres(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-1e13, 1e13).Draw(t, "µm")
		if got := Micrometres(FromMicrometres(n)); got != n {
			t.Errorf("Micrometres(FromMicrometres(%d)) = %d", n, got)
		}
	})
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300} {
		if got := Micrometres(Length(bad)); got != math.MinInt64 {
			t.Errorf("Micrometres(%v) = %d, want %d", bad, got, int64(math.MinInt64))
		}
	}
}
