package cli

import (
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// cutsheetCommand prints the cut sheet of one dig.
type cutsheetCommand struct {
	jobArgument
	ID    string `arg:"" help:"${help_id}"`
	Every string `help:"${help_every}" placeholder:"LENGTH"`
	Setup string `help:"${help_setup}" placeholder:"TAG"`
}

// Run prints station, ground, bottom, grade rod and cut.
func (c *cutsheetCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	every := p.Job.Interval
	if c.Every != "" {
		if every, err = unit.ParseLength(c.Every, p.Job.Units); err != nil {
			return styled{flagFault("--every", err), v.lang, v.style}
		}
	}
	if every <= 0 {
		return styled{phrase.NewFault(phrase.New("cli.every"), phrase.New("cli.every.remedy")), v.lang, v.style}
	}
	if _, ok := p.Dig(c.ID); !ok {
		return unknownID(v, c.ID, digIDs(p))
	}
	if _, ok := p.Setup(c.Setup); !ok && c.Setup != "" {
		return unknownID(v, c.Setup, setupIDs(p))
	}
	a.printCutSheet(p, v, p.CutSheet(c.ID, every, c.Setup))
	return nil
}

// flagFault is a value of a flag that a parser refused.
func flagFault(flag string, err error) *phrase.Fault {
	return phrase.ParseFault(err).At(phrase.Place{Path: flag})
}

func (a *app) printCutSheet(p *plan.Plan, v view, sheet plan.CutSheet) {
	d, _ := p.Dig(sheet.Excavation)
	a.printHead(p, v)
	a.println(v.text("cli.cutsheet_head", phrase.With("id", sheet.Excavation), phrase.With("tolerance", toleranceText(v, d))))
	if sheet.Setup == "" {
		a.println(v.text("cli.cutsheet_no_setup"))
	} else {
		s, _ := p.Setup(sheet.Setup)
		a.println(v.text("cli.cutsheet_setup", phrase.With("setup", s.ID), phrase.With("hi", hiText(v, s)),
			phrase.With("state", phrase.New(phrase.Key("cli.state_"+s.State.String())))))
	}
	a.println("")
	t := &table{columns: []column{
		{head: v.text("cli.col_station")}, {head: v.text("cli.col_ground"), right: true},
		{head: v.text("cli.col_bottom"), right: true}, {head: v.text("cli.col_number"), right: true}, {head: v.text("cli.col_cut"), right: true},
	}}
	for _, n := range sheet.Rows {
		t.add(pointText(v, n), groundText(v, n), v.style.Elevation(n.Bottom), rodOrDash(p, v, n), cutText(v, n))
	}
	t.print(a.Out, a.width)
}

func groundText(v view, n plan.Number) string {
	if n.Ground == nil {
		return "–"
	}
	return v.style.Elevation(*n.Ground)
}

// rodOrDash is the rod, or a dash where no beam serves the dig.
func rodOrDash(p *plan.Plan, v view, n plan.Number) string {
	if n.From != plan.FromBeam {
		return "–"
	}
	return numberText(p, v, n)
}
