package cli

// levelsCommand reduces level notes.
type levelsCommand struct {
	Notes string `arg:"" help:"${help_notes}"`
}

// Run is filled in with the reader of level notes.
func (c *levelsCommand) Run(a *app) error { return nil }
