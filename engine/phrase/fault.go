package phrase

import (
	"strconv"
	"strings"

	"spadework/engine/unit"
)

// Code sorts faults for machines.
type Code string

// The codes of faults.
const (
	Invalid  Code = "invalid"
	NotFound Code = "not_found"
	Conflict Code = "conflict"
)

// Place says where in the input a fault is. Zero parts are left out.
type Place struct {
	File   string
	Line   int // from 1
	Column int // from 1, in characters
	Path   string
}

// String is "file:line:column: path".
func (p Place) String() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		b.WriteString(":" + strconv.Itoa(p.Line))
		if p.Column > 0 {
			b.WriteString(":" + strconv.Itoa(p.Column))
		}
	}
	if p.Path != "" {
		if b.Len() > 0 {
			b.WriteString(": ")
		}
		b.WriteString(p.Path)
	}
	return strings.TrimPrefix(b.String(), ":")
}

// Fault is bad input: what was read and which rule it breaks, where, and what
// to do about it. It is an error; engine code returns *Fault for anything a
// user can cause.
type Fault struct {
	Code   Code
	Place  Place
	What   Message // quotes the value and names the rule
	Remedy Message
}

// NewFault is a fault of bad input without a place, which the reader who knows
// the file adds with At.
func NewFault(what, remedy Message) *Fault {
	return &Fault{Code: Invalid, What: what, Remedy: remedy}
}

// At is a copy of f at a place. A place that f already has is kept.
func (f *Fault) At(p Place) *Fault {
	out := *f
	if out.Place == (Place{}) {
		out.Place = p
	}
	return &out
}

// Error is the fault in English and metres, on one line without the remedy.
func (f *Fault) Error() string { return f.Render(English, unit.Style{}) }

// Render is the fault on one line without the remedy.
func (f *Fault) Render(lang Language, style unit.Style) string {
	what := f.What.Render(lang, style)
	if place := f.Place.String(); place != "" {
		return place + ": " + what
	}
	return what
}
