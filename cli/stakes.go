package cli

import "spadework/sheet"

// stakesCommand prints what is written on the stakes.
type stakesCommand struct {
	jobArgument
}

// Run prints the writing of every hub and the board over it.
func (c *stakesCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	a.print(sheet.Stakes(p, v))
	return nil
}
