package cli

import (
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
	if _, ok := p.Dig(c.ID); !ok {
		return unknownID(v, c.ID, digIDs(p))
	}
	l, ok := p.GradeLine(c.ID)
	if !ok {
		f := phrase.NewFault(phrase.New("cli.grade_drawn", phrase.With("id", c.ID)), phrase.New("cli.grade_drawn.remedy"))
		return styled{f, v.Language, v.Style}
	}
	if c.JSON {
		_, err := a.Out.Write(append(p.AppendLineJSON(nil, l), '\n'))
		return err
	}
	a.print(sheet.GradeLine(p, v, l))
	return nil
}
