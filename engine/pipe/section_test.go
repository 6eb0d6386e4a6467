package pipe

import (
	"math"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// near fails unless got lies within tol of want; NaN fails.
func near(t *testing.T, call string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6f, want %.6f (tol %g)", call, got, want, tol)
	}
}

// In feet, as printed.
func feet(v unit.Elevation) float64 { return float64(v) / float64(unit.Foot) }

func TestTrenchBottom(t *testing.T) {
	// ASTM D3034 SDR 35, 8 in with 4 in bedding: invert − 0.3533 ft (exact: 4.24 in).
	e, ok := Find("ASTM D3034", "SDR 35", 8*unit.Inch)
	if !ok {
		t.Fatal("Find(ASTM D3034, SDR 35, 8 in) found nothing")
	}
	got := TrenchBottom(0, e.Section.Wall, 4*unit.Inch)
	near(t, "TrenchBottom(0, 0.240 in, 4 in) in ft", feet(got), -4.24/12, 1e-12)
	near(t, "TrenchBottom(0, 0.240 in, 4 in) in ft", feet(got), -0.3533, 0.00005)
}

func TestTopOfPipe(t *testing.T) {
	// OD 1 ft, wall 1 in, 2 % from invert 5395.00: tops at each 100 ft, as
	// published to 0.001 ft (textbook exercise, read).
	s := Section{Outside: unit.Foot, Wall: unit.Inch}
	near(t, "Inside() in ft", float64(s.Inside()/unit.Foot), 10.0/12, 1e-12)
	want := []float64{5395.917, 5393.917, 5391.917, 5389.917, 5387.917, 5385.917, 5383.917}
	for i, w := range want {
		invert := unit.Elevation(5395.00-2*float64(i)) * unit.Elevation(unit.Foot)
		near(t, "TopOfPipe in ft", feet(s.TopOfPipe(invert)), w, 0.0005)
	}
}

func TestCover(t *testing.T) {
	near(t, "Cover(12, 10.5)", float64(Cover(12, 10.5)), 1.5, 1e-12)
	near(t, "Cover(10, 10.5)", float64(Cover(10, 10.5)), -0.5, 1e-12)
}

func TestSectionCheck(t *testing.T) {
	nan := unit.Length(math.NaN())
	for _, c := range []struct {
		s    Section
		path string
		key  phrase.Key
	}{
		{Section{0.2, 0.005}, "", ""},
		{Section{0, 0.005}, "outside", "pipe.outside"},
		{Section{nan, 0.005}, "outside", "pipe.outside"},
		{Section{200, 0.005}, "outside", "pipe.outside"},
		{Section{0.2, 0}, "wall", "pipe.wall"},
		{Section{0.2, nan}, "wall", "pipe.wall"},
		{Section{0.2, 0.1}, "wall", "pipe.wall_thick"},
		{Section{0.2, 0.0999}, "", ""},
	} {
		f := c.s.Check()
		if c.key == "" {
			if f != nil {
				t.Errorf("Check(%v) = %v, want none", c.s, f)
			}
			continue
		}
		if f == nil || f.What.Key != c.key || f.Place.Path != c.path {
			t.Errorf("Check(%v) = %v, want %s at %s", c.s, f, c.key, c.path)
		}
	}
}

func TestSectionCheckText(t *testing.T) {
	f := Section{Outside: 0.2, Wall: 0.15}.Check()
	const want = "wall: the wall 0.150 m must be less than half the outside diameter 0.200 m"
	if got := f.Error(); got != want {
		t.Errorf("Check().Error() = %q, want %q", got, want)
	}
	for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
		if got := f.Remedy.Render(lang, unit.Style{}); got == string(f.Remedy.Key) {
			t.Errorf("remedy %s has no text in %s", f.Remedy.Key, lang)
		}
	}
}
