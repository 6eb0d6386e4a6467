package cli

import (
	"spadework/engine/beam"
	"spadework/engine/plan"
	"spadework/sheet"
)

// tapeCommand prints how the corners of a dig are taped from two points.
type tapeCommand struct {
	jobArgument
	ID   string `arg:"" help:"${help_id}"`
	From string `help:"${help_tape_from}" required:"" placeholder:"POINT"`
	To   string `help:"${help_tape_to}" required:"" placeholder:"POINT"`
}

// Run tapes out the dug outline of every part of a dig.
func (c *tapeCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	d, ok := p.Dig(c.ID)
	if !ok {
		return unknownID(v, c.ID, digIDs(p))
	}
	from, okFrom := p.Point(c.From)
	to, okTo := p.Point(c.To)
	if !okFrom {
		return unknownID(v, c.From, p.PointIDs())
	}
	if !okTo {
		return unknownID(v, c.To, p.PointIDs())
	}
	var taped []sheet.Taped
	for _, part := range d.Parts {
		out, fault := beam.TapeFrom(from, to, plan.Corners(part))
		if fault != nil {
			return styled{fault, v.Language, v.Style}
		}
		taped = append(taped, sheet.Taped{Excavation: c.ID, Part: part.ID, From: from.ID, To: to.ID, Out: out})
	}
	out := sheet.Tape(v, taped)
	out.Lead(p, "", c.ID)
	a.print(out)
	return nil
}
