package tell

import (
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// OffText is a deviation with its sign as a word, in the rod's divisions.
func OffText(v View, d unit.Length) phrase.Message {
	text := v.Style.Reading(unit.Reading(max(d, -d)))
	switch {
	case text == v.Style.Reading(0):
		return phrase.New("sheet.on_grade")
	case d > 0:
		return phrase.New("sheet.to_dig", phrase.With("size", text))
	}
	return phrase.New("sheet.over_dug", phrase.With("size", text))
}

// LogFace is the face of the job's rod, if it has one.
func LogFace(p *plan.Plan, v View) View {
	if len(p.Job.Rods) != 1 {
		return v
	}
	return v.Face(p.Job.Rods[0])
}
