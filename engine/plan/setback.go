package plan

import "spadework/engine/safety"

// Bounds is what the rules of the job keep free: set-backs from edges, zones
// along services, distances from overhead lines.
func (c *DigCautions) Bounds() safety.Bounds {
	s := safety.Site{Services: c.facts.Services, Lines: c.facts.Overheads}
	for _, d := range c.facts.Digs {
		s.Digs = append(s.Digs, safety.SiteDig{ID: d.ID, Ground: d.Ground, Depth: d.Depth, OpenHours: d.OpenHours})
	}
	return safety.Limits(c.book, s)
}
