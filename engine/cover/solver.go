package cover

import "slices"

// Cover is a choice of sets that hold every element some set holds.
type Cover struct {
	Sets []int32 // rising
	Cost int64
}

// Solver works on one Problem. See the package comment.
type Solver struct {
	unit       int64 // of cost
	infeasible []int32
	whole      Cover // of the whole problem, before it falls into parts; cost in units

	reduce *reducer
	taken  []int32
	base   int64 // cost of taken
	parts  []*part
	split  bool
	work   int64
}

// New starts on a problem, which it copies. The error quotes the first set or
// cost that makes no sense: an element out of range or held twice by a set, a
// negative cost, costs of more than 2⁴⁰ together.
func New(p Problem) (*Solver, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	s := &Solver{unit: p.divisor()}
	m, uncovered := p.matrix(s.unit)
	s.infeasible = uncovered
	s.reduce = newReducer(m)
	g := newSearch(s.reduce.m)
	s.whole = Cover{s.names(s.reduce, g.best), s.reduce.cost + g.bestCost}
	return s, nil
}

// names of the sets taken and of columns of the reduced matrix, rising.
func (s *Solver) names(r *reducer, cols []int32) []int32 {
	out := append([]int32{}, r.taken...)
	for _, j := range cols {
		out = append(out, r.m.id[j])
	}
	slices.Sort(out)
	return out
}

// Step works until the count of work, in elementary operations, is spent or
// the best cover is proven; it may overrun by one task, some thousand to a few
// million operations. It returns whether the best cover is proven. A billion
// operations take about a second.
func (s *Solver) Step(work int64) (done bool) {
	for end := s.work + work; s.work < end && !s.Proven(); {
		s.work += s.task() + 1
	}
	return s.Proven()
}

// task does the next small piece of work.
func (s *Solver) task() int64 {
	if !s.split {
		work, done := s.reduce.step()
		if done {
			s.partition()
		}
		return work
	}
	return s.turn().step()
}

// partition splits what the reduction left.
func (s *Solver) partition() {
	s.split, s.taken, s.base = true, s.reduce.taken, s.reduce.cost
	for _, m := range split(s.reduce.m) {
		s.parts = append(s.parts, newPart(m))
	}
}

// turn is the part to work on: all reach a stage before one leaves it, in
// order. There is one, for else the cover is proven.
func (s *Solver) turn() *part {
	first := s.parts[0]
	for _, p := range s.parts {
		if p.stage < first.stage {
			first = p
		}
	}
	return first
}

// Best is the cheapest cover so far, from the start on: a cover of all elements
// but the infeasible ones. Cost is the sum of its sets' costs.
func (s *Solver) Best() Cover {
	c := Cover{append([]int32{}, s.taken...), s.base}
	for _, p := range s.parts {
		c.Sets = append(c.Sets, p.best...)
		c.Cost += p.cost
	}
	if !s.split || s.whole.Cost < c.Cost {
		c = Cover{slices.Clone(s.whole.Sets), s.whole.Cost}
	}
	slices.Sort(c.Sets)
	c.Cost *= s.unit
	return c
}

// Bound is a proven bound: no cover costs less. It never falls.
func (s *Solver) Bound() int64 {
	low := s.reduce.cost
	for _, p := range s.parts {
		low += p.bound
	}
	return low * s.unit
}

// Proven says that no cover is cheaper than Best.
func (s *Solver) Proven() bool {
	return s.split && s.Bound() == s.cost()*s.unit
}

// cost of the best cover in units.
func (s *Solver) cost() int64 {
	c := s.base
	for _, p := range s.parts {
		c += p.cost
	}
	return min(c, s.whole.Cost)
}

// Infeasible lists the elements that no set holds, rising. The cover leaves
// them out.
func (s *Solver) Infeasible() []int32 { return slices.Clone(s.infeasible) }

// Work is the count of operations so far.
func (s *Solver) Work() int64 { return s.work }
