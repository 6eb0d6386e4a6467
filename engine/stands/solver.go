package stands

import (
	"math"
	"slices"

	"spadework/engine/cover"
	"spadework/engine/geom"
	"spadework/engine/route"
	"spadework/engine/unit"
)

// Stage is what a Solver is at.
type Stage uint8

// The stages, in their order.
const (
	Surveying Stage = iota // what can be dug from where
	Counting               // fewest stands
	Ordering               // who comes after whom, several ways
	Heaping                // where the spoil goes
	Finished
)

// DefaultProofWork is how much work goes into proving the fewest stands of the
// cover before the best one is taken: about a second.
const DefaultProofWork = 1_000_000_000

// Work of one row of places, a visit and a heap, in the unit of cover's.
const (
	nodeWork  = 2_000
	visitWork = 500_000
	heapWork  = 200_000
)

// routeWork is how many kicks the order of least travel gets.
const routeWork = 2_000

// manyStands is from how many on the first order that serves every cell is
// taken.
const manyStands = 150

// coverUnit is what a stand costs in the cover; one on ground that is dug later
// costs up to coverDoubt more, for such bind the order.
const (
	coverUnit  = 1 << 16
	coverDoubt = 3
)

// Solver works on one Problem.
type Solver struct {
	p         Problem
	proofWork int64
	ground    *ground
	lattice   *lattice
	survey    *survey
	before    [][]int32
	circle    []bool
	stage     Stage
	row       int
	cover     *cover.Solver
	bound     int
	script    []Leg
	chosen    []int32
	ways      []func() []float64 // ranks of the orders to try; a nil list is nearest first
	tried     int
	order     *order
	best      *Plan
	yard      *yard
}

// New starts on a problem. proofWork ≤ 0 is DefaultProofWork. Cells of a dig
// that is not listed count as one dig of their own, without a rule.
func New(p Problem, proofWork int64) *Solver {
	if proofWork <= 0 {
		proofWork = DefaultProofWork
	}
	p.Cells, p.Digs = slices.Clone(p.Cells), slices.Clone(p.Digs)
	known := len(p.Digs)
	p.Digs = append(p.Digs, Dig{})
	for i := range p.Cells {
		if d := p.Cells[i].Dig; d < 0 || d >= known {
			p.Cells[i].Dig = known
		}
	}
	for i, d := range p.Digs {
		p.Digs[i].Before = slices.DeleteFunc(slices.Clone(d.Before), func(n int) bool { return n < 0 || n >= known })
	}
	s := &Solver{p: p, proofWork: proofWork, ground: newGround(p)}
	step := p.Spacing
	if !(step > 0) {
		step = DefaultSpacing
	}
	s.lattice = newLattice(s.ground, extent(p, s.ground), float64(step))
	s.survey = newSurvey(&s.p, s.ground, s.lattice)
	s.before, s.circle = precedence(&s.p, s.ground)
	for c, circle := range s.circle {
		s.survey.good[c] = s.survey.good[c] && !circle
	}
	return s
}

// extent is the ground looked at: the digs with the reach around them, the
// entry, and of the allowed ground what is near.
func extent(p Problem, g *ground) geom.Box {
	around := float64(p.Machine.Envelope.Farthest()) + 2*(g.body.turn+g.setback)
	box := geom.BoxOf(p.Entry)
	for i := range p.Cells {
		box = box.Union(g.cells.boxes[i].Grown(around))
	}
	return box
}

// Stage is what comes next.
func (s *Solver) Stage() Stage { return s.stage }

// Progress is the share of the stage at hand that is done, roughly, 0 to 1.
func (s *Solver) Progress() float64 {
	switch s.stage {
	case Surveying:
		return float64(s.row) / float64(s.lattice.ny)
	case Counting:
		return min(1, float64(s.cover.Work())/float64(s.proofWork))
	case Ordering:
		return float64(s.tried) / float64(len(s.ways)+1)
	case Heaping:
		return float64(s.yard.next) / float64(max(1, len(s.best.Visits)))
	}
	return 1
}

// Step works until about a count of work is spent and returns whether all is
// done. The same problem ends in the same plan whatever the steps.
func (s *Solver) Step(work int64) (done bool) {
	for ; work > 0 && s.stage != Finished; work -= s.once(work) {
	}
	return s.stage == Finished
}

// once does one piece of work and returns its size.
func (s *Solver) once(work int64) int64 {
	switch s.stage {
	case Surveying:
		s.lattice.settle(s.row)
		s.survey.row(s.row)
		if s.row++; s.row == s.lattice.ny {
			s.count()
		}
		return int64(s.lattice.nx) * nodeWork
	case Counting:
		return s.prove(work)
	case Ordering:
		if s.order == nil {
			s.begin()
		} else if s.hopeless() || s.visit() {
			s.judge()
		}
		return visitWork
	case Heaping:
		if s.yard.step() {
			s.stage = Finished
		}
		return heapWork
	}
	return 0
}

// count begins on the fewest stands.
func (s *Solver) count() {
	var q cover.Problem
	q.Elements = len(s.p.Cells)
	for _, c := range s.survey.found {
		q.Sets = append(q.Sets, c.reach)
		q.Cost = append(q.Cost, coverUnit+int64(min(coverDoubt, len(c.blocks))))
	}
	var err error
	if s.cover, err = cover.New(q); err != nil {
		panic(err) // lists without repeats of numbers in range
	}
	s.stage = Counting
}

// coverPiece is how much the cover works at most at once.
const coverPiece = 20_000_000

// prove works on the cover.
func (s *Solver) prove(work int64) int64 {
	before := s.cover.Work()
	done := s.cover.Step(max(1, min(coverPiece, s.proofWork-before)))
	spent := max(1, s.cover.Work()-before)
	if !done && s.cover.Work() < s.proofWork {
		return spent
	}
	const dearest = coverUnit + coverDoubt
	s.bound = int((s.cover.Bound() + dearest - 1) / dearest)
	s.chosen = s.cover.Best().Sets
	s.along()
	s.ways = append(s.ways, nearest, s.ranks, s.farthest)
	s.stage = Ordering
	return spent
}

// nearest goes from each stand to the nearest.
func nearest() []float64 { return nil }

// ranks is the order of least travel without precedence.
func (s *Solver) ranks() []float64 {
	places := []geom.Point{s.p.Entry}
	for _, k := range s.chosen {
		places = append(places, s.survey.found[k].place.At)
	}
	r := route.New(distances(places), 0)
	r.Step(routeWork)
	rank := make([]float64, len(s.survey.found))
	for i, at := range r.Best() {
		if at > 0 {
			rank[s.chosen[at-1]] = float64(i)
		}
	}
	return rank
}

func distances(places []geom.Point) [][]float64 {
	out := make([][]float64, len(places))
	for i, a := range places {
		for _, b := range places {
			out[i] = append(out[i], a.Distance(b))
		}
	}
	return out
}

// farthest ranks stands so that the machine works back to the entry.
func (s *Solver) farthest() []float64 {
	rank := make([]float64, len(s.survey.found))
	for k, c := range s.survey.found {
		rank[k] = -c.place.At.Distance(s.p.Entry)
	}
	return rank
}

// trenchLimit is for how many places a trench is solved exactly.
const trenchLimit = 1000

// along solves the problem exactly if it is one trench, each way being the
// straight one.
func (s *Solver) along() {
	found := s.survey.found
	if len(found) == 0 || len(found) > trenchLimit || len(s.cover.Infeasible()) > 0 || !s.p.Digs[s.p.Cells[0].Dig].InOrder {
		return
	}
	for _, c := range s.p.Cells {
		if c.Dig != s.p.Cells[0].Dig || c.Crossing || c.Hand {
			return
		}
	}
	t := Trench{Cells: len(s.p.Cells)}
	var places []geom.Point
	for _, c := range found {
		places = append(places, c.place.At)
		t.Reach, t.Blocked = append(t.Reach, flags(t.Cells, c.reach)), append(t.Blocked, flags(t.Cells, c.blocks))
	}
	t.Travel = distances(append(places, s.p.Entry))
	if run, ok := Along(t); ok {
		s.bound, s.script = max(s.bound, len(run.Legs)), run.Legs
		s.ways = append(s.ways, nearest)
	}
}

func flags(n int, list []int32) []bool {
	out := make([]bool, n)
	for _, c := range list {
		out[c] = true
	}
	return out
}

// begin starts on the next order.
func (s *Solver) begin() {
	s.order = newOrder(&s.p, s.lattice, s.survey.found, s.before)
	if s.order.retreat = s.tried == len(s.ways); s.order.retreat {
		return
	}
	s.order.rank = s.ways[s.tried]()
	if !s.scripted() {
		s.order.choose(s.chosen)
	}
}

func (s *Solver) scripted() bool { return s.script != nil && s.tried == 0 }

// visit makes the next visit of the order at hand; done after the last.
func (s *Solver) visit() (done bool) {
	if !s.scripted() {
		return s.order.step()
	}
	i := len(s.order.plan.Visits)
	if i == len(s.script) {
		return true
	}
	leg := s.script[i]
	opt := option{stand: int32(leg.Stand)}
	for c := leg.From; c < leg.To; c++ {
		opt.cells = append(opt.cells, int32(c))
	}
	return s.order.visit(opt) < len(opt.cells)
}

// hopeless says that the order at hand can no longer be the best.
func (s *Solver) hopeless() bool {
	if s.best == nil || len(s.best.Unserved) > 0 {
		return false
	}
	n := len(s.order.plan.Visits)
	return n > len(s.best.Visits) || len(s.best.Visits) <= s.bound && s.order.plan.Travel >= s.best.Travel
}

// judge keeps an order that is better than those before.
func (s *Solver) judge() {
	plan := s.order.finish(s.circle, s.survey)
	if s.best == nil || plan.better(*s.best) {
		s.best = &plan
	}
	s.order = nil
	s.tried++
	served := len(s.best.Unserved) == 0
	gap := !served || len(s.best.Visits) > s.bound
	if s.tried > len(s.ways) || s.tried == len(s.ways) && !gap || served && len(s.chosen) > manyStands {
		s.best.Leave = leave(&s.p, s.lattice, s.best)
		s.yard = newYard(&s.p, s.ground, s.best)
		s.stage = Heaping
	}
}

// better compares two plans: cells served, stands, travel.
func (p Plan) better(q Plan) bool {
	if a, b := len(p.Unserved), len(q.Unserved); a != b {
		return a < b
	}
	if a, b := len(p.Visits), len(q.Visits); a != b {
		return a < b
	}
	return p.Travel < q.Travel-unit.Length(slack)
}

// Best is the best plan so far, ok false before there is one. Heaps are placed
// last. It must not be changed.
func (s *Solver) Best() (p Plan, ok bool) {
	if s.best == nil {
		return Plan{}, false
	}
	return *s.best, true
}

// Bound is a number of stands that no plan on the lattice with every cell that
// can be served goes below: that of the cover without order, of a single trench
// the exact one. Places alike in what they reach and what leaves them no ground
// count as one.
func (s *Solver) Bound() int { return s.bound }

// Candidates is how many stands that differ in what they reach were found.
func (s *Solver) Candidates() int { return len(s.survey.found) }

// Solve steps to the end.
func Solve(p Problem) (plan Plan, bound int) {
	s := New(p, 0)
	s.Step(math.MaxInt64)
	return *s.best, s.bound
}
