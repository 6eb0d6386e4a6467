package sheet

import (
	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/engine/plan"
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

// toleranceText is how far the bottom may lie over and under.
func toleranceText(v View, d plan.Dig) string {
	t := d.Excavation.Tolerance
	if t == nil {
		return v.Text("sheet.no_tolerance")
	}
	return v.Text("sheet.tolerance", phrase.With("above", t.Above), phrase.With("below", t.Below))
}
