package cab

import (
	"slices"

	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
)

// Change is what a newer revision of the job changed at a dig.
type Change struct {
	Dig  string `json:"dig"`
	Text string `json:"text"`
}

// changes tells what a newer plan of a job has otherwise than an older, dig by
// dig: in the newer one's order, then those that are gone.
func (c *Cab) changes(old *plan.Plan) []Change {
	out := []Change{}
	for _, d := range c.plan.Digs {
		id := d.Excavation.ID
		before, ok := old.Dig(id)
		if !ok {
			out = append(out, c.change(id, "cab.change_new"))
			continue
		}
		out = append(out, c.changesOf(before.Dig, d.Dig)...)
	}
	for _, d := range old.Digs {
		if _, ok := c.plan.Dig(d.Excavation.ID); !ok {
			out = append(out, c.change(d.Excavation.ID, "cab.change_gone"))
		}
	}
	return out
}

func (c *Cab) change(id string, key phrase.Key, args ...phrase.Arg) Change {
	return Change{id, c.view.Text(key, append(args, phrase.With("id", id))...)}
}

// changesOf compares bottoms, tolerance and outlines of a dig.
func (c *Cab) changesOf(old, now dig.Dig) []Change {
	var out []Change
	id := now.Excavation.ID
	for _, p := range now.Parts {
		before, ok := old.Part(p.ID)
		if ok && before.Bottom != p.Bottom {
			out = append(out, c.change(id, "cab.change_bottom", phrase.With("old", before.Trace.Sum), phrase.With("new", p.Trace.Sum)))
			break
		}
	}
	if a, b := old.Excavation.Tolerance, now.Excavation.Tolerance; (a == nil) != (b == nil) || a != nil && *a != *b {
		out = append(out, c.change(id, "cab.change_tolerance"))
	}
	same := func(a, b dig.Part) bool {
		return a.ID == b.ID && slices.EqualFunc(a.Outline, b.Outline, func(p, q geom.Point) bool { return p == q })
	}
	if !slices.EqualFunc(old.Parts, now.Parts, same) {
		out = append(out, c.change(id, "cab.change_outline"))
	}
	return out
}
