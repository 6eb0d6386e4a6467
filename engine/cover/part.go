package cover

// part is a component: a covering problem that shares nothing with the others.
type part struct {
	m      *matrix
	search *search
	ascent *ascent
	tree   *tree
	stage  stage
	budget int64 // of the search in this stage

	best  []int32 // sets
	cost  int64
	bound int64
	spent int64 // work on trees
}

// stage of a part.
type stage int

const (
	sketch  stage = iota // a first search
	climb                // the Lagrangian bound
	polish               // a longer search, which may meet the bound
	prove                // the tree
	settled              // bound and cost are equal
)

// Work for the search, per entry of the matrix: a first look, then until it
// meets the bound. Longer searches cost covers of 400 × 5 000 more than they gain.
const (
	sketchWork = 20
	polishWork = 500
)

// patience stretches the search where more than one step of cost is open: a
// better cover saves more than the tree can.
func (p *part) patience() int64 {
	if p.stage == polish && p.cost-p.bound > 1 {
		return 6
	}
	return 1
}

// share is the part of the tree's work that the search gets beside it: little
// where one step of cost is open, more where the cover may be far off.
func (p *part) share() int64 {
	if p.cost-p.bound > 1 {
		return 4
	}
	return 20
}

func newPart(m *matrix) *part {
	p := &part{m: m, search: newSearch(m), bound: 1}
	p.budget = sketchWork * m.entries()
	p.found()
	return p
}

// found takes the search's cover if it is cheaper.
func (p *part) found() {
	if p.best != nil && p.search.bestCost >= p.cost {
		return
	}
	p.best, p.cost = p.best[:0], p.search.bestCost
	for _, j := range p.search.best {
		p.best = append(p.best, p.m.id[j])
	}
	if p.tree != nil {
		p.tree.limit = min(p.tree.limit, p.cost-1-p.tree.base)
	}
	p.check()
}

// check ends the part when its cover is proven.
func (p *part) check() {
	if p.bound >= p.cost {
		p.stage, p.bound = settled, p.cost
		p.tree = nil
	}
}

// raise takes a better bound.
func (p *part) raise(bound int64) {
	p.bound = max(p.bound, min(bound, p.cost))
	p.check()
}

// step does a small piece of work.
func (p *part) step() (work int64) {
	switch p.stage {
	case sketch:
		return p.look(climb)
	case climb:
		return p.climbStep()
	case polish:
		return p.look(prove)
	default:
		return p.proveStep()
	}
}

// look searches until the budget is spent, then goes to the next stage.
func (p *part) look(then stage) int64 {
	before := p.search.work
	p.search.step()
	p.found()
	if p.stage != settled && p.search.work > p.budget*p.patience() {
		p.stage = then
	}
	return p.search.work - before
}

// climbStep raises the Lagrangian bound.
func (p *part) climbStep() int64 {
	if p.ascent == nil {
		p.ascent = newAscent(p.m)
	}
	before := p.ascent.work
	if p.ascent.step(p.cost) {
		p.raise(p.ascent.bound())
		if p.stage == climb {
			p.stage = polish
			p.budget = p.search.work + polishWork*p.m.entries()
		}
	}
	return p.ascent.work - before
}

// proveStep works on the tree, and now and then on the search.
func (p *part) proveStep() (work int64) {
	if p.tree == nil {
		p.tree = newTree(p.m, nil, 0, p.aim())
		p.tree.start(p.ascent.best)
	}
	if (p.search.work-p.budget)*p.share() < p.spent {
		return p.look(prove)
	}
	b := p.tree
	work = b.step()
	p.spent += work
	if b.found && b.cost < p.cost {
		p.cost, p.best = b.cost, append(p.best[:0], b.sets...)
		p.search.bestCost = b.cost
		p.check()
	}
	if b.task == choose || b.task == done {
		p.raise(b.low())
	}
	if b.task == done && p.stage != settled {
		p.tree = nil
	}
	return work
}

// aim is the limit of the next tree: half way from bound to cover, for a tree
// with a lower limit is much smaller.
func (p *part) aim() int64 { return p.bound + (p.cost-1-p.bound)/2 }
