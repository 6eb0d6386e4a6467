package plan

import (
	"spadework/engine/phrase"
	"spadework/engine/siting"
	"spadework/engine/unit"
)

// ReachMap is how much of the job each place of a lattice serves.
type ReachMap struct {
	Places  []siting.Reach
	Spacing unit.Length
	Cells   int // all there is to serve: digs, and stretches of long ones
}

// aboutMapped is how many places a map shows: as many as can be read on a page.
const aboutMapped = 500

// Reaches maps what each place serves at its best height and dial, with enough
// benchmarks in sight, whatever set-ups there are. needs says what the job must
// tell first.
func (p *Plan) Reaches() (m *ReachMap, needs phrase.Message, f *phrase.Fault) {
	s, needs, f := p.newSites()
	if s == nil {
		return nil, needs, f
	}
	s.grounds.about = aboutMapped
	q := s.problem()
	q.Judge, q.Ground = nil, nil
	solver, f := siting.New(q, 1)
	if f != nil {
		return nil, phrase.Message{}, f
	}
	for stage, _, _ := solver.Stage(); stage == siting.Surveying; stage, _, _ = solver.Stage() {
		solver.Step(1)
	}
	return &ReachMap{Places: solver.Reaches(), Spacing: q.Spacing, Cells: len(s.cells)}, phrase.Message{}, nil
}
