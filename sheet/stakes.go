package sheet

import (
	"spadework/engine/phrase"
	"spadework/engine/plan"
)

// Stakes is what to write on every stake and the board over it.
func Stakes(p *plan.Plan, v View) *Sheet {
	s := &Sheet{View: v}
	if len(p.Stakes) == 0 {
		s.line(s.Text("sheet.no_stakes"))
		return s
	}
	var digs []string
	for _, st := range p.Stakes {
		digs = append(digs, st.Excavation)
	}
	s.openAt(p, "", digs...)
	t := &Table{Columns: []Column{s.column("hub"), s.column("dig"), s.column("writing"), s.column("board")}}
	for _, st := range p.Stakes {
		board := "–"
		if st.Board != nil {
			board = s.Text("sheet.board", phrase.With("size", *st.Board), phrase.With("string", st.String))
		}
		t.Add(st.Hub, st.Excavation, s.Say(st.Text), board)
	}
	s.table(t)
	return s
}
