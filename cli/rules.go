package cli

import (
	"spadework/engine/safety"
	"spadework/sheet"
)

// rulesCommand lists the safety rules, of a job or of a set.
type rulesCommand struct {
	Job string `arg:"" optional:"" help:"${help_job}"`
	Set string `help:"${help_set}" default:"us_federal" placeholder:"SET"`
}

// Run prints the rules of a set, or those of a job with its overrides.
func (c *rulesCommand) Run(a *app) error {
	v := sheet.View{Language: a.language()}
	set, overrides := c.Set, []safety.Override(nil)
	if c.Job != "" {
		j, err := readJob(jobArgument{c.Job}.path())
		if err != nil {
			return err
		}
		v.Style, set = j.Style, j.Rules.Set
		if a.lang == "" {
			v.Language = j.Language
		}
		for _, o := range j.Rules.Overrides {
			overrides = append(overrides, safety.Override(o))
		}
	}
	book, err := safety.Rules(set, overrides...)
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.print(sheet.Rules(v, book))
	return nil
}
