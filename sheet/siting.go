package sheet

import (
	"slices"
	"strings"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// sited tells where the set-ups that the plan adds to the job are to stand.
func (s *Sheet) sited(p *plan.Plan) {
	if p.Siting == nil {
		return
	}
	for _, sited := range p.Siting.Setups {
		set, _ := p.Setup(sited.ID)
		s.paragraph(s.Text("sheet.sited", phrase.With("setup", sited.ID), phrase.With("at", p.PlaceText(set.Plane.At)),
			phrase.With("digs", sited.Digs)))
	}
}

// Explain is why the planned set-ups are where they are, how far their number is
// proven, and what the next-best place would cost.
func Explain(p *plan.Plan, v View) *Sheet {
	s := &Sheet{View: v}
	s.head(p)
	if p.Siting == nil {
		s.paragraph(s.Text("sheet.explain_none"))
		s.explainStands(p)
		return s
	}
	s.proven(p.Siting)
	for _, sited := range p.Siting.Setups {
		s.explain(p, sited)
	}
	for _, u := range p.Unserved {
		s.paragraph(s.Text("sheet.explain_unserved", phrase.With("id", u.Excavation), phrase.With("why", u.Reason)))
	}
	s.explainStands(p)
	return s
}

// proven tells how far the number of set-ups is proven.
func (s *Sheet) proven(g *plan.Siting) {
	key := phrase.Key("sheet.explain_gap")
	if g.Proven {
		key = "sheet.explain_proven"
	}
	s.paragraph(s.Text(key, phrase.With("count", g.Count), phrase.With("bound", g.Bound),
		phrase.With("places", g.Places), phrase.With("candidates", g.Candidates)))
	if g.Worst > 0 {
		s.paragraph(s.Text("sheet.explain_worst", phrase.With("worst", fine(s.View, unit.Length(g.Worst))),
			phrase.With("bound", fine(s.View, unit.Length(g.WorstBound)))))
	}
}

// explain tells of one set-up.
func (s *Sheet) explain(p *plan.Plan, sited plan.Sited) {
	set, _ := p.Setup(sited.ID)
	s.paragraph(s.Text("sheet.sited", phrase.With("setup", sited.ID), phrase.With("at", p.PlaceText(set.Plane.At)), phrase.With("digs", sited.Digs)))
	if set.Window != nil {
		s.detail(s.Text("sheet.explain_heights", phrase.With("low", set.Window.Low), phrase.With("high", set.Window.High), phrase.With("target", set.Plane.HI)))
	}
	if sited.Error > 0 {
		s.detail(s.Text("sheet.explain_error", phrase.With("sigma", fine(s.View, sited.Error))))
	}
	if !sited.Other.Found {
		s.detail(s.Text("sheet.explain_only"))
		return
	}
	args := []phrase.Arg{phrase.With("at", p.PlaceText(sited.Other.At)), phrase.With("walk", unit.Length(sited.Other.Walk)), phrase.With("walked", unit.Length(p.Siting.Walk))}
	if sited.Other.Error == 0 {
		s.detail(s.Text("sheet.explain_other_walk", args...))
		return
	}
	s.detail(s.Text("sheet.explain_other", append(args, phrase.With("error", fine(s.View, sited.Other.Error)),
		phrase.With("worst", fine(s.View, unit.Length(p.Siting.Worst))))...))
}

// Here is what a laser at a place serves: the heights, the numbers at the height
// given, and why the rest is not served.
func Here(p *plan.Plan, v View, h *plan.Here) *Sheet {
	v = v.Face(h.Rod)
	s := &Sheet{View: v}
	s.head(p)
	if h.HI != nil {
		s.openAt(p, "", hereDigs(h)...)
	}
	s.line(s.Text("sheet.here", phrase.With("at", p.PlaceText(h.At))))
	if h.Tripod != nil {
		s.line(s.Text("sheet.here_tripod", phrase.With("low", h.Tripod.Low), phrase.With("high", h.Tripod.High)))
	} else {
		s.line(s.Text("sheet.here_no_ground"))
	}
	if h.HI != nil {
		s.line(s.Text("sheet.here_hi", phrase.With("hi", *h.HI)))
	}
	t := &Table{Columns: []Column{s.column("dig"), s.column("point"), s.words("heights")}}
	if h.HI != nil {
		t.Columns = []Column{s.column("dig"), s.column("point"), s.figures("number"), s.words("heights")}
	}
	for _, c := range h.Cells {
		s.hereRows(t, h, c)
	}
	for _, m := range h.Marks {
		s.hereMark(t, h, m)
	}
	s.table(t)
	s.paragraph(s.Text("sheet.here_legend"))
	return s
}

// hereDigs are the digs that numbers are told for.
func hereDigs(h *plan.Here) []string {
	var out []string
	for _, c := range h.Cells {
		if len(c.Numbers) > 0 {
			out = append(out, c.Excavation)
		}
	}
	return slices.Compact(out)
}

// hereRows are the lines of a dig: one a number, or one that says why there is
// none.
func (s *Sheet) hereRows(t *Table, h *plan.Here, c plan.HereCell) {
	span := ""
	if c.Run {
		span = stretchText(s.View, c.First, c.Last)
	}
	about := heightsText(s.View, c.Windows)
	if !c.Why.IsZero() {
		why := s.Say(c.Why)
		if about != "" {
			why = about + "; " + why
		}
		add(t, h, [4]string{c.Excavation, span, "–", why})
		return
	}
	if c.Dialled {
		about += "; " + s.Text("sheet.here_dialled")
	}
	if len(c.Numbers) == 0 {
		add(t, h, [4]string{c.Excavation, span, "–", about})
	}
	for i, n := range c.Numbers {
		if i > 0 {
			about = ""
		}
		add(t, h, [4]string{c.Excavation, tell.PointText(tell.View(s.View), n), s.Style.Reading(n.Rod), about})
	}
}

// add is a line of the table, without the number where no height is given.
func add(t *Table, h *plan.Here, cells [4]string) {
	if h.HI == nil {
		t.Add(cells[0], cells[1], cells[3])
		return
	}
	t.Add(cells[:]...)
}

func (s *Sheet) hereMark(t *Table, h *plan.Here, m plan.HereMark) {
	about, number := s.Text("sheet.here_unread"), "–"
	if m.Window != nil {
		about = heightsText(s.View, []beam.Window{*m.Window})
	}
	if m.Read {
		number = s.Style.Reading(m.Rod)
	}
	add(t, h, [4]string{m.Benchmark, s.Text("sheet.here_mark"), number, about})
}

// heightsText is the beam heights of windows.
func heightsText(v View, windows []beam.Window) string {
	var out []string
	for _, w := range windows {
		out = append(out, v.Text("sheet.here_heights", phrase.With("low", w.Low), phrase.With("high", w.High)))
	}
	return strings.Join(out, ", ")
}
