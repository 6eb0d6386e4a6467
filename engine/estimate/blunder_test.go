package estimate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestBlunderFound: a good network with one value off by 20 standard errors has
// that one flagged; without it none.
func TestBlunderFound(t *testing.T) {
	good := Problem{Unknowns: 4, Observations: []Observation{
		{[]Term{{0, 1}}, 100, 1e6}, {[]Term{{0, 1}}, 100.0005, 1e6},
		difference(0, 1, 1.001, 1e6), difference(1, 2, 0.9995, 1e6), difference(2, 3, 1.0005, 1e6),
		difference(3, 0, -3, 1e6), difference(0, 2, 2.0002, 1e6), difference(1, 3, 2.0003, 1e6),
	}}
	clean, err := LeastSquares(good)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []Variance{Known, Estimated} {
		if suspect, ok := clean.Blunder(v, 0.001); ok {
			t.Errorf("good network: flagged %v", suspect)
		}
	}
	for i := 2; i < len(good.Observations); i++ {
		bad := Problem{4, append([]Observation(nil), good.Observations...)}
		bad.Observations[i].Value += 0.020
		for _, v := range []Variance{Known, Estimated} {
			s, err := LeastSquares(bad)
			if err != nil {
				t.Fatal(err)
			}
			suspect, ok := s.Blunder(v, 0.05)
			if !ok || suspect.Index != i {
				t.Errorf("value %d off by 20 mm: Blunder = %v, %v", i, suspect, ok)
			}
			if v == Known && !s.Unlikely(0.001) {
				t.Errorf("value %d off by 20 mm: the variance factor passes", i)
			}
		}
	}
}

// TestCritical checks Pope's limit worked by hand (r 10, t of 9 degrees of
// freedom at 0.05 is 2.262 in every table: 2.262·√10/√(9 + 2.262²) = 1.904), its
// bound √r, and Baarda's 3.29.
func TestCritical(t *testing.T) {
	s := &Solution{Redundancy: 10, SquareSum: 1}
	if c, ok := s.Critical(Known, 0.001); !ok || !(math.Abs(c-3.29) <= 5e-3) {
		t.Errorf("Critical(Known, 0.001) = %v, want 3.29 (printed digits)", c)
	}
	if c, ok := s.Critical(Estimated, 0.05); !ok || !(math.Abs(c-1.904) <= 5e-4) {
		t.Errorf("Critical(Estimated, 0.05), r 10 = %v, want 1.904 (printed digits)", c)
	}
	rapid.Check(t, func(t *rapid.T) {
		s.Redundancy = rapid.IntRange(2, 200).Draw(t, "r")
		c, ok := s.Critical(Estimated, 0.001)
		if !ok || !(c > 0 && c <= math.Sqrt(float64(s.Redundancy))) {
			t.Errorf("Critical = %v, %v, want at most √%d", c, ok, s.Redundancy)
		}
	})
	for _, r := range []int{0, 1} {
		s.Redundancy = r
		if c, ok := s.Critical(Estimated, 0.001); ok {
			t.Errorf("Critical with redundancy %d = %v, want none", r, c)
		}
	}
	if c, ok := s.Critical(Known, math.NaN()); ok {
		t.Errorf("Critical(Known, NaN) = %v, want none", c)
	}
}

func TestWithoutRedundancy(t *testing.T) {
	s, err := LeastSquares(Problem{1, []Observation{{[]Term{{0, 1}}, 5, 4}}})
	if err != nil {
		t.Fatal(err)
	}
	if v, ok := s.VarianceFactor(); ok {
		t.Errorf("VarianceFactor = %v, want none", v)
	}
	if !math.IsNaN(s.EstimatedError(Term{0, 1})) || s.StandardError(Term{0, 1}) != 0.5 {
		t.Errorf("errors = %v, %v, want NaN, 0.5", s.EstimatedError(Term{0, 1}), s.StandardError(Term{0, 1}))
	}
	if suspect, ok := s.Blunder(Known, 0.001); ok || s.Unlikely(0.999) {
		t.Errorf("one observation is flagged: %v", suspect)
	}
}
