package sheet

import (
	"cmp"
	"slices"

	"spadework/engine/plan"
	"spadework/engine/tell"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// numberGroup is numbers of one part from one source that print the same: one
// line of the plan stands for them.
type numberGroup struct {
	first, last plan.Number
	least, most *unit.Length    // cut, nil where it is not known all along
	judgement   trust.Judgement // the worst of them
}

// numberGroups joins neighbours along a run that the crew digs with one number.
func numberGroups(p *plan.Plan, v View) []numberGroup {
	var out []numberGroup
	for _, n := range bySource(p.Numbers) {
		if len(out) > 0 && joins(p, v, out[len(out)-1].last, n) {
			out[len(out)-1].add(n)
			continue
		}
		out = append(out, numberGroup{first: n, last: n, least: n.Cut, most: n.Cut, judgement: n.Trust.Judgement})
	}
	return out
}

// bySource puts the rows of one part and source together, without changing the
// order of digs, parts and points.
func bySource(numbers []plan.Number) []plan.Number {
	out := slices.Clone(numbers)
	for start := 0; start < len(out); {
		end := start
		for end < len(out) && out[end].Excavation == out[start].Excavation && out[end].Part == out[start].Part {
			end++
		}
		slices.SortStableFunc(out[start:end], func(a, b plan.Number) int {
			return cmp.Or(cmp.Compare(a.Reference, b.Reference), cmp.Compare(a.Setup, b.Setup))
		})
		start = end
	}
	return out
}

// joins says that two neighbours print one number.
func joins(p *plan.Plan, v View, a, b plan.Number) bool {
	return a.HasStation && b.HasStation && a.From == plan.FromBeam && b.From == plan.FromBeam &&
		a.Excavation == b.Excavation && a.Part == b.Part && a.Setup == b.Setup &&
		numberText(p, v, a) == numberText(p, v, b) && aimText(p, v, a) == aimText(p, v, b)
}

func (g *numberGroup) add(n plan.Number) {
	g.last = n
	if plan.Worse(n.Trust.Judgement, g.judgement) {
		g.judgement = n.Trust.Judgement
	}
	if g.least == nil || n.Cut == nil {
		g.least, g.most = nil, nil
		return
	}
	if *n.Cut < *g.least {
		g.least = n.Cut
	}
	if *n.Cut > *g.most {
		g.most = n.Cut
	}
}

// cells is the line of the group in the table of numbers.
func (g *numberGroup) cells(p *plan.Plan, v View, name string) []string {
	d, _ := p.Dig(g.first.Excavation)
	point, bottom, cut := tell.PointText(tell.View(v), g.first), v.Style.ElevationFigure(g.first.Bottom), cutText(v, g.first.Cut)
	if g.last.Station != g.first.Station {
		point = tell.PartPrefix(tell.View(v), g.first) + v.Style.Station(g.first.Station) + " – " + v.Style.Station(g.last.Station)
		bottom = between(bottom, v.Style.ElevationFigure(g.last.Bottom))
		cut = between(cutText(v, g.least), cutText(v, g.most))
	}
	return []string{name, point, fromText(g.first), numberText(p, v, g.first), aimText(p, v, g.first), bottom, cut,
		bandText(v, d), shortText(v, g.judgement)}
}

// between is a span, or the one figure where both print the same.
func between(a, b string) string {
	if a == b {
		return a
	}
	return a + " – " + b
}
