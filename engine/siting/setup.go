package siting

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// Setup is a planned set-up: a place and a window of beam heights.
type Setup struct {
	At         geom.Point
	Gradient   int
	Low, High  unit.Elevation // of the beam, that serve all its cells and reach its benchmarks
	Target     unit.Elevation // within them
	Cells      []int          // that it is for, rising
	Also       []int          // that it serves besides, rising; another set-up does them better
	Benchmarks []int          // to read, nearest first
	Error      unit.Length    // standard error of its worst cell; NaN where one is not known, 0 without a Judge
}

// current is the choice so far: the cover at hand before one is chosen.
func (s *Solver) current() []int32 {
	if s.stage != Counting || s.solver == nil {
		return s.chosen
	}
	var out []int32
	for _, set := range s.solver.Best().Sets {
		out = append(out, s.sets.members[set][0])
	}
	return out
}

// Best is the plan so far, in the order of walking. While places are first
// surveyed there is none.
func (s *Solver) Best() []Setup {
	chosen := s.current()
	cells := s.assign(chosen)
	out := make([]Setup, 0, len(chosen))
	for _, i := range chosen {
		out = append(out, s.setup(i, cells))
	}
	return out
}

// setup is a candidate as planned, its heights as wide as what it is for
// allows.
func (s *Solver) setup(i int32, cells []assigned) Setup {
	c := &s.candidates[i]
	out := Setup{At: s.spot(i), Gradient: int(c.gradient), Benchmarks: c.benchmarks}
	worst := int32(0)
	for _, cell := range c.cells {
		if cells[cell].candidate == i {
			out.Cells = append(out.Cells, int(cell))
			worst = max(worst, cells[cell].error)
		} else {
			out.Also = append(out.Also, int(cell))
		}
	}
	out.Error = lengthOf(worst)
	low, high := s.heights(i, out.Cells)
	out.Low, out.High = unit.Elevation(low), unit.Elevation(high)
	out.Target = target(out.Low, out.High, s.places[c.place].Eyes)
	return out
}

// heights widens a candidate's heights to all that serve some of its cells and
// its benchmarks.
func (s *Solver) heights(i int32, cells []int) (low, high float64) {
	c := &s.candidates[i]
	pl := s.places[c.place]
	low, high = float64(pl.Low), float64(pl.High)
	var scratch reception.Scratch
	laser := reception.Laser{At: pl.At, Gradient: s.p.Gradients[c.gradient]}
	narrow := func(spans []span) {
		for _, sp := range spans {
			if sp.low <= c.low && c.high <= sp.high {
				low, high = max(low, sp.low), min(high, sp.high)
			}
		}
	}
	for _, cell := range cells {
		windows := s.p.Receiver.From(laser, s.p.Cells[cell].Targets, &scratch)
		narrow(serving(s.p.Cells[cell], windows))
	}
	for _, b := range c.benchmarks {
		w := s.p.Receiver.From(laser, s.p.Benchmarks[b:b+1], &scratch)[0]
		narrow([]span{{float64(w.Low), float64(w.High), 0}})
	}
	return low, high
}

// target is the height to aim at: the middle of the wider part of the range
// that is not at the height of eyes, of all of it where nothing is left.
func target(low, high unit.Elevation, eyes [2]unit.Elevation) unit.Elevation {
	under, over := min(high, eyes[0])-low, high-max(low, eyes[1])
	switch {
	case !(eyes[0] < eyes[1]) || math.Max(float64(under), float64(over)) <= 0:
		return low + (high-low)/2
	case under >= over:
		return low + under/2
	}
	return high - over/2
}

// Alternative is the next-best place for a set-up, at least a spacing away, with
// the others where they are.
type Alternative struct {
	Found bool // false where no other place serves what only this one serves
	At    geom.Point
	Error unit.Length // worst error of the plan with it
	Walk  float64     // metres of the plan with it
}

// Alternatives tells for each set-up of Best what another place would cost:
// least error first, then least walking.
func (s *Solver) Alternatives() []Alternative {
	chosen := s.current()
	out := make([]Alternative, len(chosen))
	for i := range chosen {
		out[i] = s.alternative(chosen, i)
		out[i].Walk /= 1e6
	}
	return out
}

// able lists, rising, candidates among which are all that serve some cells.
func (s *Solver) able(cells []int32) []int32 {
	if len(cells) > 0 {
		return s.serving[cells[0]]
	}
	out := make([]int32, len(s.candidates))
	for j := range out {
		out[j] = int32(j)
	}
	return out
}

// alternative has Walk in micrometres.
func (s *Solver) alternative(chosen []int32, i int) Alternative {
	var best Alternative
	var bestWorst int32
	needed := s.needed(i, math.MaxInt32-1)
	trial := append([]int32(nil), chosen...)
	for _, j := range s.able(needed) {
		c := &s.candidates[j]
		if s.spot(j).Distance(s.spot(chosen[i])) < float64(s.p.Spacing) || !serves(c, needed, math.MaxInt32) {
			continue
		}
		trial[i] = j
		worst, walk := s.worstOf(trial), s.walking(trial)
		if !best.Found || worst < bestWorst || worst == bestWorst && walk < best.Walk-leastSaving {
			best = Alternative{Found: true, At: s.spot(j), Error: lengthOf(worst), Walk: walk}
			bestWorst = worst
		}
	}
	return best
}

// Reach is how much a place serves at its best height.
type Reach struct {
	At    geom.Point
	Cells int
}

// Reaches tells it of every place that was looked at.
func (s *Solver) Reaches() []Reach {
	out := make([]Reach, s.next)
	for i := range out {
		out[i].At = s.places[i].At
	}
	for i := range s.candidates {
		c := &s.candidates[i]
		out[c.place].Cells = max(out[c.place].Cells, len(c.cells))
	}
	return out
}
