package plan

import (
	"slices"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// nearDig is how near a service or a line must lie to a dig to be told on its
// card: about as far as a common excavator reaches at ground level, 30 to 35 ft
// (common practice).
const nearDig = 10 * unit.Metre

// DigCautions judges the digs of a plan one by one, for cards that tell only
// what has to be minded there.
type DigCautions struct {
	plan  *Plan
	facts safety.Facts
	index map[string]int // of the digs in facts
	held  map[held]bool  // what the whole job's findings tell
}

// held is a rule and how severely it speaks. What the whole site is judged by,
// such as a locate ticket for any of its services, must not be judged anew from
// the few facts near one dig: a card tells only what the job's findings tell.
type held struct {
	rule     string
	severity phrase.Severity
}

// DigCautions gathers the facts once for many digs.
func (p *Plan) DigCautions() *DigCautions {
	c := &DigCautions{plan: p, facts: p.facts(), index: map[string]int{}, held: map[held]bool{}}
	for _, f := range p.Findings {
		c.held[held{f.Rule, f.Severity}] = true
	}
	for i, d := range c.facts.Digs {
		c.index[d.ID] = i
	}
	return c
}

// aboutRules are the findings about the job as a whole, which its summary tells.
var aboutRules = []string{"missing_today", "rules_off", "borrowed"}

// Of is what stops work or asks for care at a dig under a set-up ("" for none),
// stops first: its own, those of services and lines near it, and those of the
// set-up. Notes are left out.
func (c *DigCautions) Of(id, setup string) []phrase.Finding {
	var out []phrase.Finding
	told := map[string]bool{}
	for _, f := range safety.Findings(c.plan.book, c.about(id, setup)) {
		if c.released(f) {
			continue
		}
		if f.Severity != phrase.Note && !slices.Contains(aboutRules, f.Rule) && c.held[held{f.Rule, f.Severity}] {
			out = append(out, f)
			told[f.Rule] = true
		}
	}
	for _, f := range c.plan.Findings {
		own := f.Where.Excavation == id || f.Where.Excavation == "" && setup != "" && f.Where.Setup == setup
		if own && f.Severity != phrase.Note && !told[f.Rule] {
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, compareFindings)
	return out
}

// about is the facts of one dig under a set-up and of what lies near it.
func (c *DigCautions) about(id, setup string) safety.Facts {
	out := c.facts
	out.Lasers = only(out.Lasers, func(l safety.Laser) bool { return l.Setup == setup })
	i, ok := c.index[id]
	if !ok {
		out.Digs = nil
		return out
	}
	d, _ := c.plan.Dig(id)
	out.Digs = c.facts.Digs[i : i+1 : i+1]
	own := func(dig string) bool { return dig == id }
	out.Services = nil
	for _, s := range c.facts.Services {
		if nearLine(d, s.Line) {
			s.Near = only(s.Near, func(a safety.Approach) bool { return own(a.Dig) })
			out.Services = append(out.Services, s)
		}
	}
	out.Footings = only(out.Footings, func(f safety.Footing) bool { return own(f.Dig) })
	out.Reaches = only(out.Reaches, func(r safety.Reach) bool { return r.Dig == "" || own(r.Dig) })
	out.Heaps = only(out.Heaps, func(h safety.Heap) bool { return own(h.Dig) })
	out.Stands = only(out.Stands, func(s safety.Stand) bool { return own(s.Dig) })
	out.Crossings = only(out.Crossings, func(c safety.Crossing) bool { return own(c.Dig) })
	out.Overheads = nil
	for _, o := range c.facts.Overheads {
		if nearLine(d, o.Line) {
			out.Overheads = append(out.Overheads, o)
		}
	}
	return out
}

// only keeps what belongs, in a list of its own.
func only[T any](all []T, belongs func(T) bool) []T {
	var out []T
	for _, x := range all {
		if belongs(x) {
			out = append(out, x)
		}
	}
	return out
}

// released says that the competent person released a finding for today.
func (c *DigCautions) released(f phrase.Finding) bool {
	if f.Severity != phrase.Stop || len(c.facts.Entries) == 0 {
		return false
	}
	_, ok := safety.ReleasedBy(f, c.facts.Entries, c.facts.Watchman())
	return ok
}

// nearLine says that a line comes near a dig. A line that is not known might
// lie anywhere: it is near.
func nearLine(d Dig, line []geom.Point) bool {
	return len(line) == 0 || d.gap(func(ring geom.Ring) unit.Length { return lineGap(ring, line) }) <= nearDig
}
