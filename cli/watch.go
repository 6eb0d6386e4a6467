package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"

	"spadework/engine/guard"
	"spadework/sheet"
)

// watchCommand judges whether the beams of a job can still be believed.
type watchCommand struct {
	jobArgument
	JSON    bool     `name:"json" help:"${help_watch_json}"`
	Charts  string   `help:"${help_watch_charts}" placeholder:"FOLDER"`
	Foreman []string `help:"${help_foreman}"`
}

// Run prints the verdict on every tag of the log, when to close over a day and what
// the machines leave; without a log the day alone. The status is 1 where a tag that has not ended has no numbers.
func (c *watchCommand) Run(a *app) error {
	p, v, st, err := a.loadLog(c.jobArgument, c.Foreman)
	if err != nil {
		return err
	}
	beams, f := guard.Beams(p, st, a.today)
	if f != nil {
		return styled{f, v.Language, v.Style}
	}
	trends := guard.Trends(p, st)
	if c.Charts != "" {
		if err := writeCharts(c.Charts, trends, v); err != nil {
			return styled{err, v.Language, v.Style}
		}
	}
	if c.JSON {
		out, err := json.Marshal(map[string]any{"format": 1, "beams": append([]guard.Beam{}, beams...), "trends": append([]guard.Trend{}, trends...)})
		if err != nil {
			return err
		}
		a.println(string(out))
	} else {
		s := sheet.Watch(p, v, beams)
		s.Trends(trends)
		a.print(s)
	}
	for _, b := range beams {
		if b.Next != nil && !b.Numbers {
			return errOut
		}
	}
	return nil
}

// writeCharts writes a control chart of every trend into a folder: trend-1.svg, …
func writeCharts(folder string, trends []guard.Trend, v sheet.View) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return fileFault(folder, err)
	}
	for i, t := range trends {
		path := filepath.Join(folder, "trend-"+strconv.Itoa(i+1)+".svg")
		if err := os.WriteFile(path, sheet.TrendChart(t, v), 0o644); err != nil {
			return fileFault(path, err)
		}
	}
	return nil
}
