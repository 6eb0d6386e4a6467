package cli

import (
	"os"

	"spadework/engine/job"
	"spadework/engine/unit"
	"spadework/exchange"
	"spadework/sheet"
)

// instrumentCommand works out a laser's four-direction check or a level's
// two-peg test.
type instrumentCommand struct {
	Readings string `arg:"" help:"${help_readings}"`
	Units    string `help:"${help_units}" enum:"ft,m" default:"m"`
	Accuracy string `help:"${help_accuracy}" placeholder:"SLOPE"`
}

// Run prints what the readings show. The status is 1 where the tilt is over the
// accuracy asked for.
func (c *instrumentCommand) Run(a *app) error {
	data, err := os.ReadFile(c.Readings)
	if err != nil {
		return fileFault(c.Readings, err)
	}
	rows, fault := exchange.ReadTable(c.Readings, data)
	if fault != nil {
		return fault
	}
	bare, v := standAlone(a, c.Units)
	allowed := unit.Grade(0)
	if c.Accuracy != "" {
		if allowed, err = unit.ParseAccuracy(c.Accuracy); err != nil {
			return styled{flagFault("--accuracy", err), v.Language, v.Style}
		}
	}
	s, tilt, err := checkInstrument(v, rows, bare, allowed)
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.print(s)
	if allowed > 0 && !(tilt <= allowed) {
		return errOut
	}
	return nil
}

// standAlone is how a table without a job is read and told.
func standAlone(a *app, units string) (unit.Scale, sheet.View) {
	if units == "ft" {
		return unit.Feet, sheet.View{Language: a.language(), Style: unit.Style{System: unit.Imperial, Face: unit.FaceTenths}}
	}
	return unit.Metres, sheet.View{Language: a.language()}
}

// checkInstrument works out the check that the table holds, and its tilt.
func checkInstrument(v sheet.View, rows *job.Rows, bare unit.Scale, allowed unit.Grade) (*sheet.Sheet, unit.Grade, error) {
	if exchange.IsPegTest(rows) {
		test, fault := exchange.ReadPegTest(rows, bare)
		if fault != nil {
			return nil, 0, fault
		}
		c, err := test.Check()
		if err != nil {
			return nil, 0, err
		}
		return sheet.PegTest(v, c, allowed), max(c.Tilt, -c.Tilt), nil
	}
	turns, fault := exchange.ReadFourWay(rows, bare)
	if fault != nil {
		return nil, 0, fault
	}
	c, err := turns.Check()
	if err != nil {
		return nil, 0, err
	}
	return sheet.FourWay(v, c, allowed), c.Tilt, nil
}
