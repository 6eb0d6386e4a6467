package plan

import (
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/siting"
	"spadework/engine/stands"
)

// Maker makes a plan step by step, so that long work can be told of and ended.
// The same job gives the same plan, in whatever steps, if it is let finish.
type Maker struct {
	p      *Plan
	sites  *sites
	solver *siting.Solver // nil: no set-up is left to plan
	stands *standing      // nil: no stands to plan, or not begun

	sited, numbered bool // the set-ups are taken over, the numbers given
	fault           *phrase.Fault
}

// NewMaker reads a job and finds what set-ups it leaves out. The fault has its
// place in the job document.
func NewMaker(j *job.Job) (*Maker, *phrase.Fault) {
	m := &Maker{p: &Plan{Job: j, Counts: j.Counts}}
	p := m.p
	for _, step := range []func() *phrase.Fault{p.resolveDigs, p.excavate, p.limit, p.resolvePipes, p.resolveSetups, p.resolveStakes, m.begin} {
		if f := step(); f != nil {
			return nil, f
		}
	}
	return m, nil
}

// begin starts on the set-ups that the job leaves out.
func (m *Maker) begin() *phrase.Fault {
	if g := m.p.guidance(); !g.NeedsBeam() || len(m.p.Digs) == 0 || len(m.p.Job.Lasers) == 0 {
		return nil
	}
	s, needs, f := m.p.newSites()
	if f != nil {
		return f
	}
	m.p.needs = needs
	if s == nil {
		return nil
	}
	if s.cells = s.unserved(); len(s.cells) == 0 {
		return nil
	}
	m.sites = s
	m.p.undialled = s.undialled
	m.solver, f = siting.New(s.problem(), 0)
	return f
}

// Step works until a count of work is spent or nothing is left to do, and
// returns whether it is.
func (m *Maker) Step(work int64) (done bool) {
	if m.fault != nil || m.solver != nil && !m.sited && !m.solver.Step(work) {
		return m.fault != nil
	}
	if !m.numbered {
		m.give()
	}
	return m.fault != nil || m.stands == nil || m.stands.step(work)
}

// give takes the set-ups over, gives every dig its numbers and begins on the
// stands.
func (m *Maker) give() {
	p := m.p
	m.sited, m.numbered = true, true
	if m.solver != nil {
		if m.fault = p.siteSetups(m.sites, m.solver); m.fault != nil {
			return
		}
	}
	for _, step := range []func() *phrase.Fault{p.number, p.judgeNumbers} {
		if m.fault = step(); m.fault != nil {
			return
		}
	}
	m.stands, p.StandNeeds = p.newStanding()
}

// Stage is what the planning is at, with how far it is.
func (m *Maker) Stage() (stage Progress, done, total int64) {
	switch {
	case m.solver != nil && !m.sited:
		stage, done, total := m.solver.Stage()
		return siteStages[stage], done, total
	case m.stands != nil && m.stands.solver.Stage() != stands.Finished:
		return standStages[m.stands.solver.Stage()], int64(1000 * m.stands.solver.Progress()), 1000
	}
	return AllDone, 0, 0
}

// Progress names what planning is at.
type Progress string

// What planning is at, in its order.
const (
	SurveyingPlaces  = Progress("places")
	CountingSetups   = Progress("setup_count")
	BetteringSetups  = Progress("setup_error")
	WalkingSetups    = Progress("setup_walk")
	ExplainingSetups = Progress("setup_why")
	SurveyingStands  = Progress("stand_places")
	CountingStands   = Progress("stand_count")
	OrderingStands   = Progress("stand_order")
	HeapingStands    = Progress("stand_heaps")
	AllDone          = Progress("finished")
)

var siteStages = map[siting.Stage]Progress{
	siting.Surveying: SurveyingPlaces, siting.Counting: CountingSetups, siting.Bettering: BetteringSetups,
	siting.Walking: WalkingSetups, siting.Explaining: ExplainingSetups, siting.Finished: WalkingSetups,
}

var standStages = map[stands.Stage]Progress{
	stands.Surveying: SurveyingStands, stands.Counting: CountingStands, stands.Ordering: OrderingStands, stands.Heaping: HeapingStands,
}

// Plan is the plan with the best set-ups and stands found so far. The maker is
// spent.
func (m *Maker) Plan() (*Plan, *phrase.Fault) {
	p := m.p
	if !m.numbered {
		m.give()
	}
	if m.fault != nil {
		return nil, m.fault
	}
	if m.stands != nil {
		p.takeStands(m.stands)
	}
	for _, step := range []func() *phrase.Fault{p.findSafety, p.findMachines} {
		if f := step(); f != nil {
			return nil, f
		}
	}
	p.find()
	return p, nil
}

// stepWork is how much work Make does between two looks at whether it is done.
const stepWork = 1 << 30

// Make plans a job for the set-ups written in it and plans those it leaves out.
// The fault has its place in the job document.
func Make(j *job.Job) (*Plan, *phrase.Fault) {
	m, f := NewMaker(j)
	if f != nil {
		return nil, f
	}
	for !m.Step(stepWork) {
	}
	return m.Plan()
}
