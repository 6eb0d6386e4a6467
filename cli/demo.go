package cli

// demoCommand serves the example.
type demoCommand struct {
	Addr string `help:"${help_addr}" default:"127.0.0.1:8471"`
}

// Run serves the example job.
func (c *demoCommand) Run(a *app) error { return nil }
