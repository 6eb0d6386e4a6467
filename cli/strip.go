package cli

import (
	"spadework/engine/phrase"
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
	a.print(sheet.Strip(v, s, groups))
	return nil
}
