package siting

import (
	"math"

	"spadework/engine/cover"
)

// bettering looks for the smallest worst error that as many set-ups can keep:
// low ≤ it ≤ high, in errorSteps.
type bettering struct {
	low, high int32
	limit     int32 // tried now
	solver    *cover.Solver
	sets      sets
	spent     int64
	tried     int32 // limits below are not known to fail, but were given up
}

// decisions shares the proof work among the limits tried: a range of metres is
// halved some twenty times.
const decisions = 20

// beginBettering starts with what the cover found.
func (s *Solver) beginBettering() {
	s.better = bettering{low: s.leastWorst(), high: s.worstOf(s.chosen)}
	s.better.tried = s.better.low
	s.stage, s.spent = Bettering, 0
}

// leastWorst is the worst over the cells of the best that any candidate does
// there: no plan does better.
func (s *Solver) leastWorst() int32 {
	best := make([]int32, len(s.p.Cells))
	for c := range best {
		best[c] = math.MaxInt32
	}
	for i := range s.candidates {
		for k, c := range s.candidates[i].cells {
			best[c] = min(best[c], s.candidates[i].errors[k])
		}
	}
	worst := int32(0)
	for c, served := range s.served {
		if served {
			worst = max(worst, best[c])
		}
	}
	return worst
}

// worstOf is the worst error of a choice with every cell served by the best of
// its set-ups.
func (s *Solver) worstOf(chosen []int32) int32 {
	worst := int32(0)
	for c, by := range s.assign(chosen) {
		if by.candidate >= 0 && s.served[c] {
			worst = max(worst, by.error)
		}
	}
	return worst
}

// assigned is which set-up serves a cell, −1 for none, and how well.
type assigned struct{ candidate, error int32 }

// assign gives every cell to the set-up that does it best, the first of equals.
func (s *Solver) assign(chosen []int32) []assigned {
	out := make([]assigned, len(s.p.Cells))
	for c := range out {
		out[c] = assigned{-1, math.MaxInt32}
	}
	for _, i := range chosen {
		for k, c := range s.candidates[i].cells {
			if e := s.candidates[i].errors[k]; e < out[c].error {
				out[c] = assigned{i, e}
			}
		}
	}
	return out
}

// improve halves the open range of the worst error once, as far as work goes.
func (s *Solver) improve(work int64) {
	b := &s.better
	if b.solver == nil {
		if b.tried >= b.high {
			s.stage = Walking
			return
		}
		b.limit = b.tried + (b.high-b.tried)/2
		b.sets = setsOf(s.candidates, s.element, b.limit)
		b.sets.problem.Elements = s.sets.problem.Elements
		b.solver, b.spent = mustCover(b.sets.problem), 0
	}
	before := b.solver.Work()
	share := s.proofWork / decisions
	done := b.solver.Step(min(work, max(share-b.spent, 1), decisionStep))
	used := max(b.solver.Work()-before, 1)
	s.work += used
	s.spent += used
	b.spent += used
	s.decide(done || b.spent >= share)
}

// decisionStep is how much work goes by before a decision is looked for.
const decisionStep = 5_000_000

// decide ends a trial where the cover is small enough, cannot be, or has had
// its share of work.
func (s *Solver) decide(ended bool) {
	b := &s.better
	count := int64(len(s.chosen))
	switch {
	case len(b.solver.Infeasible()) > 0 || b.solver.Bound() > count:
		if b.low == b.tried {
			b.low = b.limit + 1
		}
		b.tried = b.limit + 1
	case b.solver.Best().Cost <= count:
		s.chosen = s.chosen[:0]
		for _, set := range b.solver.Best().Sets {
			s.chosen = append(s.chosen, b.sets.members[set][0])
		}
		b.high = s.worstOf(s.chosen)
	case ended:
		b.tried = b.limit + 1
	default:
		return
	}
	b.solver = nil
}
