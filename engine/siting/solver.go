package siting

import (
	"math"

	"spadework/engine/cover"
	"spadework/engine/phrase"
)

// Stage is what a Solver is at.
type Stage uint8

// The stages, in their order; counting may lead back to surveying.
const (
	Surveying  Stage = iota // who is received from where
	Counting                // fewest set-ups
	Bettering               // smallest worst error
	Walking                 // least walking
	Explaining              // why cells are not served
	Finished
)

// refinements is how often places are added near good ones, each time at half
// the distance.
const refinements = 2

// DefaultProofWork is how much work goes into proving the fewest set-ups before
// the best plan so far is taken with its gap: some three seconds.
const DefaultProofWork = 3_000_000_000

// Solver works on one Problem. See the package comment.
type Solver struct {
	p          Problem
	proofWork  int64
	places     []Place
	surveys    [hands]*survey
	served     []bool    // by cell: some candidate does
	serving    [][]int32 // by cell: the candidates that do, rising
	next       int       // place to survey
	explained  *explainer
	candidates []candidate
	stage      Stage
	round      int // of refining
	work       int64
	spent      int64 // of it on the count at hand

	element []int32
	sets    sets
	solver  *cover.Solver
	bound   int64
	better  bettering
	swaps   int     // of set-ups for less walking
	chosen  []int32 // candidates, in the order of walking
}

// New starts on a problem. proofWork ≤ 0 is DefaultProofWork. A gradient of a
// cell that the problem does not have is a fault.
func New(p Problem, proofWork int64) (*Solver, *phrase.Fault) {
	for _, c := range p.Cells {
		for _, g := range c.Gradients {
			if g < 0 || g >= len(p.Gradients) {
				return nil, phrase.NewFault(phrase.New("siting.gradient", phrase.With("cell", c.ID), phrase.With("gradient", g)), phrase.Message{})
			}
		}
	}
	if proofWork <= 0 {
		proofWork = DefaultProofWork
	}
	s := &Solver{p: p, proofWork: proofWork, places: append([]Place(nil), p.Places...), served: make([]bool, len(p.Cells)), serving: make([][]int32, len(p.Cells))}
	s.surveys[0] = newSurvey(&s.p)
	for h := 1; h < hands; h++ {
		s.surveys[h] = s.surveys[0].another()
	}
	return s, nil
}

// Step works until the count of work, in elementary operations, is spent or
// nothing is left to do, and returns whether it is. It may overrun by one task,
// some million operations.
func (s *Solver) Step(work int64) (done bool) {
	for limit := s.work + work; s.stage != Finished && s.work < limit; {
		switch s.stage {
		case Surveying:
			s.look()
		case Counting:
			s.count(limit - s.work)
		case Bettering:
			s.improve(limit - s.work)
		case Walking:
			s.walk()
		case Explaining:
			s.lookAgain()
		}
	}
	return s.stage == Finished
}

// Stage is what the solver is at, with how far it is: of places, or of the
// work that a proof may take.
func (s *Solver) Stage() (stage Stage, done, total int64) {
	if s.stage == Surveying {
		return s.stage, int64(s.next), int64(len(s.places))
	}
	if s.stage == Explaining {
		return s.stage, int64(s.explained.next), int64(len(s.places))
	}
	return s.stage, min(s.spent, s.proofWork), s.proofWork
}

// beginCount sets up the cover of what the candidates serve.
func (s *Solver) beginCount() {
	count := 0
	s.element, count = elements(s.served)
	s.sets = setsOf(s.candidates, s.element, math.MaxInt32)
	s.sets.problem.Elements = count
	s.solver = mustCover(s.sets.problem)
	s.stage, s.spent = Counting, 0
}

// mustCover starts a cover that is well made by construction.
func mustCover(p cover.Problem) *cover.Solver {
	solver, err := cover.New(p)
	if err != nil {
		panic("siting: " + err.Error())
	}
	return solver
}

// count works on the fewest set-ups; before the last round it is content with a
// good cover, which says where to refine.
func (s *Solver) count(work int64) {
	limit := s.proofWork
	if s.refines() {
		limit /= 20
	}
	before := s.solver.Work()
	done := s.solver.Step(min(work, max(limit-s.spent, 1)))
	used := max(s.solver.Work()-before, 1)
	s.work += used
	s.spent += used
	if !done && s.spent < limit {
		return
	}
	s.bound = s.solver.Bound()
	s.chosen = s.chosen[:0]
	for _, set := range s.solver.Best().Sets {
		s.chosen = append(s.chosen, s.sets.members[set][0])
	}
	if s.refines() {
		s.refine()
		return
	}
	s.beginBettering()
}

// refines says that places will still be added.
func (s *Solver) refines() bool { return s.p.Ground != nil && s.p.Spacing > 0 && s.round < refinements }

// Proof is how far a plan is proven.
type Proof struct {
	Count      int   // set-ups planned
	Bound      int   // no plan among the candidates has fewer; 0 while places are surveyed
	Proven     bool  // Count is Bound
	Places     int   // looked at
	Candidates int   // set-ups that could be
	Work       int64 // operations

	// Worst is the largest error of the plan and WorstBound what no plan of Count
	// set-ups goes under, in metres; NaN where an error is not known, 0 without a
	// Judge and until the fewest are counted.
	Worst, WorstBound float64
}

// Proof tells how far the plan is proven.
func (s *Solver) Proof() Proof {
	out := Proof{Count: len(s.current()), Places: s.next, Candidates: len(s.candidates), Work: s.work}
	switch {
	case s.stage > Counting:
		out.Bound, out.Proven = int(s.bound), len(s.chosen) <= int(s.bound)
		out.Worst, out.WorstBound = float64(lengthOf(s.worstOf(s.chosen))), float64(lengthOf(s.better.low))
	case s.stage == Counting:
		out.Bound = int(s.solver.Bound())
	}
	return out
}

// Infeasible lists the cells that no candidate serves, each with the nearest
// miss. Asked before the solver has come to these, it looks for them itself.
func (s *Solver) Infeasible() []Miss {
	e := s.explained
	if e == nil {
		e = s.explain()
	}
	for len(e.cells) > 0 && e.next < s.next {
		e.look(s.places[e.next])
	}
	var out []Miss
	for _, c := range e.cells {
		out = append(out, e.missed[c])
	}
	return out
}
