package cli

import (
	"os"

	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/sheet"
)

// reachCommand draws what each place of the site would serve.
type reachCommand struct {
	jobArgument
	Out string `short:"o" help:"${help_reach_out}" placeholder:"FILE.svg"`
}

// mapFrame is a sheet of A4 lying, less its margins.
var mapFrame = draw.Frame{Width: 277, Height: 190, Type: 3}

// Run writes the map as SVG.
func (c *reachCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	m, needs, fault := p.Reaches()
	if fault == nil && m == nil {
		fault = phrase.NewFault(needs, phrase.Message{})
	}
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	svg := sheet.SVG(draw.ReachMap(p, draw.Voice(v), mapFrame, *m), p.Job.Name)
	if c.Out == "" {
		_, err := a.Out.Write(svg)
		return err
	}
	if err := os.WriteFile(c.Out, svg, 0o644); err != nil {
		return styled{fileFault(c.Out, err), v.Language, v.Style}
	}
	a.println(v.Text("cli.reach_written", phrase.With("file", c.Out), phrase.With("count", len(m.Places))))
	return nil
}
