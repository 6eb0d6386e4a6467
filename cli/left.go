package cli

import "spadework/sheet"

// leftCommand tells how the work was left.
type leftCommand struct {
	jobArgument
	Foreman []string `help:"${help_foreman}"`
}

// Run prints what is dug, what is not closed, what is open and what is due.
func (c *leftCommand) Run(a *app) error {
	p, v, st, err := a.loadLog(c.jobArgument, c.Foreman)
	if err != nil {
		return err
	}
	a.print(sheet.HowLeft(p, v, st, a.today))
	return nil
}
