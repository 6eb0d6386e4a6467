package cli

import (
	"encoding/csv"

	"spadework/engine/record"
	"spadework/sheet"
)

// quantitiesCommand prints what is dug, hauled and filled.
type quantitiesCommand struct {
	jobArgument
	CSV   bool   `name:"csv" help:"${help_csv}"`
	Shots string `help:"${help_as_dug}" placeholder:"FILE"`
}

// Run measures the job; with shots it adds the holes as dug.
func (c *quantitiesCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	if c.CSV {
		return csv.NewWriter(a.Out).WriteAll(sheet.QuantityRows(p, v))
	}
	a.print(sheet.Quantities(p, v))
	if c.Shots == "" {
		return nil
	}
	shots, err := readShots(c.Shots, p.Job.Units)
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	results, fault := record.Judge(p, shots)
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	holes, order := record.HolesAsDug(p, results)
	a.print(sheet.AsDug(p, v, holes, order))
	return nil
}
