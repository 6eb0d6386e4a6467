package estimate

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// difference observes x[b] − x[a].
func difference(a, b int, value, weight float64) Observation {
	return Observation{[]Term{{a, -1}, {b, 1}}, value, weight}
}

func TestDeficient(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Problem
		want []int
	}{
		{"never observed", Problem{2, []Observation{{[]Term{{0, 1}}, 5, 1}}}, []int{1}},
		{"nothing", Problem{2, nil}, []int{0, 1}},
		{"weight 0", Problem{1, []Observation{{[]Term{{0, 1}}, 5, 0}}}, []int{0}},
		{"no datum", Problem{3, []Observation{difference(0, 1, 1, 1), difference(1, 2, 1, 1), difference(0, 2, 2, 1)}}, []int{0, 1, 2}},
		{"one part hangs", Problem{4, []Observation{{[]Term{{0, 1}}, 5, 1}, difference(0, 2, 1, 1),
			difference(1, 3, 1, 1), difference(1, 3, 1, 2)}}, []int{1, 3}},
		{"twice the same column", Problem{3, []Observation{{[]Term{{0, 1}, {1, 2}}, 5, 1}, {[]Term{{0, 3}, {1, 6}}, 5, 1},
			{[]Term{{2, 1}}, 1, 1}}}, []int{0, 1}},
	} {
		_, err := LeastSquares(c.p)
		var deficient *Deficient
		if !errors.As(err, &deficient) || !slices.Equal(deficient.Unknowns, c.want) {
			t.Errorf("%s: LeastSquares(…) = %v, want unknowns %v open", c.name, err, c.want)
		}
		in := NewInformation(c.p.Unknowns)
		for _, o := range c.p.Observations {
			if err := in.Observe(o); err != nil {
				t.Fatal(err)
			}
		}
		if open := in.Belief().Open(); !slices.Equal(open, c.want) {
			t.Errorf("%s: Belief.Open() = %v, want %v", c.name, open, c.want)
		}
	}
}

func TestBadObservation(t *testing.T) {
	good := Observation{[]Term{{0, 1}}, 1, 1}
	for _, c := range []struct {
		o    Observation
		want string
	}{
		{Observation{[]Term{{0, 1}}, math.NaN(), 1}, "observation 1: value NaN is not a number"},
		{Observation{[]Term{{0, 1}}, math.Inf(1), 1}, "observation 1: value +Inf is not a number"},
		{Observation{[]Term{{0, 1}}, 1, -2}, "observation 1: weight -2, must be 0 or more"},
		{Observation{[]Term{{0, 1}}, 1, math.NaN()}, "observation 1: weight NaN, must be 0 or more"},
		{Observation{[]Term{{0, math.NaN()}}, 1, 1}, "observation 1: coefficient NaN is not a number"},
		{Observation{[]Term{{1, 1}}, 1, 1}, "observation 1: unknown 1 of 1"},
		{Observation{[]Term{{-1, 1}}, 1, 1}, "observation 1: unknown -1 of 1"},
	} {
		_, err := LeastSquares(Problem{1, []Observation{good, c.o}})
		var bad *BadObservation
		if !errors.As(err, &bad) || bad.Error() != c.want {
			t.Errorf("LeastSquares(%v) = %v, want %s", c.o, err, c.want)
		}
		in := NewInformation(1)
		if err := errors.Join(in.Observe(good), in.Observe(c.o)); err == nil || err.Error() != c.want {
			t.Errorf("Observe(%v) = %v, want %s", c.o, err, c.want)
		}
		if v, ok := in.Belief().Of(Term{0, 1}); !ok || v.Mean != 1 || v.Variance != 1 {
			t.Errorf("after a bad observation the value is %v, %v, want 1 and variance 1", v, ok)
		}
	}
	if _, err := LeastSquares(Problem{}); err == nil {
		t.Error("LeastSquares without unknowns gave no error")
	}
}

func TestNotPositive(t *testing.T) {
	a := NewMatrix(2, 2)
	copy(a.data, []float64{1, 2, 2, 4})
	_, err := NewCholesky(a)
	var bad *NotPositive
	if !errors.As(err, &bad) || bad.Pivot != 1 {
		t.Errorf("NewCholesky(singular) = %v, want not positive at pivot 1", err)
	}
	a.Set(0, 0, math.NaN())
	if _, err := NewCholesky(a); !errors.As(err, &bad) || bad.Pivot != 0 {
		t.Errorf("NewCholesky(NaN) = %v, want not positive at pivot 0", err)
	}
}

// TestOpenTruth: in random networks of differences the open unknowns are those
// that no path joins to a direct observation.
func TestOpenTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "unknowns")
		p := Problem{Unknowns: n}
		joined := make([]int, n+1) // component of each unknown; n is the datum
		for i := range joined {
			joined[i] = i
		}
		join := func(a, b int) {
			from, to := joined[a], joined[b]
			for i := range joined {
				if joined[i] == from {
					joined[i] = to
				}
			}
		}
		index := rapid.IntRange(0, n-1)
		for range rapid.IntRange(0, 2*n).Draw(t, "differences") {
			if a, b := index.Draw(t, "a"), index.Draw(t, "b"); a != b {
				p.Observations = append(p.Observations, difference(a, b, drawNumber(t), drawWeight(t)))
				join(a, b)
			}
		}
		for range rapid.IntRange(0, 2).Draw(t, "fixed") {
			a := index.Draw(t, "a")
			p.Observations = append(p.Observations, Observation{[]Term{{a, 1}}, drawNumber(t), drawWeight(t)})
			join(a, n)
		}
		var want []int
		for i := range n {
			if joined[i] != joined[n] {
				want = append(want, i)
			}
		}
		var got []int
		_, err := LeastSquares(p)
		var deficient *Deficient
		if errors.As(err, &deficient) {
			got = deficient.Unknowns
		} else if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got, want) {
			t.Errorf("open unknowns %v, want %v", got, want)
		}
	})
}
