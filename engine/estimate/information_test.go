package estimate

import (
	"math"
	"testing"

	"spadework/engine/real"

	"pgregory.net/rapid"
)

func observeAll(t *rapid.T, p Problem) *Information {
	in := NewInformation(p.Unknowns)
	for _, o := range p.Observations {
		if err := in.Observe(o); err != nil {
			t.Fatal(err)
		}
	}
	return in
}

// TestNoPriorIsLeastSquares: observed one by one from knowing nothing, values
// and covariances are those of least squares.
func TestNoPriorIsLeastSquares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		s, b := solve(t, p), observeAll(t, p).Belief()
		for i := range p.Unknowns {
			v, ok := b.Of(Term{i, 1})
			if !ok || !alike(v.Mean, s.X[i], 1e-8) || !alike(v.Variance, s.Cofactor.At(i, i), 1e-8) {
				t.Errorf("unknown %d = %v, %v, want %v, %v", i, v, ok, s.X[i], s.Cofactor.At(i, i))
			}
			for j := range p.Unknowns {
				c, ok := b.Covariance([]Term{{i, 1}}, []Term{{j, 1}})
				if !ok || !alike(c, s.Cofactor.At(i, j), 1e-8) {
					t.Errorf("covariance %d, %d = %v, want %v", i, j, c, s.Cofactor.At(i, j))
				}
			}
		}
	})
}

// TestEvidenceChain: the evidence of all values is that of the first ones plus
// the density of each next one as predicted.
func TestEvidenceChain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		in := observeAll(t, p)
		o := drawObservation(t, p.Unknowns)
		before, _ := in.Belief().LogEvidence()
		v, _ := in.Belief().Of(o.Terms...)
		spread := v.Variance + 1/o.Weight
		miss := o.Value - v.Mean
		want := before - 0.5*(miss*miss/spread+real.Log(2*math.Pi*spread))
		if err := in.Observe(o); err != nil {
			t.Fatal(err)
		}
		got, ok := in.Belief().LogEvidence()
		if !ok || !alike(got, want, 1e-7) {
			t.Errorf("LogEvidence = %v, want %v by prediction", got, want)
		}
	})
}

// TestPartlyKnown: a difference is determined while its ends are not, and the
// sum of both open ends has no value.
func TestPartlyKnown(t *testing.T) {
	in := NewInformation(3)
	if err := in.Observe(difference(0, 1, 1.25, 4)); err != nil {
		t.Fatal(err)
	}
	b := in.Belief()
	if v, ok := b.Of(Term{0, -1}, Term{1, 1}); !ok || !alike(v.Mean, 1.25, 1e-15) || !alike(v.Variance, 0.25, 1e-15) {
		t.Errorf("difference = %v, %v, want 1.25 and variance 0.25", v, ok)
	}
	for _, f := range [][]Term{{{0, 1}}, {{0, 1}, {1, 1}}, {{2, 1}}, {{0, -1}, {1, 1}, {2, 1e-3}}} {
		if v, ok := b.Of(f...); ok {
			t.Errorf("Of(%v) = %v, want open", f, v)
		}
	}
	if _, ok := b.Mean(); ok {
		t.Error("Mean is told while unknowns are open")
	}
	if _, ok := b.LogEvidence(); ok {
		t.Error("LogEvidence is told while unknowns are open")
	}
	if _, ok := b.Covariance([]Term{{0, 1}}, []Term{{1, 1}}); ok {
		t.Error("Covariance of open unknowns is told")
	}
	if v, ok := b.Of(); !ok || v.Mean != 0 || v.Variance != 0 {
		t.Errorf("the function of nothing = %v, %v, want 0", v, ok)
	}
}

// TestBelief3Points: a beam (height, two tilts) read on two points leaves open
// what a third decides.
func TestBelief3Points(t *testing.T) {
	in := NewInformation(3)
	read := func(x, y, miss float64) {
		if err := in.Observe(Observation{[]Term{{0, 1}, {1, x}, {2, y}}, miss, 1 / (0.002 * 0.002)}); err != nil {
			t.Fatal(err)
		}
	}
	read(30, 0, 0.004)
	read(0, 20, -0.002)
	if v, ok := in.Belief().Of(Term{0, 1}, Term{1, 15}, Term{2, 10}); !ok || !alike(v.Mean, 0.001, 1e-12) || !alike(v.Variance, 2e-6, 1e-9) {
		t.Errorf("midway between = %v, %v, want 1 mm, variance 2 mm²", v, ok)
	}
	if v, ok := in.Belief().Of(Term{0, 1}, Term{1, 30}, Term{2, 20}); ok {
		t.Errorf("beyond = %v, want open", v)
	}
	earlier := in.Clone()
	read(0, 0, 0)
	if v, ok := in.Belief().Of(Term{0, 1}, Term{1, 30}, Term{2, 20}); !ok || !alike(v.Mean, 0.002, 1e-10) {
		t.Errorf("beyond, after a third point = %v, %v, want 2 mm", v, ok)
	}
	if _, ok := earlier.Belief().Mean(); ok {
		t.Error("a clone changed with its original")
	}
}

// TestLearningOrder: the belief does not depend on the order of observations.
func TestLearningOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		turned := Problem{p.Unknowns, rapid.Permutation(p.Observations).Draw(t, "order")}
		a, _ := observeAll(t, p).Belief().Mean()
		b, _ := observeAll(t, turned).Belief().Mean()
		for i := range a {
			if !alike(a[i], b[i], 1e-8) {
				t.Errorf("unknown %d = %v, in another order %v", i, a[i], b[i])
			}
		}
	})
}
