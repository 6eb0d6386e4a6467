package level

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/unit"
)

// TestCurvature checks combined curvature and refraction (Memorial University,
// ENGI 3703 notes; 0.0206 F² ft and 0.574 M² ft are the same rounded).
func TestCurvature(t *testing.T) {
	for _, c := range []struct {
		what           string
		got, want, tol unit.Length
	}{
		{"100 m", Curvature(100), 0.000675, 1e-12},
		{"200 m", Curvature(200), 0.00270, 1e-12},
		{"300 m", Curvature(300), 0.006075, 1e-12},
		{"1.8 km", Curvature(1800), 0.2187, 1e-12},
		{"300 ft", Curvature(300 * unit.Foot), 0.00185 * unit.Foot, 0.000005 * unit.Foot},
		{"500 ft", Curvature(500 * unit.Foot), 0.00515 * unit.Foot, 0.00001 * unit.Foot}, // 0.0206 is rounded
		{"1000 ft", Curvature(1000 * unit.Foot), 0.0206 * unit.Foot, 0.00005 * unit.Foot},
		{"1 mile", Curvature(unit.Mile), 0.574 * unit.Foot, 0.0005 * unit.Foot},
		// Earth diameter 12 740 km, refraction 1/7: 3 mm at 211.2 m (inputs read, exact).
		{"211.2 m on 12 740 km", Earth{12_740_000, 1.0 / 7}.Curvature(211.2), 0.003, 0.0000015},
		{"0 m", Curvature(0), 0, 0},
	} {
		if !within(c.got, c.want, c.tol) {
			t.Errorf("curvature over %s = %v m, want %v m (tol %v: printed digits)", c.what, c.got, c.want, c.tol)
		}
	}
	if !math.IsNaN(float64(Curvature(unit.Length(math.NaN())))) {
		t.Error("curvature over NaN is a number")
	}
}

// TestLean checks a rod out of plumb at 10 ft (geometry, exact).
func TestLean(t *testing.T) {
	for _, c := range []struct{ degrees, want float64 }{{0, 0}, {1, 0.00152}, {2, 0.00609}, {3, 0.01370}} {
		got := LeanError(ft(10), unit.Angle(c.degrees)*unit.Degree)
		if !within(got, unit.Length(c.want)*unit.Foot, 0.000005*unit.Foot) {
			t.Errorf("LeanError(10 ft, %v°) = %v m, want %v ft (tol 5e-6 ft: printed digits)", c.degrees, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		l, tilt := rapid.Float64Range(0, 10).Draw(t, "length"), rapid.Float64Range(0, 1).Draw(t, "tilt")
		if got := LeanError(unit.Reading(l), unit.Angle(tilt)); !within(got, unit.Length(l*(1-math.Cos(tilt))), 1e-14) {
			t.Errorf("LeanError(%v m, %v) = %v, want L(1 − cos t)", l, tilt, got)
		}
	})
}

// TestFourWay checks four directions at 30 m (geometry, exact).
func TestFourWay(t *testing.T) {
	f := FourWay{
		Far: [4]unit.Reading{1.5036, 1.4991, 1.4976, 1.5021}, FarDistance: 30,
		Near: [4]unit.Reading{1.5002, 1.5002, 1.5002, 1.5002}, NearDistance: 10,
	}
	c, err := f.Check()
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []struct {
		what           string
		got, want, tol float64
	}{
		{"A, mm/m", 1000 * float64(c.A), 0.10, 1e-12},
		{"B, mm/m", 1000 * float64(c.B), -0.05, 1e-12},
		{"cone, mm/m", 1000 * float64(c.Cone), 0.02, 1e-10},
		{"twist, mm/m", 1000 * float64(c.Twist), 0, 1e-11},
		{"tilt, mm/m", 1000 * float64(c.Tilt), 0.111803, 5e-7},
		{"tilt, seconds", float64(unit.Angle(c.Tilt) / unit.ArcSecond), 23.061, 5e-4},
	} {
		if !(math.Abs(v.got-v.want) <= v.tol) {
			t.Errorf("%s = %v, want %v (tol %g: printed digits)", v.what, v.got, v.want, v.tol)
		}
	}
	f.NearDistance = 0
	if c, err = f.Check(); err != nil || c.Coned {
		t.Errorf("without a near ring: %v, %v; want no cone", c, err)
	}
}

// TestFourWayUndoes: readings made from a tilt, cone, twist and curvature give
// them back.
func TestFourWayUndoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		grade := rapid.Float64Range(-1e-3, 1e-3)
		a, b, cone, twist := grade.Draw(t, "a"), grade.Draw(t, "b"), grade.Draw(t, "cone"), grade.Draw(t, "twist")
		near, far := rapid.Float64Range(2, 15).Draw(t, "near"), rapid.Float64Range(20, 100).Draw(t, "far")
		ring := func(d float64) [4]unit.Reading {
			mean := 1.5 + cone*d + float64(Curvature(unit.Length(d)))
			return [4]unit.Reading{unit.Reading(mean + (a+twist)*d), unit.Reading(mean + (b-twist)*d),
				unit.Reading(mean + (twist-a)*d), unit.Reading(mean - (b+twist)*d)}
		}
		c, err := FourWay{ring(far), unit.Length(far), ring(near), unit.Length(near), true}.Check()
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []struct {
			what string
			got  unit.Grade
			want float64
		}{{"A", c.A, a}, {"B", c.B, b}, {"cone", c.Cone, cone}, {"twist", c.Twist, twist}} {
			if !(math.Abs(float64(v.got)-v.want) <= 1e-14) {
				t.Errorf("%s = %v, want %v", v.what, v.got, v.want)
			}
		}
	})
}

// TestThreeStations checks staffs 40 m apart with the stations 14.6 m beyond
// (geometry of DIN 18723-8): dh 250.0 mm, tilt 0.05 mm/m, cone 0.02 mm/m.
func TestThreeStations(t *testing.T) {
	dh := 0.250 * unit.Metre
	s := ThreeStations{Between: 40, Beyond: 14.6, A: 0.2520, B: 0.2528, C: 0.2512, Known: &dh}
	c, err := s.Check()
	if err != nil || !c.Tilted || !(math.Abs(float64(c.Cone)-0.02e-3) <= 1e-14) || !(math.Abs(float64(c.Tilt)-0.05e-3) <= 1e-14) || !within(c.Gap, 0, 1e-14) {
		t.Errorf("Check() = %+v, %v; want cone 0.02 mm/m, tilt 0.05 mm/m, no gap", c, err)
	}
	s.Known = nil
	if c, err = s.Check(); err != nil || c.Tilted {
		t.Errorf("without a known difference: %v, %v; want no tilt", c, err)
	}
	// Curvature reads like a cone: B sees it over 54.6 m less 14.6 m, C the other way.
	more := Curvature(54.6) - Curvature(14.6)
	s.B, s.C, s.Curvature = s.B+more, s.C-more, true
	if c, err = s.Check(); err != nil || !(math.Abs(float64(c.Cone)-0.02e-3) <= 1e-14) {
		t.Errorf("with curvature: %v, %v; want cone 0.02 mm/m", c, err)
	}
}

// TestPegs: readings made from a rise, a tilt and curvature give them back; from
// midway the tilt drops out.
func TestPegs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rise := rapid.Float64Range(-2, 2).Draw(t, "rise")
		tilt := rapid.Float64Range(-1e-3, 1e-3).Draw(t, "tilt")
		apart := rapid.Float64Range(20, 100).Draw(t, "apart")
		see := func(toA, toB float64) PegSetup {
			read := func(height, d float64) Sight {
				return RodAt(unit.Reading(height+tilt*d)+unit.Reading(Curvature(unit.Length(d))), unit.Length(d))
			}
			return PegSetup{read(1.5+rise, toA), read(1.5, toB)}
		}
		test := PegTest{see(apart/2, apart/2), see(apart+5, 5), true}
		c, err := test.Check()
		if err != nil || !(math.Abs(float64(c.Tilt)-tilt) <= 1e-13) || !within(c.Rise, unit.Length(rise), 1e-12) {
			t.Errorf("Check() = %v, %v; want tilt %v, rise %v m", c, err, tilt, rise)
		}
		if got := test.First.A.Reading - test.First.B.Reading; !within(unit.Length(got), unit.Length(rise), 1e-12) {
			t.Errorf("midway difference = %v m, want %v m", got, rise)
		}
		if got := c.Correct(unit.Reading(2+tilt*apart), unit.Length(apart)); !within(unit.Length(got), 2, 1e-11) {
			t.Errorf("Correct(…) = %v m, want 2 m", got)
		}
	})
}
