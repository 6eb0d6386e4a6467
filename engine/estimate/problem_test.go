package estimate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawProblem is a random problem whose unknowns are all observed directly once
// and through a few sums.
func drawProblem(t *rapid.T) Problem {
	p := Problem{Unknowns: rapid.IntRange(1, 6).Draw(t, "unknowns")}
	for i := range p.Unknowns {
		p.Observations = append(p.Observations, Observation{[]Term{{i, 1}}, drawNumber(t), drawWeight(t)})
	}
	for range rapid.IntRange(0, 10).Draw(t, "more") {
		p.Observations = append(p.Observations, drawObservation(t, p.Unknowns))
	}
	return p
}

func drawObservation(t *rapid.T, unknowns int) Observation {
	o := Observation{Value: drawNumber(t), Weight: drawWeight(t)}
	for range rapid.IntRange(1, 3).Draw(t, "terms") {
		o.Terms = append(o.Terms, Term{rapid.IntRange(0, unknowns-1).Draw(t, "unknown"), drawNumber(t)})
	}
	return o
}

func drawNumber(t *rapid.T) float64 {
	return float64(rapid.IntRange(-20000, 20000).Draw(t, "thousandths")) / 1000
}

func drawWeight(t *rapid.T) float64 {
	return float64(rapid.IntRange(1, 1000).Draw(t, "weight")) / 10
}

func solve(t *rapid.T, p Problem) *Solution {
	s, err := LeastSquares(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// alike says that two values agree to tol of their size plus tol.
func alike(a, b, tol float64) bool { return math.Abs(a-b) <= tol*(1+math.Abs(b)) }

func TestAlikeCanFail(t *testing.T) {
	if alike(1, 1.1, 1e-3) || alike(math.NaN(), math.NaN(), 1) || !alike(1, 1, 0) {
		t.Error("alike(…) does not tell values apart")
	}
}

// TestNormalEquations: A'W(Ax − y) = 0, which defines least squares, and the
// cofactor matrix undoes A'WA.
func TestNormalEquations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		s := solve(t, p)
		gradient := make([]float64, p.Unknowns)
		normal := NewMatrix(p.Unknowns, p.Unknowns)
		size := 0.0
		for i, o := range p.Observations {
			for _, a := range o.Terms {
				gradient[a.Unknown] += a.Coefficient * o.Weight * s.Residuals[i]
				size += math.Abs(a.Coefficient*o.Weight) * (1 + math.Abs(o.Value))
				for _, b := range o.Terms {
					normal.Row(a.Unknown)[b.Unknown] += a.Coefficient * o.Weight * b.Coefficient
				}
			}
		}
		for i := range p.Unknowns {
			if !(math.Abs(gradient[i]) <= 1e-11*size) {
				t.Errorf("gradient %d = %g, want 0 (tol 1e-11 of its terms)", i, gradient[i])
			}
			for j := range p.Unknowns {
				one := 0.0
				if i == j {
					one = 1
				}
				scale := math.Sqrt(normal.At(i, i) * s.Cofactor.At(i, i) * normal.At(j, j) * s.Cofactor.At(j, j))
				if got := dot(normal.Row(i), s.Cofactor.Row(j)); !(math.Abs(got-one) <= 1e-11*(1+scale)) {
					t.Errorf("(A'WA)·Q at %d, %d = %g, want %g", i, j, got, one)
				}
			}
		}
	})
}

// TestRedundancyShares: they add up to the redundancy.
func TestRedundancyShares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		s := solve(t, p)
		sum := 0.0
		for _, r := range s.RedundancyShare {
			sum += r
		}
		if want := float64(len(p.Observations) - p.Unknowns); !alike(sum, want, 1e-9) {
			t.Errorf("redundancy shares add up to %v, want %v", sum, want)
		}
	})
}

// TestMoreKnowsMore: one more observation makes no standard error larger.
func TestMoreKnowsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		before := solve(t, p)
		p.Observations = append(p.Observations, drawObservation(t, p.Unknowns))
		after := solve(t, p)
		for i := range p.Unknowns {
			was, is := before.StandardError(Term{i, 1}), after.StandardError(Term{i, 1})
			if !(is <= was*(1+1e-9)) {
				t.Errorf("standard error %d rose from %v to %v", i, was, is)
			}
		}
	})
}

// TestWeightZero: an observation of weight 0 changes nothing.
func TestWeightZero(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		before := solve(t, p)
		o := drawObservation(t, p.Unknowns)
		o.Weight = 0
		p.Observations = append([]Observation{o}, p.Observations...)
		after := solve(t, p)
		for i := range before.X {
			if before.X[i] != after.X[i] {
				t.Errorf("unknown %d changed from %v to %v", i, before.X[i], after.X[i])
			}
		}
		if after.Redundancy != before.Redundancy || after.SquareSum != before.SquareSum {
			t.Errorf("redundancy, square sum changed from %d, %v to %d, %v", before.Redundancy, before.SquareSum, after.Redundancy, after.SquareSum)
		}
	})
}

// TestOrder: the order of the observations does not matter.
func TestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		turned := Problem{p.Unknowns, rapid.Permutation(p.Observations).Draw(t, "order")}
		a, b := solve(t, p), solve(t, turned)
		for i := range a.X {
			if !alike(a.X[i], b.X[i], 1e-9) {
				t.Errorf("unknown %d = %v, in another order %v", i, a.X[i], b.X[i])
			}
		}
	})
}

// TestInputUnchanged: solving changes neither matrix nor observations.
func TestInputUnchanged(t *testing.T) {
	a := NewMatrix(2, 2)
	copy(a.data, []float64{2, 1, 1, 3})
	b := []float64{1, 2}
	if _, err := NewQR(a).Solve(b); err != nil {
		t.Fatal(err)
	}
	if _, err := NewCholesky(a); err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{2, 1, 1, 3} {
		if a.data[i] != want {
			t.Errorf("matrix element %d is now %v, want %v", i, a.data[i], want)
		}
	}
	if b[0] != 1 || b[1] != 2 {
		t.Errorf("right-hand side is now %v", b)
	}
}
