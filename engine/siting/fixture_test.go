package siting

import (
	"math"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// rod is a target at x metres whose beam must be between two heights.
func rod(x float64, low, high unit.Elevation) reception.Target {
	return reception.Target{At: geom.Point{X: x}, Highest: unit.Length(high - low), Bottom: low}
}

func finished(t *testing.T, p Problem) *Solver {
	t.Helper()
	s, f := New(p, 0)
	if f != nil {
		t.Fatal(f)
	}
	for !s.Step(1_000_000) {
	}
	return s
}

// A cell received only at heights that no benchmark is: another cell of the same
// place is served, and this one's reason is still the benchmark.
func TestBenchmarkHiddenAtACellsHeights(t *testing.T) {
	s := finished(t, Problem{
		Places: []Place{{High: 10}}, Gradients: []geom.Vector{{}}, Need: 1, Receiver: flat{reach: 100},
		Benchmarks: []reception.Target{rod(5, 0, 3)},
		Cells: []Cell{
			{Targets: []reception.Target{rod(20, 1, 2)}, Gradients: []int{0}},
			{Targets: []reception.Target{rod(20, 6, 7)}, Gradients: []int{0}},
		},
	})
	missed := s.Infeasible()
	if len(missed) != 1 || missed[0].Cell != 1 || missed[0].Why != NoBenchmark {
		t.Errorf("Infeasible() = %+v, want cell 1 for want of a benchmark", missed)
	}
}

// told judges each place by its easting.
type told map[float64]unit.Length

func (j told) Setup(at geom.Point, _ int, _ []int) Outlook { return toldOutlook(j[at.X]) }

type toldOutlook unit.Length

func (o toldOutlook) Error(int) (unit.Length, bool) { return unit.Length(o), true }

// An error that is not known is the worst, and its cell is still planned.
func TestUnknownErrorIsWorst(t *testing.T) {
	p := Problem{
		Places: []Place{{High: 10}}, Gradients: []geom.Vector{{}}, Receiver: flat{reach: 100},
		Cells: []Cell{{Targets: []reception.Target{rod(20, 1, 2)}, Gradients: []int{0}}},
	}
	for _, bad := range []unit.Length{unit.Length(math.NaN()), unit.Length(math.Inf(1))} {
		p.Judge = told{0: bad}
		if plan := finished(t, p).Best(); len(plan) != 1 || len(plan[0].Cells) != 1 || !math.IsNaN(float64(plan[0].Error)) {
			t.Errorf("error %v: plan %+v, want one set-up for the cell, its error NaN", bad, plan)
		}
		two := p
		two.Places = append(two.Places, Place{At: geom.Point{X: 30}, High: 10})
		two.Judge = told{0: bad, 30: 0.9}
		if plan := finished(t, two).Best(); len(plan) != 1 || plan[0].At.X != 30 {
			t.Errorf("error %v at 0 m, 0.9 m at 30 m: plan %+v, want it at 30 m", bad, plan)
		}
	}
}

// Surveying anew leaves no bound of the shorter list of candidates behind.
func TestNoStaleBound(t *testing.T) {
	p := Problem{
		Places: []Place{{At: geom.Point{X: -40}, High: 10}, {At: geom.Point{X: 40}, High: 10}}, Gradients: []geom.Vector{{}},
		Receiver: flat{reach: 50}, Spacing: 80,
		Cells: []Cell{
			{Targets: []reception.Target{rod(-30, 1, 2)}, Gradients: []int{0}},
			{Targets: []reception.Target{rod(30, 1, 2)}, Gradients: []int{0}},
		},
		Ground: func(at geom.Point) (Place, bool) { return Place{At: at, High: 10}, true },
	}
	s, _ := New(p, 0)
	for !s.Step(1) {
		if proof := s.Proof(); proof.Bound > 1 && s.stage != Counting {
			t.Fatalf("bound while stage %d = %d, want at most 1: one set-up between serves both", s.stage, proof.Bound)
		}
	}
	if proof := s.Proof(); proof.Count != 1 || !proof.Proven {
		t.Errorf("Proof() = %+v, want one set-up, proven", proof)
	}
}

// A set-up that the rest of a plan has no need of is left out.
func TestNeedlessSetupIsLeftOut(t *testing.T) {
	p := Problem{
		Places: []Place{{High: 10}, {At: geom.Point{X: 30}, High: 10}}, Gradients: []geom.Vector{{}}, Receiver: flat{reach: 100},
		Cells: []Cell{{Targets: []reception.Target{rod(20, 1, 2)}, Gradients: []int{0}}},
	}
	s := finished(t, p)
	s.chosen, s.stage, s.swaps = []int32{0, 1}, Walking, 0 // as a cover cut short may leave it
	for !s.Step(1) {
	}
	if got := len(s.Best()); got != 1 {
		t.Errorf("set-ups planned = %d, want 1", got)
	}
}
