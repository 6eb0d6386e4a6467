package cli

import (
	"strings"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
	"spadework/sheet"
)

// hereCommand tells what a laser at a place serves.
type hereCommand struct {
	jobArgument
	At string `required:"" help:"${help_here_at}" placeholder:"X,Y"`
	HI string `name:"hi" help:"${help_here_hi}" placeholder:"Z"`
}

// Run looks at the digs from the place.
func (c *hereCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	at, fault := placeOf(p, c.At)
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	var hi *unit.Elevation
	if c.HI != "" {
		z, err := unit.ParseLength(c.HI, p.Job.Units)
		if err != nil {
			return styled{err, v.Language, v.Style}
		}
		height := unit.Elevation(z)
		hi = &height
	}
	h, needs, fault := p.Here(at, hi)
	if fault == nil && h == nil {
		fault = phrase.NewFault(needs, phrase.Message{})
	}
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	a.print(sheet.Here(p, v, h))
	return nil
}

// placeOf reads x,y in the coordinates of the job.
func placeOf(p *plan.Plan, text string) (geom.Point, *phrase.Fault) {
	east, north, found := strings.Cut(text, ",")
	x, errX := unit.ParseCoordinate(strings.TrimSpace(east), p.Job.Coordinates)
	y, errY := unit.ParseCoordinate(strings.TrimSpace(north), p.Job.Coordinates)
	if !found || errX != nil || errY != nil {
		return geom.Point{}, phrase.NewFault(phrase.New("cli.at", phrase.With("value", text)), phrase.New("cli.at.remedy"))
	}
	return geom.Point{X: float64(x) / 1e6, Y: float64(y) / 1e6}, nil // micrometres
}
