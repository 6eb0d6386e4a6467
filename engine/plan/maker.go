package plan

import (
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/siting"
)

// Maker makes a plan step by step, so that long work can be told of and ended.
// The same job gives the same plan, in whatever steps, if it is let finish.
type Maker struct {
	p      *Plan
	sites  *sites
	solver *siting.Solver // nil: no set-up is left to plan
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
func (m *Maker) Step(work int64) (done bool) { return m.solver == nil || m.solver.Step(work) }

// Stage is what the planning of set-ups is at, with how far it is.
func (m *Maker) Stage() (stage siting.Stage, done, total int64) {
	if m.solver == nil {
		return siting.Finished, 0, 0
	}
	return m.solver.Stage()
}

// Plan is the plan with the best set-ups found so far. The maker is spent.
func (m *Maker) Plan() (*Plan, *phrase.Fault) {
	p := m.p
	if m.solver != nil {
		if f := p.siteSetups(m.sites, m.solver); f != nil {
			return nil, f
		}
	}
	for _, step := range []func() *phrase.Fault{p.number, p.judgeNumbers, p.findSafety, p.findMachines} {
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
