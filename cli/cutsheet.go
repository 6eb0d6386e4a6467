package cli

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
	"spadework/sheet"
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
			return styled{flagFault("--every", err), v.Language, v.Style}
		}
	}
	if every <= 0 {
		return styled{phrase.NewFault(phrase.New("cli.every"), phrase.New("cli.every.remedy")), v.Language, v.Style}
	}
	if _, ok := p.Dig(c.ID); !ok {
		return unknownID(v, c.ID, digIDs(p))
	}
	if _, ok := p.Setup(c.Setup); !ok && c.Setup != "" {
		return unknownID(v, c.Setup, setupIDs(p))
	}
	rows, fault := p.CutSheet(c.ID, every, c.Setup)
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	a.print(sheet.CutSheet(p, v, rows))
	return nil
}

// flagFault is a value of a flag that a parser refused.
func flagFault(flag string, err error) *phrase.Fault {
	return phrase.ParseFault(err).At(phrase.Place{Path: flag})
}
