package sheet

import (
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/safety"
)

// Rules is the list of the safety rules: what each is about with its limit, then
// its clause, how well it is known, document, edition and source. Documents and
// sources are told in their own language.
func Rules(v View, book safety.Book) *Sheet {
	s := &Sheet{View: v}
	s.line(s.Say(safety.Advice()))
	s.heading("sheet.rules")
	for _, r := range safety.List(book) {
		s.paragraph(s.ruleHead(r))
		s.detail(s.ruleSource(r))
	}
	return s
}

// ruleHead is the rule's id, what it is about, and when it is broken.
func (s *Sheet) ruleHead(r safety.Row) string {
	text := r.ID + ": " + s.Say(r.About)
	if r.Limit == "" {
		return text
	}
	if r.Breaks == safety.None {
		return text + ": " + r.Limit
	}
	key := map[safety.Breaks]phrase.Key{
		safety.AtOrOver: "sheet.rule_from", safety.Over: "sheet.rule_over", safety.Under: "sheet.rule_under"}[r.Breaks]
	return text + ": " + s.Text(key, phrase.With("limit", r.Limit))
}

// ruleSource is clause, mark, document, edition, source and who decides.
func (s *Sheet) ruleSource(r safety.Row) string {
	var parts []string
	if r.Clause != "" {
		parts = append(parts, s.Text("sheet.rule_clause", phrase.With("clause", r.Clause)))
	}
	known := s.Say(r.Known)
	if !r.On {
		known += "; " + s.Text("sheet.rule_off")
	}
	parts = append(parts, s.Text("sheet.rule_known", phrase.With("known", known)), s.Text("sheet.rule_document", phrase.With("title", r.Title), phrase.With("edition", s.edition(r.Edition))),
		s.Text("sheet.rule_source", phrase.With("source", r.Source)), s.Text("sheet.rule_decides", phrase.With("decides", r.Decides)))
	return strings.Join(parts, ". ") + "."
}

// edition is the edition of a document in words, where it is not a date.
func (s *Sheet) edition(e string) string {
	switch e {
	case "":
		return "–"
	case "not recorded", "not seen":
		return s.Text(phrase.Key("sheet.edition_" + strings.ReplaceAll(e, " ", "_")))
	}
	return e
}
