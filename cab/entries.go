package cab

import "spadework/engine/phrase"

// openJudged opens a job and judges it by the entries of its log.
func openJudged(o Opening, progress func(Progress)) (*Cab, *phrase.Fault) {
	c, f := Open(o, progress)
	if f == nil {
		c.judgeEntries()
	}
	return c, f
}

// judgeEntries judges the plan by what the competent person entered in the log: an
// entry releases its finding until a shift ends or it rains.
func (c *Cab) judgeEntries() {
	if p := c.plan.WithEntries(c.state.StandingEntries()); p != c.plan {
		c.plan, c.cautions = p, p.DigCautions()
	}
}
