package sheet

import (
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// handDig tells how much of each dig's bottom lies in the zone of a service that
// nobody has seen.
func (s *Sheet) handDig(p *plan.Plan) {
	first := true
	for _, d := range p.Digs {
		cells := p.HandDig(d.Excavation.ID)
		for i := 0; i < len(cells); {
			service, area := cells[i].Service, unit.Area(0)
			for _, c := range cells {
				if c.Service == service {
					area += unit.Area(c.Outline.Area())
				}
			}
			if first {
				s.heading("sheet.hand_dig")
				first = false
			}
			s.paragraph(s.Text("sheet.hand_dig_of", phrase.With("id", d.Excavation.ID), phrase.With("area", area),
				phrase.With("service", service), phrase.With("stop", cells[i].Stop)))
			i = nextService(cells, i)
		}
	}
}

// nextService is the first cell after i of a service that no cell up to i has.
func nextService(cells []plan.Cell, i int) int {
	seen := map[string]bool{}
	for k, c := range cells {
		if k > i && !seen[c.Service] {
			return k
		}
		seen[c.Service] = true
	}
	return len(cells)
}
