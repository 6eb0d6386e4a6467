package plan

import (
	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// findSafety fills the facts that the safety rules judge.
func (p *Plan) findSafety() []phrase.Finding {
	facts := safety.Facts{Competent: p.Job.Rules.CompetentPerson, Located: p.located()}
	for _, d := range p.Digs {
		facts.Digs = append(facts.Digs, safety.Dig{ID: d.Excavation.ID, Depth: d.deepest(), Batter: leastBatter(d.Excavation.Sides)})
	}
	return safety.Findings(facts)
}

// located says that services are entered and every one has a ticket.
func (p *Plan) located() bool {
	for _, u := range p.Job.Utilities {
		if u.Ticket == "" {
			return false
		}
	}
	return len(p.Job.Utilities) > 0
}

// deepest is the greatest depth, nil where the survey does not cover the dig.
func (d Dig) deepest() *unit.Length {
	if d.Depth == nil {
		return nil
	}
	return &d.Depth.Max
}

// leastBatter is the steepest side of a dig, 0 where one is vertical.
func leastBatter(s dig.Sides) float64 {
	least := s.All.Batter
	for i, one := range s.Each {
		if i == 0 || one.Batter < least {
			least = one.Batter
		}
	}
	return least
}
