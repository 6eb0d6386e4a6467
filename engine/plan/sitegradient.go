package plan

import (
	"slices"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// sloped is a gradient that the plane may be dialled to and the digs it is for.
type sloped struct {
	gradient geom.Vector
	dialled  []string // digs it is worked out of, one or two; none for a level beam
	digs     []string // digs that have one rod under it
}

// gradientsOf are the level plane, one for each run that wants one rod, and one
// for each two of them that share a plane. why tells the digs that the laser
// cannot be dialled for.
func (p *Plan) gradientsOf(laser beam.Laser) (out []sloped, why map[string]phrase.Message) {
	out = []sloped{{}}
	why = map[string]phrase.Message{}
	var ids []string
	for _, d := range p.Digs {
		if !d.source.OneRod {
			continue
		}
		g, f := p.gradientFor([]string{d.Excavation.ID}, laser)
		if f != nil {
			why[d.Excavation.ID] = f.What
			continue
		}
		ids = append(ids, d.Excavation.ID)
		out = withGradient(out, g, d.Excavation.ID)
	}
	for i := range ids {
		for k := i + 1; k < len(ids); k++ {
			two := []string{ids[i], ids[k]}
			if g, f := p.gradientFor(two, laser); f == nil {
				out = withGradient(out, g, two...)
			}
		}
	}
	return out, why
}

// gradientFor is the gradient as dialled for digs.
func (p *Plan) gradientFor(ids []string, laser beam.Laser) (geom.Vector, *phrase.Fault) {
	runs, f := p.runsOf(ids, laser)
	if f != nil {
		return geom.Vector{}, f
	}
	aim := beam.Aim{Bearing: lowEnd(runs[0])}
	var plan beam.DialPlan
	if len(runs) == 1 {
		plan, f = beam.DialForRun(runs[0], laser, aim, runs[0].From)
	} else {
		plan, f = beam.DialForTwo(runs[0], runs[1], laser, aim, runs[0].From)
	}
	if f != nil {
		return geom.Vector{}, f
	}
	return plan.Rounded.Gradient(), nil
}

// withGradient adds a gradient for digs, to one that is there already if it is
// the same.
func withGradient(list []sloped, g geom.Vector, ids ...string) []sloped {
	i := slices.IndexFunc(list, func(s sloped) bool { return s.gradient == g })
	if i < 0 {
		i = len(list)
		list = append(list, sloped{gradient: g, dialled: ids})
	}
	for _, id := range ids {
		if !slices.Contains(list[i].digs, id) {
			list[i].digs = append(list[i].digs, id)
		}
	}
	return list
}

// suited gives every cell the gradients that suit it.
func suited(cells []cell, gradients []sloped) {
	for i := range cells {
		c := &cells[i]
		if !c.dig.source.OneRod {
			c.gradients = []int{0}
			continue
		}
		for g, s := range gradients {
			if slices.Contains(s.digs, c.dig.Excavation.ID) {
				c.gradients = append(c.gradients, g)
			}
		}
	}
}
