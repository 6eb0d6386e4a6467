package stands

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// TestSmallStepsEndAlike: the plan is the same whatever the steps.
func TestSmallStepsEndAlike(t *testing.T) {
	for seed := range uint64(4) {
		p := site(t, seed)
		want, bound := Solve(p)
		s, steps := New(p, 0), 0
		for last := s.Stage(); !s.Step(1); steps++ {
			if s.Stage() < last {
				t.Fatalf("seed %d: stage %d after %d", seed, s.Stage(), last)
			}
			last = s.Stage()
			if x := s.Progress(); !(x >= 0 && x <= 1) {
				t.Fatalf("seed %d: Progress = %v", seed, x)
			}
		}
		got, ok := s.Best()
		if !ok || steps < 10 || !reflect.DeepEqual(got, want) || s.Bound() != bound {
			t.Errorf("seed %d: %d small steps end in %+v, bound %d, want %+v, %d", seed, steps, got, s.Bound(), want, bound)
		}
	}
}

// TestTrenchInOrderIsProven: a gravity pipe's trench on open ground reaches the
// exact number of stands, from its low end on.
func TestTrenchInOrderIsProven(t *testing.T) {
	for _, n := range []int{1, 4, 9, 16} {
		p := Problem{Machine: digger(t), Setback: 0.6, SpoilSetback: 0.6, Entry: geom.Point{X: -6, Y: -6}}
		addRun(&p, geom.Point{X: 3.3}, geom.Vector{Y: 1}, n, 1.6)
		p.Digs[0].InOrder = true
		s := New(p, 0)
		s.Step(math.MaxInt64)
		plan, _ := s.Best()
		if v := Play(p, plan); v != nil || len(plan.Unserved) > 0 {
			t.Fatalf("%d cells: Play = %+v, %d not served", n, v, len(plan.Unserved))
		}
		if len(plan.Visits) != s.Bound() {
			t.Errorf("%d cells: %d stands, bound %d", n, len(plan.Visits), s.Bound())
		}
		next := 0
		for _, v := range plan.Visits {
			for _, c := range v.Cells {
				if c != next {
					t.Fatalf("%d cells: cell %d dug, want %d", n, c, next)
				}
				next++
			}
		}
	}
}

// TestReasons: each cell that cannot be dug is told why.
func TestReasons(t *testing.T) {
	north := geom.Vector{Y: 1}
	base := func() Problem {
		p := Problem{Machine: digger(t), Setback: 0.6, SpoilSetback: 0.6, Entry: geom.Point{X: -8, Y: 0}}
		addRun(&p, geom.Point{}, north, 1, 1.2)
		return p
	}
	for _, c := range []struct {
		name  string
		spoil func(p *Problem)
		want  []Why
	}{
		{"all well", func(*Problem) {}, nil},
		{"too deep", func(p *Problem) { p.Cells[0].Depth = 3.5 }, []Why{NoReach}},
		{"no number", func(p *Problem) { p.Cells[0].Depth = unit.Length(math.NaN()) }, []Why{NotConvex}},
		{"clockwise", func(p *Problem) { p.Cells[0].Ring = p.Cells[0].Ring.Reversed() }, []Why{NotConvex}},
		{"ground all kept out", func(p *Problem) { p.Keepouts = []geom.Ring{geom.Rectangle(geom.Point{}, north, 14, 14)} }, []Why{NoGround}},
		{"walled in", func(p *Problem) {
			for _, w := range []geom.Point{{X: 10}, {X: -6}, {Y: 10}, {Y: -10}} {
				p.Keepouts = append(p.Keepouts, geom.Rectangle(w, geom.Vector{X: -w.Y, Y: w.X}.Unit(), 40, 0.5))
			}
		}, []Why{NoWay}},
		{"round in a circle", func(p *Problem) {
			addRun(p, geom.Point{X: 12}, north, 1, 1.2)
			p.Digs[0].Before, p.Digs[1].Before = []int{1}, []int{0}
		}, []Why{Ambiguous, Ambiguous}},
		{"waits for one too deep", func(p *Problem) {
			addRun(p, geom.Point{X: 12}, north, 1, 1.2)
			p.Digs[0].Before, p.Cells[0].Depth = []int{1}, 1.2
			p.Cells[1].Depth = 3.5
			p.Digs[0].Before, p.Digs[1].Before = nil, []int{0}
		}, []Why{Waits, NoReach}},
		{"machine not known", func(p *Problem) { p.Machine.Base.Length = 0 }, []Why{NoReach}},
	} {
		p := base()
		c.spoil(&p)
		plan, _ := Solve(p)
		var got []Why
		for _, u := range plan.Unserved {
			got = append(got, u.Why)
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: reasons %v, want %v", c.name, got, c.want)
		}
		if v := Play(p, plan); v != nil {
			t.Errorf("%s: Play = %+v", c.name, *v)
		}
	}
}

// yardOf is a job of short trenches at a fixed density, four cells each.
func yardOf(t testing.TB, cells int) Problem {
	p := Problem{Machine: digger(t), Setback: 0.6, SpoilSetback: 0.6, Entry: geom.Point{X: -6, Y: -6}}
	wide := int(math.Ceil(math.Sqrt(float64(cells / 4))))
	for i := range cells / 4 {
		a := float64(i)
		addRun(&p, geom.Point{X: 12 * float64(i%wide), Y: 12 * float64(i/wide)}, geom.Vector{X: math.Sin(a), Y: math.Cos(a)}, 4, 1+0.3*float64(i%4))
		p.Digs[len(p.Digs)-1].InOrder = i%3 == 0
	}
	return p
}

func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{125, 500, 2000} {
		b.Run(fmt.Sprintf("cells=%d", n), func(b *testing.B) {
			p := yardOf(b, n)
			for range b.N {
				plan, bound := Solve(p)
				b.ReportMetric(float64(len(plan.Visits)), "stands")
				b.ReportMetric(float64(bound), "bound")
				b.ReportMetric(float64(len(plan.Unserved)), "unserved")
				b.ReportMetric(float64(plan.Travel), "m")
			}
		})
	}
}
