package cli

import "spadework/sheet"

// playCommand steps through the stands of the machine.
type playCommand struct {
	jobArgument
	Stand string `help:"${help_play_stand}" placeholder:"N"`
}

// Run plays the stands and fails on the first rule that they break.
func (c *playCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	if c.Stand != "" && (p.Stands == nil || !p.Stands.Has(c.Stand)) {
		var ids []string
		if p.Stands != nil {
			ids = p.Stands.IDs()
		}
		return unknownID(v, c.Stand, ids)
	}
	s, broken := sheet.Play(p, v, c.Stand)
	a.print(s)
	if broken {
		return errOut
	}
	return nil
}
