package sheet

import (
	"spadework/engine/gradeline"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// pipes tells how every pipe falls, what it carries and how deep it lies.
func (s *Sheet) pipes(p *plan.Plan) {
	if len(p.Pipes) == 0 {
		return
	}
	s.heading("sheet.pipes")
	t := &Table{Columns: []Column{s.column("dig"), s.words("purpose"), s.column("run"), s.figures("falls"), s.figures("least"),
		s.figures("speed"), s.figures("capacity"), s.figures("cover")}}
	for _, one := range p.Pipes {
		purpose := string(one.Purpose)
		if purpose == "" {
			purpose = "none"
		}
		id, carries, cover := one.ID, s.Text(phrase.Key("sheet.purpose_"+purpose)), "–"
		if one.Cover != nil {
			cover = s.Style.Length(one.Cover.Cover)
		}
		for _, r := range s.reaches(one) {
			t.Add(append([]string{id, carries}, append(r, cover)...)...)
			id, carries, cover = "", "", ""
		}
	}
	s.table(t)
}

// reaches are the cells of a pipe's reaches; of one that carries no water by
// gravity one row for all.
func (s *Sheet) reaches(one plan.Pipe) [][]string {
	n := len(one.Reaches)
	if n == 0 {
		return [][]string{{"–", "–", "–", "–", "–"}}
	}
	if !one.Purpose.Drains() {
		return [][]string{{s.span(one.Reaches[0].From, one.Reaches[n-1].To), "–", "–", "–", "–"}}
	}
	var out [][]string
	for _, r := range one.Reaches {
		row := []string{s.span(r.From, r.To), s.Style.Grade(r.Fall), "–", "–", "–"}
		if r.Least != nil {
			row[2] = s.Style.Grade(*r.Least)
		}
		if r.Speed != nil {
			row[3], row[4] = s.Style.Speed(*r.Speed), s.Style.Flow(*r.Capacity)
		}
		out = append(out, row)
	}
	return out
}

func (s *Sheet) span(from, to unit.Station) string {
	return s.Style.Station(from) + " – " + s.Style.Station(to)
}

// GradeLine is the line that the program chose, row by row, what it costs and
// what holds it where it is.
func GradeLine(p *plan.Plan, v View, l plan.GradeLine) *Sheet {
	s := &Sheet{View: v}
	s.head(p)
	d, _ := p.Dig(l.Excavation)
	s.line(s.Text("sheet.line_head", phrase.With("id", l.Excavation), phrase.With("chosen", d.Excavation.Chosen)))
	invert := "invert"
	if d.Excavation.Pipe == nil {
		invert = "line"
	}
	t := &Table{Columns: []Column{s.column("station"), s.figures("ground"), s.figures(invert), s.figures("cover"), s.figures("bottom"), s.figures("depth")}}
	for _, r := range l.Rows(p.Job.Interval) {
		t.Add(s.Style.Station(r.Station), s.Style.ElevationFigure(r.Ground), s.Style.ElevationFigure(r.Invert),
			s.Style.Length(r.Cover), s.Style.ElevationFigure(r.Bottom), s.Style.Length(r.Depth))
	}
	s.table(t)
	s.paragraph(s.Text("sheet.line_cost", phrase.With("volume", l.Digging)))
	for _, m := range l.Because() {
		s.paragraph(s.Say(m))
	}
	switch {
	case l.Problem.Bends == gradeline.Anywhere:
		s.paragraph(s.Text("sheet.line_anywhere"))
	case l.Proven:
		s.paragraph(s.Text("sheet.line_proven"))
	default:
		s.paragraph(s.Text("sheet.line_gap", phrase.With("length", l.OutOf), phrase.With("bound", l.Bound)))
	}
	return s
}
