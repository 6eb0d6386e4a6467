package plan

import (
	"strconv"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// ClampGroup is numbers that share one height of the receiver.
type ClampGroup struct {
	Clamp   unit.Reading
	Members []Clamped
}

// Clamped is one number of a group.
type Clamped struct {
	Number
	Difference unit.Length // Clamp − Rod: + digs that much too deep
}

// ClampStrip groups the numbers of a set-up so that the clamp changes least.
// share is the part of each tolerance that a shared clamp may take; with 0 digs
// share one only where they read the same on the rod.
func (p *Plan) ClampStrip(setup string, share float64) ([]ClampGroup, *phrase.Fault) {
	s, _ := p.Setup(setup)
	var rods []beam.ClampRod
	for i, n := range p.Numbers {
		if n.From != FromBeam || n.Setup != setup {
			continue
		}
		id := strconv.Itoa(i)
		d, _ := p.Dig(n.Excavation)
		if share > 0 && d.Excavation.Tolerance != nil {
			rods = append(rods, beam.Within(id, n.Rod, d.band().Share(share)))
		} else {
			rods = append(rods, s.Rod.Exactly(id, n.Rod))
		}
	}
	groups, f := beam.ClampStrip(rods, s.Rod.Step)
	if f != nil {
		return nil, f
	}
	out := make([]ClampGroup, len(groups))
	for i, g := range groups {
		out[i] = p.clampGroup(g)
	}
	return out, nil
}

// clampGroup puts the numbers back that the ids stand for, in the plan's order.
func (p *Plan) clampGroup(g beam.ClampGroup) ClampGroup {
	differences := map[int]unit.Length{}
	for _, d := range g.Digs {
		if i, err := strconv.Atoi(d.ID); err == nil {
			differences[i] = d.Difference
		}
	}
	out := ClampGroup{Clamp: g.Clamp}
	for i, n := range p.Numbers {
		if d, ok := differences[i]; ok {
			out.Members = append(out.Members, Clamped{Number: n, Difference: d})
		}
	}
	return out
}
