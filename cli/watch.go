package cli

import (
	"encoding/json"
	"os"

	"spadework/engine/guard"
	"spadework/sheet"
)

// watchCommand judges whether the beams of a job can still be believed.
type watchCommand struct {
	jobArgument
	JSON    bool     `name:"json" help:"${help_watch_json}"`
	Foreman []string `help:"${help_foreman}"`
}

// Run prints the verdict on every tag of the log. The status is 1 where a tag that
// has not ended has no numbers.
func (c *watchCommand) Run(a *app) error {
	if _, err := os.Stat(logPath(c.path())); err != nil {
		return fileFault(logPath(c.path()), err)
	}
	p, v, st, err := a.loadLog(c.jobArgument, c.Foreman)
	if err != nil {
		return err
	}
	beams, f := guard.Beams(p, st, a.today)
	if f != nil {
		return styled{f, v.Language, v.Style}
	}
	if c.JSON {
		out, err := json.Marshal(map[string]any{"format": 1, "beams": beams})
		if err != nil {
			return err
		}
		a.println(string(out))
	} else {
		a.print(sheet.Watch(p, v, beams))
	}
	for _, b := range beams {
		if b.Next != nil && !b.Numbers {
			return errOut
		}
	}
	return nil
}
