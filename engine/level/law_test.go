package level

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/unit"
)

// drawRun is a run of some set-ups with intermediate sights, every sight length
// noted.
func drawRun(t *rapid.T) Run {
	reading := rapid.Map(rapid.IntRange(0, 5000), func(mm int) unit.Reading { return unit.Reading(mm) / 1000 })
	distance := rapid.Map(rapid.IntRange(1, 80), func(m int) unit.Length { return unit.Length(m) })
	sight := func(what string) Sight { return RodAt(reading.Draw(t, what), distance.Draw(t, "distance")) }
	run := Run{Start: Mark{"P0", unit.Elevation(rapid.IntRange(-100, 3000).Draw(t, "datum"))}}
	setups := rapid.IntRange(1, 8).Draw(t, "set-ups")
	for k := range setups {
		if k == 0 {
			run.Lines = append(run.Lines, Line{Point: "P0"})
		}
		run.Lines[len(run.Lines)-1].Back = sight("back")
		for i := range rapid.IntRange(0, 2).Draw(t, "intermediate sights") {
			run.Lines = append(run.Lines, Line{Point: "I" + strconv.Itoa(10*k+i), Intermediate: sight("intermediate")})
		}
		run.Lines = append(run.Lines, Line{Point: "P" + strconv.Itoa(k+1), Fore: sight("fore")})
	}
	return run
}

func mustReduce(t *rapid.T, run Run) *Reduction {
	r, err := Reduce(run)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestPageCheckLaw: ΣBS − ΣFS = last − first.
func TestPageCheckLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		if r := mustReduce(t, drawRun(t)); !within(r.PageCheck(), 0, 1e-10) {
			t.Errorf("page check = %v m, want 0", r.PageCheck())
		}
	})
}

// TestDatum: shifting the datum shifts every elevation and no difference.
func TestDatum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := drawRun(t)
		before := mustReduce(t, run)
		shift := unit.Length(rapid.IntRange(-5000, 5000).Draw(t, "shift"))
		run.Start.Elevation = run.Start.Elevation.Plus(shift)
		after := mustReduce(t, run)
		for i, row := range after.Rows {
			if !within(row.Elevation.Above(before.Rows[i].Elevation), shift, 1e-10) {
				t.Errorf("%s rose by %v m, want %v m", row.Point, row.Elevation.Above(before.Rows[i].Elevation), shift)
			}
		}
		if after.SumBack != before.SumBack || after.SumFore != before.SumFore {
			t.Error("the sums of sights changed with the datum")
		}
	})
}

// TestReversed: a run walked backwards, backsights for foresights, has the
// opposite difference.
func TestReversed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := drawRun(t)
		there := mustReduce(t, run)
		run.Lines = slices.Clone(run.Lines)
		slices.Reverse(run.Lines)
		for i := range run.Lines {
			run.Lines[i].Back, run.Lines[i].Fore = run.Lines[i].Fore, run.Lines[i].Back
		}
		run.Start.Point = run.Lines[0].Point
		back := mustReduce(t, run)
		if !within(back.Last.Above(back.First), -there.Last.Above(there.First), 1e-10) {
			t.Errorf("there %v m, back %v m", there.Last.Above(there.First), back.Last.Above(back.First))
		}
	})
}

// TestClosesExactly: an adjusted run ends on its known point, its start is not
// moved, and corrections grow along it, by either method.
func TestClosesExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := drawRun(t)
		open := mustReduce(t, run)
		end := Mark{run.Lines[len(run.Lines)-1].Point, open.Last.Plus(unit.Length(rapid.IntRange(-50, 50).Draw(t, "mm")) / 1000)}
		run.Close = &end
		r := mustReduce(t, run)
		for _, m := range []Method{BySetup, ByDistance} {
			adjusted, err := r.Adjust(m)
			if err != nil {
				t.Fatal(err)
			}
			last := adjusted.Rows[len(adjusted.Rows)-1]
			if !within(last.Adjusted.Above(end.Elevation), 0, 1e-12) {
				t.Errorf("method %d: the run ends %v m off its known point", m, last.Adjusted.Above(end.Elevation))
			}
			if adjusted.Rows[0].Adjusted != run.Start.Elevation {
				t.Errorf("method %d: the start moved to %v", m, adjusted.Rows[0].Adjusted)
			}
			for i := 1; i < len(adjusted.Rows); i++ {
				if math.Abs(float64(adjusted.Rows[i].Correction)) < math.Abs(float64(adjusted.Rows[i-1].Correction)) {
					t.Errorf("method %d: the correction shrinks at %s", m, adjusted.Rows[i].Point)
				}
			}
		}
	})
}

// drawNetwork is a chain of points from a benchmark with random cross ties.
func drawNetwork(t *rapid.T) Network {
	n := Network{Fixed: []Mark{{"P0", unit.Elevation(rapid.IntRange(-100, 3000).Draw(t, "datum"))}}, Weights: Absolute}
	points := rapid.IntRange(2, 8).Draw(t, "points")
	for i := 1; i < points; i++ {
		n.Differences = append(n.Differences, drawDifference(t, i-1, i))
	}
	for range rapid.IntRange(0, 8).Draw(t, "ties") {
		a := rapid.IntRange(0, points-2).Draw(t, "a")
		n.Differences = append(n.Differences, drawDifference(t, a, rapid.IntRange(a+1, points-1).Draw(t, "b")))
	}
	return n
}

func drawDifference(t *rapid.T, a, b int) Difference {
	return Difference{From: "P" + strconv.Itoa(a), To: "P" + strconv.Itoa(b),
		Rise:   unit.Length(rapid.IntRange(-9999, 9999).Draw(t, "mm")) / 1000,
		Weight: float64(rapid.IntRange(1, 100).Draw(t, "weight"))}
}

func mustAdjust(t *rapid.T, n Network) *Adjusted {
	a, err := n.Adjust()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// sameHeights compares two adjustments of the same points.
func sameHeights(t *rapid.T, what string, a, b *Adjusted, shift unit.Length) {
	for _, h := range a.Heights {
		other, ok := b.Height(h.Point)
		if !ok || !within(other.Elevation.Above(h.Elevation), shift, 1e-10) || !within(other.StandardError, h.StandardError, 1e-10) {
			t.Errorf("%s: %s = %v ± %v m, before %v ± %v m", what, h.Point, other.Elevation, other.StandardError, h.Elevation, h.StandardError)
		}
	}
}

// TestNetworkLaws: weight 0 changes nothing; the order of differences and turning
// one round change nothing; the datum shifts all alike; adjusted differences
// close every loop; there are as many loops as redundant differences.
func TestNetworkLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		a := mustAdjust(t, n)

		idle := n
		idle.Differences = append(slices.Clone(n.Differences), Difference{From: "P1", To: "P0", Rise: 99})
		sameHeights(t, "with weight 0", a, mustAdjust(t, idle), 0)

		turned := n
		turned.Differences = rapid.Permutation(n.Differences).Draw(t, "order")
		d := turned.Differences[0]
		turned.Differences[0].From, turned.Differences[0].To, turned.Differences[0].Rise = d.To, d.From, -d.Rise
		sameHeights(t, "in another order", a, mustAdjust(t, turned), 0)

		lifted := n
		lifted.Fixed = []Mark{{"P0", n.Fixed[0].Elevation + 1000}}
		sameHeights(t, "lifted", a, mustAdjust(t, lifted), 1000)

		closed := n
		closed.Differences = slices.Clone(n.Differences)
		for i := range closed.Differences {
			closed.Differences[i].Rise += a.Residuals[i].Residual
		}
		loops, err := closed.Loops()
		if err != nil || len(loops) != a.Redundancy {
			t.Fatalf("%d loops, %v; want %d", len(loops), err, a.Redundancy)
		}
		for _, l := range loops {
			if !within(l.Misclosure, 0, 1e-12) {
				t.Errorf("adjusted loop %v misses by %v m, want 0 (tol 1e-12 m)", l.Points, l.Misclosure)
			}
		}
	})
}

func BenchmarkNetwork300(b *testing.B) {
	n := Network{Fixed: []Mark{{"P0", 100}}}
	for i := 1; i < 300; i++ {
		for _, j := range []int{i - 1, i * 7919 % i} {
			n.Differences = append(n.Differences, Difference{From: "P" + strconv.Itoa(j), To: "P" + strconv.Itoa(i), Rise: 0.1, Weight: 1})
		}
	}
	for b.Loop() {
		if _, err := n.Adjust(); err != nil {
			b.Fatal(err)
		}
	}
}
