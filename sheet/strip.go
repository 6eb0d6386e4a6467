package sheet

import (
	"slices"
	"strings"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// Strip is the clamp strip of a set-up, with how far from the bottom works tells
// to aim at each number. A planned one has no clamps yet.
func Strip(v View, set plan.Setup, groups []plan.ClampGroup, works func(plan.Number) unit.Length) *Sheet {
	v = v.Face(set.Rod)
	s := &Sheet{View: v}
	s.line(s.Text("sheet.strip_head", phrase.With("setup", set.ID), phrase.With("hi", hiText(v, set)), phrase.With("count", len(groups))))
	if set.State == beam.Planned {
		s.line(s.Text("sheet.strip_planned"))
		return s
	}
	t := &Table{Columns: []Column{s.figures("clamp"), s.words("digs")}}
	for _, g := range groups {
		t.Add(v.Style.Reading(g.Clamp), strings.Join(clampedTexts(v, g.Members), "; "))
	}
	s.table(t)
	s.stripAims(groups, works)
	return s
}

// stripAims says which rod the clamps are, and of a job that works to the aim
// how far from it each dig is aimed.
func (s *Sheet) stripAims(groups []plan.ClampGroup, works func(plan.Number) unit.Length) {
	var texts []string
	digs := map[string][]string{}
	for _, g := range groups {
		for _, m := range g.Members {
			aim := works(m.Number)
			if aim == 0 {
				continue
			}
			text := aimHeight(s.View, aim)
			if digs[text] == nil {
				texts = append(texts, text)
			}
			if !slices.Contains(digs[text], m.Excavation) {
				digs[text] = append(digs[text], m.Excavation)
			}
		}
	}
	if len(texts) == 0 {
		return
	}
	s.paragraph(s.Text("sheet.strip_grade"))
	for _, text := range texts {
		s.detail(s.Text("sheet.strip_aim", phrase.With("aim", text), phrase.With("ids", digs[text])))
	}
}

// clampedTexts names the numbers of a group; neighbours along a run that the
// clamp does the same to are told as one stretch.
func clampedTexts(v View, members []plan.Clamped) []string {
	var out []string
	for i := 0; i < len(members); {
		first, end := members[i], i+1
		for end < len(members) && stretches(v, members[end-1], members[end]) {
			end++
		}
		last := members[end-1]
		if end-i < 2 {
			out = append(out, clampedText(v, first))
		} else {
			out = append(out, first.Excavation+" "+tell.PartPrefix(tell.View(v), first.Number)+
				v.Style.Station(first.Station)+" – "+v.Style.Station(last.Station))
		}
		i = end
	}
	return out
}

// stretches says that b follows a on its run and that the clamp is even at both.
func stretches(v View, a, b plan.Clamped) bool {
	even := func(m plan.Clamped) bool { return fine(v, max(m.Difference, -m.Difference)) == fine(v, 0) }
	return a.HasStation && b.HasStation && a.Excavation == b.Excavation && a.Part == b.Part && even(a) && even(b)
}

// clampedText names a number of a group with what the shared clamp does to it.
func clampedText(v View, m plan.Clamped) string {
	name := m.Excavation
	if m.HasStation || m.Kind != dig.Centre {
		name += " " + tell.PointText(tell.View(v), m.Number)
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
