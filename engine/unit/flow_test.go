package unit

import (
	"math"
	"testing"
)

func TestFlow(t *testing.T) {
	// 1 cfs = 0.646317 mgd (35 Ill. Adm. Code 370 tables, read).
	if got := float64(CubicFootPerSecond / MillionGallonsPerDay); !(math.Abs(got-0.646317) <= 5e-7) {
		t.Errorf("1 ft³/s = %.7f mgd, want 0.646317 (tol 5e-7: as printed)", got)
	}
	if got := float64(CubicFootPerSecond / GallonPerMinute); !(math.Abs(got-448.831) <= 5e-4) {
		t.Errorf("1 ft³/s = %.4f gal/min, want 448.831 (tol 5e-4: by the gallon of 231 in³)", got)
	}
	feet, metres := Style{System: Imperial}, Style{Comma: true}
	for _, c := range []struct{ got, want string }{
		{feet.Speed(2 * FootPerSecond), "2.00 ft/s"},
		{metres.Speed(0.376), "0,38 m/s"},
		{feet.Flow(0.764 * CubicFootPerSecond), "0.76 ft³/s"},
		{metres.Flow(0.01), "10,0 L/s"},
		{metres.Flow(Flow(math.NaN())), unknown},
	} {
		if c.got != c.want {
			t.Errorf("prints %q, want %q", c.got, c.want)
		}
	}
}
