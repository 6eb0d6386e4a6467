package safety

import "spadework/engine/phrase"

// Row is one rule as a list prints it.
type Row struct {
	ID       string
	Set      string
	About    phrase.Message
	Clause   string
	Title    string
	Edition  string
	Limit    string // in the unit of the source: "5 ft", "" for a duty
	Breaks   Breaks
	Severity phrase.Severity
	Mark     Mark
	Known    phrase.Message // the mark in words: "not checked against the current text"
	Source   string
	Decides  phrase.Message
	On       bool
	Borrowed bool
}

// List is every rule of a book in the order of the data, for printing.
func List(b Book) []Row { return nil }

// Advice is the sentence that goes before every list and every set of findings.
func Advice() phrase.Message { return phrase.New("safety.advice") }
