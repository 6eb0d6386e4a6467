package cli

import (
	"strings"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/plan"
)

// stripCommand prints the clamp strip of a set-up.
type stripCommand struct {
	jobArgument
	Setup string  `arg:"" help:"${help_setup}"`
	Share float64 `help:"${help_share}" default:"0"`
}

// Run groups the rods of a set-up for the fewest clamp changes.
func (c *stripCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	s, ok := p.Setup(c.Setup)
	if !ok {
		return unknownID(v, c.Setup, setupIDs(p))
	}
	if !(c.Share >= 0 && c.Share <= 1) {
		return styled{phrase.NewFault(phrase.New("cli.share"), phrase.New("cli.share.remedy")), v.lang, v.style}
	}
	groups, fault := p.ClampStrip(c.Setup, c.Share)
	if fault != nil {
		return styled{fault, v.lang, v.style}
	}
	a.printStrip(v.face(s.Rod), s, groups)
	return nil
}

func (a *app) printStrip(v view, s plan.Setup, groups []plan.ClampGroup) {
	a.println(v.text("cli.strip_head", phrase.With("setup", s.ID), phrase.With("hi", hiText(v, s)), phrase.With("count", len(groups))))
	if s.State == beam.Planned {
		a.println(v.text("cli.strip_planned"))
		return
	}
	t := &table{columns: []column{{head: v.text("cli.col_clamp"), right: true}, {head: v.text("cli.col_digs"), flex: true}}}
	for _, g := range groups {
		digs := make([]string, len(g.Members))
		for i, m := range g.Members {
			digs[i] = clampedText(v, m)
		}
		t.add(v.style.Reading(g.Clamp), strings.Join(digs, "; "))
	}
	t.print(a.Out, a.width)
}

// clampedText names a number of a group with what the shared clamp does to it.
func clampedText(v view, m plan.Clamped) string {
	name := m.Excavation
	if m.HasStation || m.Kind != dig.Centre {
		name += " " + pointText(v, m.Number)
	}
	size := fine(v, max(m.Difference, -m.Difference))
	switch {
	case size == fine(v, 0):
		return name
	case m.Difference > 0:
		return v.text("cli.clamp_deep", phrase.With("id", name), phrase.With("size", size))
	}
	return v.text("cli.clamp_shallow", phrase.With("id", name), phrase.With("size", size))
}
