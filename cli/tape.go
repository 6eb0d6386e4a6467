package cli

import (
	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/plan"
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
	for _, part := range d.Parts {
		figure := plan.Corners(part)
		out, fault := beam.TapeFrom(from, to, figure)
		if fault != nil {
			return styled{fault, v.lang, v.style}
		}
		a.printTape(v, d, part.ID, [2]string{from.ID, to.ID}, out)
	}
	return nil
}

func (a *app) printTape(v view, d plan.Dig, part string, points [2]string, out beam.TapeOut) {
	a.println(v.text("cli.tape_head", phrase.With("id", d.Excavation.ID), phrase.With("part", part),
		phrase.With("from", points[0]), phrase.With("to", points[1]), phrase.With("base", out.Base)))
	t := &table{columns: []column{
		{head: v.text("cli.col_corner")}, {head: points[0], right: true}, {head: points[1], right: true},
		{head: v.text("cli.col_side")}, {head: ""},
	}}
	for _, c := range out.Corners {
		note := ""
		if c.Weak {
			note = v.text("cli.tape_weak")
		}
		t.add(c.ID, v.style.Length(c.FromA), v.style.Length(c.FromB), v.say(c.Side.Text()), note)
	}
	t.print(a.Out, a.width)
	for _, m := range append(out.Sides, out.Diagonals...) {
		a.println("  " + v.text("cli.tape_check", phrase.With("from", m.From), phrase.With("to", m.To), phrase.With("distance", m.Distance)))
	}
}
