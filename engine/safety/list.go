package safety

import "spadework/engine/phrase"

// Row is one rule as a list prints it.
type Row struct {
	ID       string
	Set      string // the rule set it was written for
	About    phrase.Message
	Clause   string
	Title    string
	Edition  string
	Limit    string // in the unit of its source: "5 ft", "" for a duty
	Breaks   Breaks
	Severity phrase.Severity
	Mark     Mark
	Known    phrase.Message // the mark in words: "not checked against the current text"
	Source   string
	Decides  phrase.Message
	On       bool
	Borrowed bool
}

// List is every rule of a book, on or off, in the order of the data; then the
// set's own rules from memory that a borrowed one stands for.
func List(b Book) []Row {
	var out []Row
	for _, r := range b.rules {
		out = append(out, r.row())
	}
	for _, r := range data() {
		own, _ := b.Rule(r.ID)
		if r.Set == b.set && r.Set != USFederal && own.Borrowed {
			out = append(out, r.row())
		}
	}
	return out
}

func (r Rule) row() Row {
	return Row{
		ID: r.ID, Set: r.Set, About: r.About(), Clause: r.Clause, Title: r.Title, Edition: r.Edition,
		Limit: r.Limit.String(), Breaks: r.Breaks, Severity: r.Severity, Mark: r.Mark, Known: r.Mark.Words(),
		Source: r.Source, Decides: r.decides(), On: r.On, Borrowed: r.Borrowed,
	}
}

// Words is the mark as people read it.
func (m Mark) Words() phrase.Message { return phrase.New(phrase.Key("safety.mark." + string(m))) }

// decides is who decides.
func (r Rule) decides() phrase.Message { return phrase.New(phrase.Key("who." + r.Decides)) }

// Advice is the sentence that goes before every list and every set of findings.
func Advice() phrase.Message { return phrase.New("safety.advice") }
