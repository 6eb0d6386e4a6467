package plan

import (
	"spadework/engine/beam"
	"spadework/engine/phrase"
)

// ClampStrip groups the numbers of a set-up so that the clamp changes least.
// share is the part of each tolerance that a shared clamp may take; with 0 digs
// share one only where they read the same on the rod.
func (p *Plan) ClampStrip(setup string, share float64) ([]beam.ClampGroup, *phrase.Fault) {
	s, _ := p.Setup(setup)
	var rods []beam.ClampRod
	for _, n := range p.Numbers {
		if n.From != FromBeam || n.Setup != setup {
			continue
		}
		id := n.label()
		d, _ := p.Dig(n.Excavation)
		if share > 0 && d.Excavation.Tolerance != nil {
			rods = append(rods, beam.Within(id, n.Rod, d.band().Share(share)))
		} else {
			rods = append(rods, s.Rod.Exactly(id, n.Rod))
		}
	}
	return beam.ClampStrip(rods, s.Rod.Step)
}

// label is the number's dig and, where it has several, its point.
func (n Number) label() string {
	id := n.Excavation
	if n.HasStation || n.Name != "centre" {
		if n.Part != "" {
			id += " " + n.Part
		}
		id += " " + n.Name
	}
	return id
}
