package siting

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// flat receives within a range whatever is between two heights over a target,
// and knows some targets that hide from some places.
type flat struct {
	reach  float64
	hidden map[[2]geom.Point]bool
}

// Within is From's windows together.
func (f flat) Within(l reception.Laser, low, high unit.Elevation, digs []reception.Dig, _ *reception.Scratch) []reception.Window {
	out := make([]reception.Window, len(digs))
	for i, d := range digs {
		out[i] = reception.Window{Low: low, High: high}
		for _, w := range f.From(l, d.Targets, nil) {
			out[i].Low, out[i].High = max(out[i].Low, w.Low), min(out[i].High, w.High)
		}
	}
	return out
}

func (f flat) From(l reception.Laser, targets []reception.Target, _ *reception.Scratch) []reception.Window {
	out := make([]reception.Window, len(targets))
	for i, t := range targets {
		rise := unit.Length(l.Gradient.X*(t.At.X-l.At.X) + l.Gradient.Y*(t.At.Y-l.At.Y))
		out[i] = reception.Window{Low: t.Bottom.Plus(t.Lowest - rise), High: t.Bottom.Plus(t.Highest - rise)}
		switch {
		case t.At.Distance(l.At) > f.reach:
			out[i] = reception.Window{Low: 1, Why: reception.Reason{Kind: reception.TooFar, By: unit.Length(t.At.Distance(l.At) - f.reach)}}
		case f.hidden[[2]geom.Point{l.At, t.At}]:
			out[i] = reception.Window{Low: 1, Why: reception.Reason{Kind: reception.HiddenByObstacle, By: 1, Obstacle: "W1"}}
		}
	}
	return out
}

// farther is a judge whose error grows with distance and falls with the number
// of benchmarks near the laser.
type farther struct {
	p     *Problem
	limit float64
}

func (f farther) Setup(at geom.Point, gradient int, benchmarks []int) Outlook {
	base := 0.001
	for _, b := range benchmarks {
		base += f.p.Benchmarks[b].At.Distance(at) * 1e-5
	}
	return fartherOutlook{f, at, base}
}

type fartherOutlook struct {
	farther
	at   geom.Point
	base float64
}

func (o fartherOutlook) Error(cell int) (unit.Length, bool) {
	e := o.base
	for _, t := range o.p.Cells[cell].Targets {
		e = max(e, o.base+t.At.Distance(o.at)*2e-5)
	}
	return unit.Length(e), e <= o.limit
}

func drawTarget(t *rapid.T, side int) reception.Target {
	x, y := rapid.IntRange(0, side).Draw(t, "x"), rapid.IntRange(0, side).Draw(t, "y")
	z := rapid.IntRange(0, 8).Draw(t, "z")
	return reception.Target{At: geom.Point{X: 10 * float64(x), Y: 10 * float64(y)}, Bottom: unit.Elevation(float64(z) / 4),
		Lowest: 0.5, Highest: unit.Length(rapid.IntRange(2, 8).Draw(t, "rod")) / 2}
}

// drawProblem is a small site: every figure on a coarse lattice, so that ends
// of heights often fall together.
func drawProblem(t *rapid.T) *Problem {
	p := &Problem{Need: rapid.IntRange(0, 2).Draw(t, "need"), Gradients: []geom.Vector{{}, {X: 0.0125}, {X: 0.0125, Y: -0.025}}}
	f := flat{reach: float64(rapid.IntRange(2, 9).Draw(t, "reach")) * 10, hidden: map[[2]geom.Point]bool{}}
	for range rapid.IntRange(1, 5).Draw(t, "places") {
		at := drawTarget(t, 8).At
		low := unit.Elevation(rapid.IntRange(2, 12).Draw(t, "low")) / 4
		p.Places = append(p.Places, Place{At: at, Low: low, High: low + unit.Elevation(rapid.IntRange(0, 6).Draw(t, "legs"))/4})
	}
	for range rapid.IntRange(0, 3).Draw(t, "benchmarks") {
		p.Benchmarks = append(p.Benchmarks, drawTarget(t, 8))
	}
	for range rapid.IntRange(1, 7).Draw(t, "cells") {
		c := Cell{Any: rapid.Bool().Draw(t, "any")}
		for range rapid.IntRange(1, 3).Draw(t, "targets") {
			c.Targets = append(c.Targets, drawTarget(t, 8))
		}
		c.Gradients = rapid.SampledFrom([][]int{{0}, {0}, {0}, {1}, {1, 2}}).Draw(t, "gradients")
		p.Cells = append(p.Cells, c)
	}
	for range rapid.IntRange(0, 6).Draw(t, "hidden") {
		pl := rapid.SampledFrom(p.Places).Draw(t, "from")
		c := rapid.SampledFrom(p.Cells).Draw(t, "cell")
		f.hidden[[2]geom.Point{pl.At, c.Targets[0].At}] = true
	}
	p.Receiver = f
	if rapid.Bool().Draw(t, "judged") {
		p.Judge = farther{p, float64(rapid.IntRange(2, 6).Draw(t, "limit")) * 5e-4}
	}
	return p
}

// servedAt lists by brute force the cells that a place serves at one height, as
// a set of bits, with the error of each.
func servedAt(p *Problem, pl Place, g int, h unit.Elevation) (cells uint, errors []int32) {
	laser := reception.Laser{At: pl.At, Gradient: p.Gradients[g]}
	holds := func(t reception.Target) bool {
		return p.Receiver.From(laser, []reception.Target{t}, nil)[0].Holds(h)
	}
	var marks []int
	for i, b := range p.Benchmarks {
		if holds(b) {
			marks = append(marks, i)
		}
	}
	if len(marks) < p.Need {
		return 0, nil
	}
	slices.SortStableFunc(marks, func(a, b int) int {
		return cmp.Compare(p.Benchmarks[a].At.Distance(pl.At), p.Benchmarks[b].At.Distance(pl.At))
	})
	errors = make([]int32, len(p.Cells))
	for c, cell := range p.Cells {
		some, all := false, true
		for _, t := range cell.Targets {
			if holds(t) {
				some = true
			} else {
				all = false
			}
		}
		ok := all || cell.Any && some
		if p.Judge != nil {
			sigma, good := p.Judge.Setup(pl.At, g, marks[:p.Need]).Error(c)
			errors[c], ok = steps(sigma), ok && good
		}
		if ok && slices.Contains(cell.Gradients, g) {
			cells |= 1 << c
		}
	}
	return cells, errors
}

type slowSet struct {
	cells  uint
	errors []int32
}

// slowSets lists every set-up at every height where anything can change, and
// between.
func slowSets(p *Problem) []slowSet {
	var out []slowSet
	for _, pl := range p.Places {
		for g, gradient := range p.Gradients {
			heights := []unit.Elevation{pl.Low, pl.High}
			laser := reception.Laser{At: pl.At, Gradient: gradient}
			add := func(targets []reception.Target) {
				for _, w := range p.Receiver.From(laser, targets, nil) {
					heights = append(heights, w.Low, w.High)
				}
			}
			add(p.Benchmarks)
			for _, c := range p.Cells {
				add(c.Targets)
			}
			slices.Sort(heights)
			for i, h := range slices.Clone(heights[1:]) {
				heights = append(heights, (heights[i]+h)/2)
			}
			for _, h := range heights {
				if h < pl.Low || h > pl.High {
					continue
				}
				if cells, errors := servedAt(p, pl, g, h); cells != 0 {
					out = append(out, slowSet{cells, errors})
				}
			}
		}
	}
	return out
}

// fewest is the least number of sets that hold all cells that any holds, and
// the least worst error with as many, by trying all choices.
func fewest(sets []slowSet, cells int) (count int, worst int32) {
	var all uint
	for _, s := range sets {
		all |= s.cells
	}
	const none = math.MaxInt32
	var least func(chosen []slowSet, from, left int) int32
	least = func(chosen []slowSet, from, left int) int32 {
		if left == 0 {
			return worstOf(chosen, all, cells)
		}
		best := int32(none)
		for i := from; i < len(sets); i++ {
			best = min(best, least(append(chosen, sets[i]), i+1, left-1))
		}
		return best
	}
	for count = 0; ; count++ {
		if worst := least(nil, 0, count); worst < none {
			return count, worst
		}
	}
}

func worstOf(chosen []slowSet, all uint, cells int) int32 {
	worst := int32(0)
	for c := range cells {
		if all>>c&1 == 0 {
			continue
		}
		best := int32(math.MaxInt32)
		for _, s := range chosen {
			if s.cells>>c&1 == 1 {
				best = min(best, s.errors[c])
			}
		}
		worst = max(worst, best)
	}
	return worst
}

// distinct leaves out sets that another holds with no worse errors.
func distinct(sets []slowSet) []slowSet {
	var out []slowSet
	for i, a := range sets {
		beaten := slices.ContainsFunc(out, func(b slowSet) bool { return holdsAll(b, a) })
		for _, b := range sets[i+1:] {
			beaten = beaten || holdsAll(b, a)
		}
		if !beaten {
			out = append(out, a)
		}
	}
	return out
}

func holdsAll(b, a slowSet) bool {
	if a.cells&^b.cells != 0 {
		return false
	}
	for c := range a.errors {
		if a.cells>>c&1 == 1 && b.errors[c] > a.errors[c] {
			return false
		}
	}
	return true
}

func TestNoPlanIsSmallerOrBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		s := solve(t, p)
		sets := slowSets(p)
		count, worst := fewest(distinct(sets), len(p.Cells))
		proof := s.Proof()
		if proof.Count != count || !proof.Proven {
			t.Fatalf("set-ups = %d (proven %v), want %d by trying all", proof.Count, proof.Proven, count)
		}
		if got := s.worstOf(s.chosen); count > 0 && got != worst {
			t.Fatalf("worst error = %d steps, want %d by trying all", got, worst)
		}
		checkPlan(t, p, s, sets)
	})
}

func solve(t *rapid.T, p *Problem) *Solver {
	s, f := New(*p, 0)
	if f != nil {
		t.Fatalf("New() = %v", f)
	}
	for i := 0; !s.Step(1_000_000); i++ {
		if i > 100_000 {
			t.Fatalf("Step never ends, stage %d", s.stage)
		}
	}
	return s
}

// checkPlan tests the defining property: each cell in exactly one set-up that
// serves it over the whole of its heights.
func checkPlan(t *rapid.T, p *Problem, s *Solver, sets []slowSet) {
	var all uint
	for _, set := range sets {
		all |= set.cells
	}
	by := make([]int, len(p.Cells))
	for _, up := range s.Best() {
		i := slices.IndexFunc(p.Places, func(pl Place) bool { return pl.At == up.At && pl.Low <= up.Low && up.High <= pl.High })
		if i < 0 {
			t.Fatalf("set-up at %v with heights %v to %v is at no place", up.At, up.Low, up.High)
		}
		if !(up.Low <= up.Target && up.Target <= up.High) {
			t.Fatalf("target %v, want within %v to %v", up.Target, up.Low, up.High)
		}
		for _, h := range []unit.Elevation{up.Low, up.Target, up.High} {
			cells, _ := servedAt(p, p.Places[i], up.Gradient, h)
			for _, c := range up.Cells {
				if p.Judge == nil && cells>>c&1 == 0 {
					t.Fatalf("cell %d is not served from %v at %v, want at all heights of the plan", c, up.At, h)
				}
			}
		}
		for _, c := range up.Cells {
			by[c]++
		}
	}
	for c, n := range by {
		if want := int(all >> c & 1); n != want {
			t.Fatalf("cell %d is for %d set-ups, want %d", c, n, want)
		}
	}
	missed := s.Infeasible()
	for _, m := range missed {
		if all>>m.Cell&1 == 1 || m.Why == NotReceived && m.Reception.Kind == reception.Served {
			t.Fatalf("Infeasible() = %+v, want a cell that nothing serves, and why", m)
		}
	}
	if got, want := len(missed), len(p.Cells)-popcount(all); got != want {
		t.Fatalf("Infeasible() lists %d cells, want %d", got, want)
	}
}

func popcount(x uint) (n int) {
	for ; x > 0; x &= x - 1 {
		n++
	}
	return n
}

func TestSameWorkSamePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		a, _ := New(*p, 0)
		b, _ := New(*p, 0)
		for !a.Step(1) {
		}
		for !b.Step(1 << 40) {
		}
		if got, want := a.Best(), b.Best(); !slices.EqualFunc(got, want, sameSetup) {
			t.Fatalf("many small steps plan %+v, one large step %+v", got, want)
		}
	})
}

func sameSetup(a, b Setup) bool {
	return a.At == b.At && a.Gradient == b.Gradient && a.Low == b.Low && a.High == b.High && slices.Equal(a.Cells, b.Cells)
}

func TestTarget(t *testing.T) {
	for _, c := range []struct {
		low, high unit.Elevation
		eyes      [2]unit.Elevation
		want      unit.Elevation
	}{
		{1, 3, [2]unit.Elevation{}, 2},
		{1, 3, [2]unit.Elevation{1.5, 2}, 2.5},
		{1, 3, [2]unit.Elevation{2.5, 3}, 1.75},
		{1, 3, [2]unit.Elevation{0, 4}, 2}, // nothing is left of it
	} {
		if got := target(c.low, c.high, c.eyes); !(math.Abs(float64(got-c.want)) < 1e-12) {
			t.Errorf("target(%v, %v, eyes %v) = %v, want %v", c.low, c.high, c.eyes, got, c.want)
		}
	}
}
