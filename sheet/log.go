package sheet

import (
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
)

// Log is the records in their order and what is set aside.
func Log(p *plan.Plan, v View, st *record.State) *Sheet {
	s := &Sheet{View: v}
	t := &Table{Columns: []Column{s.column("day"), s.column("time"), s.column("person"), s.column("what"), s.words("told")}}
	for _, l := range st.Log {
		text := recordText(p, v, l.Record)
		if l.Corrected {
			text += " " + s.Text("sheet.corrected")
		}
		t.Add(l.Time.Date(), l.Time.Minute(), l.Person, s.Say(kindOf(l.Kind())), text)
	}
	s.table(t)
	s.line(s.Text("sheet.log_sum", phrase.With("count", st.Count), phrase.With("aside", len(st.Aside)), phrase.With("doubled", st.Doubled)))
	s.asides(st)
	return s
}

// asides tells the records that do not count yet and why.
func (s *Sheet) asides(st *record.State) {
	for _, a := range st.Aside {
		s.paragraph(s.Text(phrase.Key("sheet.aside_"+string(a.Status)), phrase.With("device", a.Device), phrase.With("seq", int(a.Seq)),
			phrase.With("kind", kindOf(a.Kind)), phrase.With("why", a.Why)))
	}
}

// Chains tells whether every device's chain of records is whole.
func Chains(v View, chains []record.Chain) *Sheet {
	s := &Sheet{View: v}
	for _, c := range chains {
		if len(c.Breaks) == 0 {
			s.line(s.Text("sheet.chain_whole", phrase.With("device", c.Device), phrase.With("count", c.Count)))
			continue
		}
		s.line(s.Text("sheet.chain_broken", phrase.With("device", c.Device), phrase.With("count", len(c.Breaks)), phrase.With("records", c.Count)))
		for _, b := range c.Breaks {
			s.paragraph(s.Say(b.Message()))
		}
	}
	if len(chains) == 0 {
		s.line(s.Text("sheet.log_empty"))
	}
	s.paragraph(s.Text("sheet.chain_limit"))
	return s
}

// CheckLog is the newest shot at every point, what it proves and its verdict, then
// what every dig of several points and the job prove together.
func CheckLog(p *plan.Plan, v View, st *record.State, proofs []record.DigProof) *Sheet {
	s := &Sheet{View: v}
	if pointCount(st) == 0 {
		s.line(s.Text("sheet.no_shots"))
	} else {
		s.asBuilt(p, st, proofs)
	}
	s.line(s.Text("sheet.check_log_sum", phrase.With("count", pointCount(st)), phrase.With("open", st.Open())))
	return s
}

func pointCount(st *record.State) int {
	n := 0
	for _, d := range st.Digs {
		n += len(d.Points)
	}
	return n
}

// shots is the table of the newest shots.
func (s *Sheet) shots(p *plan.Plan, st *record.State) {
	if pointCount(st) == 0 {
		s.line(s.Text("sheet.no_shots"))
		return
	}
	f := View(tell.LogFace(p, tell.View(s.View)))
	t := &Table{Columns: []Column{s.column("dig"), s.column("tag"), s.figures("height"), s.column("deviation"), s.words("verdict")}}
	for _, d := range inJobOrder(p, st) {
		for _, pt := range d.Points {
			t.Add(placeOf(s.View, d.Excavation, pt.Part, pt.Point, pt.Station), orDash(pt.Tag), s.Style.ElevationFigure(pt.Height),
				s.Say(tell.OffText(tell.View(f), pt.Deviation)), s.pointVerdict(p, d, pt))
		}
	}
	s.table(t)
}

// inJobOrder is the digs of the log as the plan lists them, then those that the
// job does not have.
func inJobOrder(p *plan.Plan, st *record.State) []record.DigState {
	var out []record.DigState
	for _, d := range p.Digs {
		if state, ok := st.Dig(d.Excavation.ID); ok {
			out = append(out, state)
		}
	}
	for _, state := range st.Digs {
		if _, ok := p.Dig(state.Excavation); !ok {
			out = append(out, state)
		}
	}
	return out
}

// pointVerdict says what a shot comes to, and what of it a reader must know.
func (s *Sheet) pointVerdict(p *plan.Plan, d record.DigState, pt record.PointState) string {
	out := s.Text(phrase.Key("sheet.log_" + string(pt.Verdict)))
	if !pt.Why.IsZero() {
		out += ": " + s.Say(pt.Why)
	}
	if pt.Corrected {
		out += " " + s.Text("sheet.corrected")
	}
	if pt.Several {
		out += " " + s.Text("sheet.several")
	}
	if _, ok := p.Dig(d.Excavation); !ok {
		out += " " + s.Text("sheet.not_in_job")
	}
	return out
}
