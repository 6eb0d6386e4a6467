package sheet

import (
	"strings"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/plan"
)

// Strip is the clamp strip of a set-up. A planned one has no clamps yet.
func Strip(v View, set plan.Setup, groups []plan.ClampGroup) *Sheet {
	v = v.Face(set.Rod)
	s := &Sheet{View: v}
	s.line(s.Text("sheet.strip_head", phrase.With("setup", set.ID), phrase.With("hi", hiText(v, set)), phrase.With("count", len(groups))))
	if set.State == beam.Planned {
		s.line(s.Text("sheet.strip_planned"))
		return s
	}
	t := &Table{Columns: []Column{s.figures("clamp"), s.words("digs")}}
	for _, g := range groups {
		digs := make([]string, len(g.Members))
		for i, m := range g.Members {
			digs[i] = clampedText(v, m)
		}
		t.Add(v.Style.Reading(g.Clamp), strings.Join(digs, "; "))
	}
	s.table(t)
	return s
}

// clampedText names a number of a group with what the shared clamp does to it.
func clampedText(v View, m plan.Clamped) string {
	name := m.Excavation
	if m.HasStation || m.Kind != dig.Centre {
		name += " " + pointText(v, m.Number)
	}
	size := fine(v, max(m.Difference, -m.Difference))
	switch {
	case size == fine(v, 0):
		return name
	case m.Difference > 0:
		return v.Text("sheet.clamp_deep", phrase.With("id", name), phrase.With("size", size))
	}
	return v.Text("sheet.clamp_shallow", phrase.With("id", name), phrase.With("size", size))
}
