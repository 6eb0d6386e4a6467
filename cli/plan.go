package cli

import "spadework/sheet"

// planCommand prints the plan of a job.
type planCommand struct {
	jobArgument
	JSON  bool   `name:"json" help:"${help_json}" xor:"form"`
	Notes bool   `help:"${help_show_notes}"`
	Trace string `help:"${help_trace}" placeholder:"ID" xor:"form"`

	Explain bool `help:"${help_explain}" xor:"form"`
}

// Run plans the job and prints it.
func (c *planCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	if c.JSON {
		_, err := a.Out.Write(append(p.AppendJSON(nil), '\n'))
		return err
	}
	if c.Explain {
		a.print(sheet.Explain(p, v))
		return nil
	}
	if c.Trace == "" {
		a.print(sheet.Plan(p, v, c.Notes))
		return nil
	}
	d, ok := p.Dig(c.Trace)
	if !ok {
		return unknownID(v, c.Trace, digIDs(p))
	}
	a.print(sheet.Trace(p, v, d))
	return nil
}
