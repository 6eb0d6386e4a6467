package pipe

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/unit"
)

// fullAt is speed in ft/s and flow in ft³/s of a full pipe of inches, n 0.013.
func fullAt(inches, slope float64) (v, q float64) {
	speed, flow := Conduit{unit.Length(inches * inch), DefaultRoughness, unit.Grade(slope)}.Full()
	return float64(speed / unit.FootPerSecond), float64(flow / unit.CubicFootPerSecond)
}

func TestSlopeForTwoFeetASecond(t *testing.T) {
	// Exact slope for 2.0 ft/s, n 0.013, with 1.486: 0.3338 % at 8 in, 0.2479 at
	// 10, 0.1944 at 12, 0.0771 at 24. In metres the factor is 1.48592, which
	// moves the slope by 0.011 %.
	for inches, want := range map[float64]float64{8: 0.3338, 10: 0.2479, 12: 0.1944, 24: 0.0771} {
		got := SlopeFor(2*unit.FootPerSecond, unit.Length(inches*inch), DefaultRoughness)
		near(t, "SlopeFor(2 ft/s) in %", float64(got)/percent, want, 0.5e-4+want*1.2e-4)
	}
}

func TestTablesKeepTheirSpeed(t *testing.T) {
	// The table is rounded up from Manning's formula, but at 33 and 42 in, where
	// the Recommended Standards have 0.052 and 0.037.
	rounded := map[float64]bool{33: true, 42: true}
	for _, l := range Limits() {
		if l.ID != "least_slope.sanitary" {
			continue
		}
		inches := math.Round(l.From / inch)
		exact := float64(SlopeFor(2*unit.FootPerSecond, unit.Length(l.From), DefaultRoughness))
		if below := l.Add < exact; below != rounded[inches] {
			t.Errorf("%g in: table %.4f %%, Manning %.4f %%", inches, l.Add/percent, exact/percent)
		}
		v, _ := fullAt(inches, l.Add)
		if !(v >= 2*(1-tableRounding)) {
			t.Errorf("%g in at its least slope runs %.3f ft/s, want 2.0 within %g", inches, v, tableRounding)
		}
	}
	for _, l := range Limits() {
		if l.ID == "least_slope.ten_states" && math.Round(l.From/inch) != 39 {
			if v, _ := fullAt(l.From/inch, l.Add); !(v >= 2) {
				t.Errorf("%g in at the Recommended Standards' slope runs %.4f ft/s, want 2.0", l.From/inch, v)
			}
		}
		if l.ID == "least_slope.storm" {
			v, _ := fullAt(l.From/inch, l.Add)
			near(t, "storm table, ft/s", v, 3, 0.035) // 3 ft/s full, second-hand; the slopes have two digits
		}
	}
}

func TestFull(t *testing.T) {
	// 8 in at 0.40 %: 2.189 ft/s with 1.486.
	v, _ := fullAt(8, 0.0040)
	near(t, "V full, 8 in at 0.40 % in ft/s", v, 2.189, 0.0005+2.189*6e-5)
	// 35 Ill. Adm. Code 370 table, within 1 %: 8 in 0.49 mgd, 12 in 1.07, 24 in 4.13.
	for _, c := range []struct{ inches, slope, mgd float64 }{{8, 0.0040, 0.49}, {12, 0.0022, 1.07}, {24, 0.0008, 4.13}} {
		_, q := fullAt(c.inches, c.slope)
		near(t, "Q full in mgd", q*float64(unit.CubicFootPerSecond/unit.MillionGallonsPerDay), c.mgd, 0.01*c.mgd)
	}
	// The choice of 1.486 or 1.49 moves the speed by 0.27 %; ours is exact.
	exact := math.Cbrt(1 / 0.3048)
	near(t, "1.49/1.486 − 1", 1.49/1.486-1, 0.0027, 5e-5)
	near(t, "exact factor", exact, 1.48592, 5e-6)
	for _, c := range []Conduit{{0, 0.013, 0.01}, {0.2, 0, 0.01}, {0.2, 0.013, -0.01}, {unit.Length(math.NaN()), 0.013, 0.01}} {
		if v, q := c.Full(); v == v || q == q {
			t.Errorf("%v.Full() = %v, %v, want NaN", c, v, q)
		}
	}
}

func TestPartFull(t *testing.T) {
	// Handbook table of part-full circular pipes; R at 0.80 and the rest exact.
	for _, c := range []struct{ share, area, radius, velocity, flow float64 }{
		{0.10, 0.0520, 0.2541, 0.4012, 0.0209},
		{0.20, 0.1424, 0.4824, 0.6151, 0.0876},
		{0.30, 0.2523, 0.6838, 0.7761, 0.1958},
		{0.50, 0.5000, 1.0000, 1.0000, 0.5000},
		{0.80, 0.8576, 1.2168, 1.1397, 0.9775},
		{0.95, 0.9813, 1.1458, 1.0950, 1.0745},
		{1, 1, 1, 1, 1},
		{0, 0, 0, 0, 0},
	} {
		r := PartFull(c.share)
		near(t, "A/Af", r.Area, c.area, 5.1e-5)
		near(t, "R/Rf", r.Radius, c.radius, 5.1e-5)
		near(t, "V/Vf", r.Velocity, c.velocity, 5.1e-5)
		near(t, "Q/Qf", r.Flow, c.flow, 5.1e-5)
	}
	for _, bad := range []float64{-0.01, 1.01, math.NaN()} {
		if r := PartFull(bad); r.Flow == r.Flow {
			t.Errorf("PartFull(%g) = %v, want NaN", bad, r)
		}
	}
}

func TestMostFlow(t *testing.T) {
	// Most flow 1.0757 at 0.938 of the diameter.
	th := mostFlowAngle
	near(t, "5th(1 − cos th) − 2(th − sin th)", 5*th*(1-math.Cos(th))-2*(th-math.Sin(th)), 0, 1e-7)
	near(t, "MostFlow()", MostFlow(), 1.0757, 5e-5)
	near(t, "depth of most flow", (1-math.Cos(th/2))/2, 0.938, 5e-4)
	for _, share := range []float64{0.90, 0.93, 0.95, 0.97} {
		if !(PartFull(share).Flow <= MostFlow()) {
			t.Errorf("Q/Qf at %g = %v, over MostFlow()", share, PartFull(share).Flow)
		}
	}
}

func TestDepth(t *testing.T) {
	// Maurer, open textbook: Q 0.01 m³/s, n 0.013, S 0.001, D 0.2 m → y 0.16 m,
	// V 0.38 m/s; exact 0.1578, 0.3761.
	c := Conduit{0.2, 0.013, 0.001}
	y, v, ok := c.Depth(0.01)
	if !ok {
		t.Fatal("Depth(0.01) not carried")
	}
	near(t, "Depth(0.01)", float64(y), 0.1578, 5e-5)
	near(t, "speed at that depth", float64(v), 0.3761, 5e-5)
	_, full := c.Full()
	if y, _, ok := c.Depth(full); !ok || !(y < 0.9*c.Inside) {
		t.Errorf("Depth(full) = %v, %v, want the lower of two depths", y, ok)
	}
	if _, _, ok := c.Depth(full * 1.0757); !ok {
		t.Error("Depth(1.0757 of full) not carried, want carried")
	}
	for _, q := range []unit.Flow{full * 1.0758, -1, unit.Flow(math.NaN())} {
		if y, _, ok := c.Depth(q); ok {
			t.Errorf("Depth(%v) = %v, want none", q, y)
		}
	}
}

func TestDepthGivesTheFlowBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Conduit{
			unit.Length(rapid.Float64Range(0.05, 2).Draw(t, "inside")), rapid.Float64Range(0.008, 0.03).Draw(t, "n"),
			unit.Grade(rapid.Float64Range(1e-4, 0.5).Draw(t, "slope"))}
		share := rapid.Float64Range(0.001, 1.07).Draw(t, "share")
		vf, full := c.Full()
		y, v, ok := c.Depth(full * unit.Flow(share))
		if !ok {
			t.Fatalf("Depth(%g of full) not carried", share)
		}
		r := PartFull(float64(y / c.Inside))
		if !(math.Abs(r.Flow-share) <= 1e-9) || !(math.Abs(float64(v/vf)-r.Velocity) <= 1e-9) {
			t.Fatalf("Depth(%g of full) = %v, whose flow is %g (tol 1e-9: bisection)", share, y, r.Flow)
		}
	})
}
