package sheet

import (
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// CutSheet is station, ground, bottom, grade rod and cut of one dig.
func CutSheet(p *plan.Plan, v View, c plan.CutSheet) *Sheet {
	s := &Sheet{View: v}
	d, _ := p.Dig(c.Excavation)
	s.head(p)
	s.openAt(p, c.Setup, c.Excavation)
	s.line(s.Text("sheet.cutsheet_head", phrase.With("id", c.Excavation), phrase.With("tolerance", toleranceText(v, d))))
	if set, ok := p.Setup(c.Setup); ok {
		s.line(s.Text("sheet.cutsheet_setup", phrase.With("setup", set.ID), phrase.With("hi", hiText(v, set)),
			phrase.With("state", phrase.New(phrase.Key("sheet.state_"+set.State.String())))))
	} else {
		s.line(s.Text("sheet.cutsheet_no_setup"))
	}
	t := &Table{Columns: []Column{s.column("station"), s.figures("ground"), s.figures("bottom"), s.main("number"), s.figures("aim"), s.figures("cut")}}
	for _, n := range c.Rows {
		t.Add(tell.PointText(tell.View(v), n), elevationOrDash(v, n.Ground), v.Style.ElevationFigure(n.Bottom), rodOrDash(p, v, n), aimText(p, v, n), cutText(v, n.Cut))
	}
	aims := t.dropEmpty(4)
	s.table(t)
	if aims {
		s.paragraph(s.Text("sheet.aim_legend"))
	}
	if ok, why := p.InHole(c.Excavation); !ok {
		s.paragraph(s.Say(why) + ".")
	}
	return s
}

func elevationOrDash(v View, e *unit.Elevation) string {
	if e == nil {
		return "–"
	}
	return v.Style.ElevationFigure(*e)
}

// rodOrDash is the rod, or a dash where no beam serves the dig.
func rodOrDash(p *plan.Plan, v View, n plan.Number) string {
	if n.From != plan.FromBeam {
		return "–"
	}
	return numberText(p, v, n)
}
