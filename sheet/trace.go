package sheet

import (
	"spadework/engine/dig"
	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// Trace is the arithmetic of one dig: every bottom term by term, then the
// number from every set-up. Figures have three places, so that the sum can be
// checked by hand.
func Trace(p *plan.Plan, v View, d plan.Dig) *Sheet {
	v.Style.Places = 3
	s := &Sheet{View: v}
	for _, part := range d.Parts {
		s.partTrace(d, part)
	}
	s.openAt(p, "", d.Excavation.ID)
	for _, n := range p.Numbers {
		if n.Excavation == d.Excavation.ID {
			s.paragraph(s.numberTrace(p, n))
		}
	}
	return s
}

// partTrace is the sum that leads to a part's bottom.
func (s *Sheet) partTrace(d plan.Dig, part dig.Part) {
	name := d.Excavation.ID
	if len(d.Parts) > 1 {
		name += " " + tell.PartText(tell.View(s.View), part.ID)
	}
	words := part.Trace.Words
	if words == "" {
		words = s.Text("sheet.no_words")
	}
	s.line(name + ": " + words)
	t := &Table{Columns: []Column{{}, {Right: true}, {}}, Plain: true}
	t.Add("", s.Style.ElevationFigure(part.Trace.Origin.Elevation), s.Say(part.Trace.Origin.Label))
	for _, term := range part.Trace.Terms {
		sign, size := "+", term.Value
		if size < 0 {
			sign, size = "−", -size
		}
		t.Add(sign, s.Style.ElevationFigure(unit.Elevation(size)), s.Say(term.Label)+beside(s.View, size))
	}
	t.Add("=", s.Style.ElevationFigure(part.Trace.Sum), s.Text("sheet.bottom"))
	s.table(t)
	if part.Run() && part.Grade != 0 {
		s.paragraph(s.Text("sheet.run_grade", phrase.With("from", part.From), phrase.With("to", part.To), phrase.With("grade", gradeText(part.Grade))))
	}
}

// sum is the sum that leads to a part's bottom in one line.
func (s *Sheet) sum(part dig.Part) string {
	text := s.Style.ElevationFigure(part.Trace.Origin.Elevation) + " " + s.Say(part.Trace.Origin.Label)
	for _, term := range part.Trace.Terms {
		sign, size := " + ", term.Value
		if size < 0 {
			sign, size = " − ", -size
		}
		text += sign + s.Style.ElevationFigure(unit.Elevation(size)) + " " + s.Say(term.Label) + beside(s.View, size)
	}
	text += " = " + s.Style.ElevationFigure(part.Trace.Sum)
	if part.Run() && part.Grade != 0 {
		text += "; " + s.Text("sheet.run_grade", phrase.With("from", part.From), phrase.With("to", part.To), phrase.With("grade", gradeText(part.Grade)))
	}
	return text
}

// beside adds a length as the crew writes it where that differs from the
// decimal figure.
func beside(v View, l unit.Length) string {
	if v.Style.System == unit.Imperial && v.Style.Fraction > 0 {
		return " (" + v.Style.Length(l) + ")"
	}
	return ""
}

// gradeText says whether a line rises or falls onward.
func gradeText(g unit.Grade) phrase.Message {
	if g < 0 {
		return phrase.New("sheet.falls", phrase.With("grade", -g))
	}
	return phrase.New("sheet.rises", phrase.With("grade", g))
}

// numberTrace is beam − bottom = number.
func (s *Sheet) numberTrace(p *plan.Plan, n plan.Number) string {
	head := fromText(n) + " " + tell.PointText(tell.View(s.View), n) + ": "
	bottom := s.Style.ElevationFigure(n.Bottom)
	if n.From != plan.FromBeam {
		return head + s.Style.ElevationFigure(n.ReferenceElevation) + " − " + bottom + " = " + s.Style.Length(unit.Length(n.Rod))
	}
	if f, planned := draw.FigureOf(p, n).(draw.PlannedSum); planned {
		return head + s.Text("sheet.number_trace_planned", phrase.With("sum", draw.Voice(s.View).OpenSum(f)))
	}
	text := head + s.Text("sheet.number_trace",
		phrase.With("beam", s.Style.ElevationFigure(n.Beam)), phrase.With("curvature", fine(s.View, n.Curvature)),
		phrase.With("bottom", bottom), phrase.With("rod", numberText(p, s.View, n)))
	if aim := p.WorkedTo(n); aim != 0 {
		text += s.Text("sheet.trace_aim", phrase.With("rod", aimText(p, s.View, n)), phrase.With("aim", aimHeight(s.View, aim)))
	}
	return text
}
