package plan

import "spadework/engine/phrase"

// findStands tells what no stand digs, gravity runs that are not dug from their
// low end, and what planning stands wants told.
func (p *Plan) findStands() {
	if p.Stands == nil {
		if !p.StandNeeds.IsZero() {
			p.addMachine("stand_needs", phrase.Note, phrase.Finding{What: phrase.New("plan.find_stand_needs", phrase.With("why", p.StandNeeds))})
		}
		return
	}
	for _, u := range p.Stands.Missed {
		p.addMachine("stand_missed", phrase.Caution, phrase.Finding{
			Where: phrase.Where{Excavation: u.Excavation},
			What:  phrase.New("plan.find_stand_missed", phrase.With("id", u.Excavation), phrase.With("why", u.Reason)),
		})
	}
	for _, u := range p.Stands.Turned {
		p.addMachine("stand_turned", phrase.Note, phrase.Finding{
			Where: phrase.Where{Excavation: u.Excavation},
			What:  phrase.New("plan.find_stand_turned", phrase.With("id", u.Excavation), phrase.With("why", u.Reason)),
		})
	}
}
