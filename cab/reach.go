package cab

import (
	"spadework/engine/draw"
	"spadework/engine/phrase"
)

// Reach is how much of the job each place serves, and what the plan proposes.
type Reach struct {
	Needs    string     `json:"needs"` // what the job must tell first, "" nothing
	Scene    *Scene     `json:"scene"`
	Count    int        `json:"count"` // all there is to serve
	Proposed []Proposal `json:"proposed"`
}

// Proposal is a planned set-up with the sums that today's height goes into.
type Proposal struct {
	Proposed
	Strip []Sum `json:"strip"`
}

// Sum is one of them.
type Sum struct {
	Planned Planned `json:"planned"`
}

// Reach maps reception.
func (c *Cab) Reach() (Reach, *phrase.Fault) {
	out := Reach{Proposed: []Proposal{}}
	for _, p := range c.choices().Proposed {
		one := Proposal{Proposed: p, Strip: []Sum{}}
		for _, n := range c.plan.Numbers {
			if sum := plannedOf(c.plan, c.view, n); sum != nil && n.Setup == p.Tag {
				one.Strip = append(one.Strip, Sum{*sum})
			}
		}
		out.Proposed = append(out.Proposed, one)
	}
	if c.reaches == nil {
		m, needs, f := c.plan.Reaches()
		if f != nil {
			return out, f
		}
		if !needs.IsZero() || m == nil {
			out.Needs = c.view.Say(needs)
			return out, nil
		}
		c.reaches = m
	}
	out.Count = c.reaches.Cells
	out.Scene = sceneOf(draw.ReachMap(c.plan, draw.Voice(c.view), mapFrame, *c.reaches))
	return out, nil
}
