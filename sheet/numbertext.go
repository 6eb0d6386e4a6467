package sheet

import (
	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// fromText is the set-up or the point that a number is counted from.
func fromText(n plan.Number) string {
	if n.From == plan.FromBeam {
		return n.Setup
	}
	return n.Reference
}

// numberText is the number in the face of the set-up's rod; of a planned set-up
// the sum that today's height goes into.
func numberText(p *plan.Plan, v View, n plan.Number) string {
	return draw.Voice(v).Figure(draw.FigureOf(p, n))
}

// aimText is the rod at the height to aim at, where the crew works to that; of a
// planned set-up the sum that today's height goes into.
func aimText(p *plan.Plan, v View, n plan.Number) string {
	if p.WorkedTo(n) == 0 {
		return ""
	}
	return draw.Voice(v).Figure(draw.WorkFigureOf(p, n))
}

// judgementText is the word for a number; a dash where there is none.
func judgementText(v View, j trust.Judgement) string {
	if j == "" {
		return "–"
	}
	return v.Say(j.Text())
}

// shortText is judgementText where there is no room.
func shortText(v View, j trust.Judgement) string {
	if j == "" {
		return "–"
	}
	return v.Say(j.Short())
}

// cutText is how much is to dig or to fill, its sign a word; a dash where the
// ground is not known.
func cutText(v View, cut *unit.Length) string {
	switch {
	case cut == nil:
		return "–"
	case *cut < 0:
		return v.Text("sheet.fill", phrase.With("size", -*cut))
	}
	return v.Style.Length(*cut)
}

// bandText is toleranceText in signs, for a table.
func bandText(v View, d plan.Dig) string {
	t := d.Excavation.Tolerance
	switch {
	case t == nil:
		return "–"
	case t.Above == t.Below:
		return "±" + v.Style.Length(t.Above)
	}
	return "+" + v.Style.Length(t.Above) + " −" + v.Style.Length(t.Below)
}

// toleranceText is how far the bottom may lie over and under.
func toleranceText(v View, d plan.Dig) string {
	t := d.Excavation.Tolerance
	if t == nil {
		return v.Text("sheet.no_tolerance")
	}
	return v.Text("sheet.tolerance", phrase.With("above", t.Above), phrase.With("below", t.Below))
}
