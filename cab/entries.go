package cab

// judgeEntries judges the plan by what the competent person entered in the log: an
// entry releases its finding until a shift ends or it rains.
func (c *Cab) judgeEntries() {
	if p := c.plan.WithEntries(c.state.StandingEntries()); p != c.plan {
		c.plan, c.cautions = p, p.DigCautions()
	}
}
