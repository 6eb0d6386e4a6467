package cli

import (
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/sheet"
)

// stripCommand prints the clamp strip of a set-up.
type stripCommand struct {
	jobArgument
	Setup string  `arg:"" help:"${help_setup}"`
	Share float64 `help:"${help_share}" default:"0"`
}

// Run groups the rods of a set-up for the fewest clamp changes.
func (c *stripCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	s, ok := p.Setup(c.Setup)
	if !ok {
		return unknownID(v, c.Setup, setupIDs(p))
	}
	if !(c.Share >= 0 && c.Share <= 1) {
		return styled{phrase.NewFault(phrase.New("cli.share"), phrase.New("cli.share.remedy")), v.Language, v.Style}
	}
	groups, fault := p.ClampStrip(c.Setup, c.Share)
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	out := sheet.Strip(v, s, groups, p.WorkedTo)
	out.Lead(p, s.ID, servedBy(p, s.ID)...)
	a.print(out)
	return nil
}

// servedBy is the digs that have numbers from a set-up.
func servedBy(p *plan.Plan, setup string) []string {
	var out []string
	for _, n := range p.Numbers {
		if n.Setup == setup && (len(out) == 0 || out[len(out)-1] != n.Excavation) {
			out = append(out, n.Excavation)
		}
	}
	return out
}
