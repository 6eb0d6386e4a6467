package cli

import (
	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/sheet"
)

// gradelineCommand prints the grade line of a run whose grade is open.
type gradelineCommand struct {
	jobArgument
	ID   string `arg:"" help:"${help_id}"`
	JSON bool   `name:"json" help:"${help_line_json}"`
}

// Run plans the job and prints the line.
func (c *gradelineCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	d, ok := p.Dig(c.ID)
	if !ok {
		return unknownID(v, c.ID, digIDs(p))
	}
	l, ok := p.GradeLine(c.ID)
	if !ok {
		key := phrase.Key("cli.grade_drawn")
		if d.Excavation.Kind != dig.Trench {
			key = "cli.grade_none"
		}
		f := phrase.NewFault(phrase.New(key, phrase.With("id", c.ID)), phrase.New(key+".remedy"))
		return styled{f, v.Language, v.Style}
	}
	if c.JSON {
		_, err := a.Out.Write(append(p.AppendLineJSON(nil, l), '\n'))
		return err
	}
	a.print(sheet.GradeLine(p, v, l))
	return nil
}
