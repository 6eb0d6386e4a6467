package cli

import (
	"os"

	"spadework/engine/guard"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/exchange"
	"spadework/sheet"
)

// checkCommand judges shots against the plan.
type checkCommand struct {
	jobArgument
	Shots string `arg:"" optional:"" help:"${help_shots}"`
}

// Run prints height, deviation and verdict of every shot of a table, or of the
// log. The status is 1 where a shot is out, or cannot be judged because its dig
// has no tolerance, and with the log where any is not good.
func (c *checkCommand) Run(a *app) error {
	if c.Shots == "" {
		return a.checkLog(c.jobArgument)
	}
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	shots, err := readShots(c.Shots, p.Job.Units)
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	results, fault := record.Judge(p, shots)
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	a.print(sheet.Check(p, v, results))
	if c := record.Count(results); c.Out+c.Unknown > 0 {
		return errOut
	}
	return nil
}

// checkLog judges the newest shots of the log.
func (a *app) checkLog(j jobArgument) error {
	if _, err := os.Stat(logPath(j.path())); err != nil {
		return fileFault(logPath(j.path()), err)
	}
	p, v, st, err := a.loadLog(j, nil)
	if err != nil {
		return err
	}
	proofs, f := guard.Prove(p, st)
	if f != nil {
		return styled{f, v.Language, v.Style}
	}
	a.print(sheet.CheckLog(p, v, st, proofs))
	if st.Open() > 0 {
		return errOut
	}
	return nil
}

func readShots(path string, bare unit.Scale) ([]record.Shot, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fileFault(path, err)
	}
	rows, fault := exchange.ReadTable(path, data)
	if fault != nil {
		return nil, fault
	}
	shots, fault := record.ReadShots(rows, bare)
	if fault != nil {
		return nil, fault
	}
	return shots, nil
}
