package siting_test

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/reception"
	"spadework/engine/siting"
)

// goldenPlan is the hash of a whole plan, bit by bit. The check command runs it
// natively and in WebAssembly: both must say the same (formulations, point 1).
const goldenPlan = "f3cb46500efc366d8754cfeb"

var small = size{digs: 60, nodes: 4_000, places: 100, side: 240}

func planned(t testing.TB, j *job) *siting.Solver {
	s, f := siting.New(j.problem, 0)
	if f != nil {
		t.Fatal(f)
	}
	for !s.Step(10_000_000) {
	}
	return s
}

func TestPlanIsTheSameOnEveryMachine(t *testing.T) {
	s := planned(t, newJob(t, small))
	sum := sha256.New()
	for _, u := range s.Best() {
		fmt.Fprintf(sum, "%b %b %d %b %b %b %v %v %v %b\n", u.At.X, u.At.Y, u.Gradient, float64(u.Low), float64(u.High), float64(u.Target), u.Cells, u.Also, u.Benchmarks, float64(u.Error))
	}
	fmt.Fprintf(sum, "%v %b\n", s.Proof(), s.Walk())
	for _, m := range s.Infeasible() {
		fmt.Fprintf(sum, "%d %d %b %v\n", m.Cell, m.Why, float64(m.By), m.Reception.Kind)
	}
	if got := hex.EncodeToString(sum.Sum(nil)[:12]); got != goldenPlan || len(s.Best()) < 3 {
		t.Errorf("hash of a plan of %d set-ups = %s, want %s", len(s.Best()), got, goldenPlan)
	}
}

// The choice is the same far from the origin: same cells, same benchmarks, same
// places to 0.1 mm.
func TestPlanIsTheSameFarFromTheOrigin(t *testing.T) {
	far := small
	far.move = geom.Vector{X: 500_000, Y: 4_900_000}
	near, moved := planned(t, newJob(t, small)).Best(), planned(t, newJob(t, far)).Best()
	if len(near) != len(moved) || len(near) < 3 {
		t.Fatalf("%d set-ups, moved %d, want as many, 3 or more", len(near), len(moved))
	}
	for i, a := range near {
		b := moved[i]
		off := b.At.Sub(a.At.Add(far.move)).Length()
		if !(off < 1e-4) || a.Gradient != b.Gradient || !slices.Equal(a.Cells, b.Cells) || !slices.Equal(a.Benchmarks, b.Benchmarks) {
			t.Errorf("set-up %d: %+v, moved %+v, want the same", i, a, b)
		}
		if d := math.Abs(float64(a.Target - b.Target)); !(d < 1e-6) { // the ground's heights between nodes are rounded
			t.Errorf("set-up %d: target %v, moved %v, want the same to a micrometre", i, a.Target, b.Target)
		}
	}
}

// Best is a valid plan at any moment, and the portions of work do not matter.
func TestBestAtAnyMoment(t *testing.T) {
	j := newJob(t, small)
	want := planned(t, j).Best()
	for _, portion := range []int64{1, 30_000, 7_000_000} {
		s, _ := siting.New(j.problem, 0)
		last, stages := siting.Surveying, map[siting.Stage]bool{}
		for done, step := false, 0; !done; step++ {
			done = s.Step(portion)
			stage, at, total := s.Stage()
			stages[stage] = true
			if at < 0 || at > total {
				t.Fatalf("Stage() = %d, %d of %d, want at most all", stage, at, total)
			}
			if stage != last || done || step%29 == 0 {
				validSoFar(t, j, s)
			}
			last = stage
		}
		if portion == 1 && len(stages) < 4 {
			t.Errorf("stages seen = %v, want all", stages)
		}
		if got := s.Best(); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("portions of %d end with %v, want %v", portion, got, want)
		}
	}
}

// validSoFar checks that every cell is in one set-up at most and is received
// from it at its target height, as the field alone says.
func validSoFar(t *testing.T, j *job, s *siting.Solver) {
	t.Helper()
	seen := map[int]bool{}
	for _, u := range s.Best() {
		laser := laserOf(j, u)
		for _, c := range u.Cells {
			if seen[c] {
				t.Fatalf("cell %d is in two set-ups", c)
			}
			seen[c] = true
			for _, target := range j.problem.Cells[c].Targets {
				if !j.field.Serves(laser, u.Target, target) {
					t.Fatalf("cell %d is not received from %v at %v", c, u.At, u.Target)
				}
			}
		}
		for _, b := range u.Benchmarks {
			if !j.field.Serves(laser, u.Target, j.problem.Benchmarks[b]) {
				t.Fatalf("benchmark %d is not received from %v at %v", b, u.At, u.Target)
			}
		}
	}
}

func laserOf(j *job, u siting.Setup) reception.Laser {
	return reception.Laser{At: u.At, Gradient: j.problem.Gradients[u.Gradient]}
}
