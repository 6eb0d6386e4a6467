package sheet

import (
	"spadework/engine/phrase"
	"spadework/engine/safety"
)

// Rules is the list of the safety rules with clause, limit, how well each is
// known and its source.
func Rules(v View, book safety.Book) *Sheet {
	s := &Sheet{View: v}
	s.line(s.Say(safety.Advice()))
	t := &Table{Columns: []Column{s.column("rule"), s.words("about"), s.column("clause"), s.figures("limit"), s.words("known"), s.words("source")}}
	for _, r := range safety.List(book) {
		t.Add(r.ID, s.Say(r.About), r.Clause, r.Limit, knownText(v, r), r.Title+", "+r.Edition+"; "+r.Source)
	}
	s.table(t)
	return s
}

// knownText is the mark of a rule in words, and whether it is judged at all.
func knownText(v View, r safety.Row) string {
	text := v.Say(r.Known)
	if !r.On {
		text += "; " + v.Say(phrase.New("sheet.rule_off"))
	}
	return text
}
