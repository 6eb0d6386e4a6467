package cli

import "spadework/sheet"

// trustCommand tells how far numbers can be trusted.
type trustCommand struct {
	jobArgument
	ID   string `arg:"" optional:"" help:"${help_trust_id}"`
	JSON bool   `name:"json" help:"${help_trust_json}"`
}

// Run prints standard errors and chances of all numbers, or the budget of one
// dig's and what would help most.
func (c *trustCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	ids := digIDs(p)
	if c.ID != "" {
		if _, ok := p.Dig(c.ID); !ok {
			return unknownID(v, c.ID, ids)
		}
		ids = []string{c.ID}
	}
	switch {
	case c.JSON:
		_, err := a.Out.Write(append(p.TrustJSON(ids), '\n'))
		return err
	case c.ID == "":
		a.print(sheet.Trust(p, v))
	default:
		a.print(sheet.TrustOf(p, v, c.ID))
	}
	return nil
}
