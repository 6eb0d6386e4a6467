package unit

import (
	"math/big"
	"strings"
	"unicode/utf8"
)

// maxReadings is how many readings an error lists.
const maxReadings = 6

// quote keeps the part of the text that a problem is about, which the caller
// cannot see any more, in alts' place: a problem without alternatives carries
// it as the only one.
func (ts *tokens) quote(p problem) problem {
	if p.kind != "" && p.kind != Ambiguous && len(p.alts) == 0 && p.hi > p.lo {
		part := string(ts.buf[p.lo:p.hi])
		p.alts = []alternative{{text: strings.ReplaceAll(part, string(degreeMark), "°")}}
	}
	return p
}

// error is the ParseError of a problem that quote has seen.
func (p problem) error(text, quantity string) *ParseError {
	e := &ParseError{Kind: p.kind, Quantity: quantity, Text: shorten(text), Limit: p.limit}
	switch {
	case p.kind == MissingUnit || p.kind == Ambiguous || p.kind == Range:
		for _, a := range p.alts {
			e.Readings = append(e.Readings, a.text)
		}
	case len(p.alts) > 0:
		e.Part = asWritten(text, p.alts[0].text)
	}
	return e
}

// asWritten is a part of the plain text in the letters of the text, if it can
// be found there.
func asWritten(text, part string) string {
	at := strings.Index(strings.ToLower(text), part)
	if at < 0 || len(strings.ToLower(text)) != len(text) {
		return part
	}
	return text[at : at+len(part)]
}

// shorten keeps an error on one line.
func shorten(text string) string {
	const most = 60
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "…"
}

// onlyLength settles an ambiguous text: if just one alternative is a length
// that is it, else the error lists those that are.
func (r Reader) onlyLength(text, quantity string, p problem) (exact, error) {
	e := &ParseError{Kind: Ambiguous, Quantity: quantity, Text: shorten(text)}
	to := settling{e: e}
	r.settle(p, &to, 0)
	taken, first := to.taken, to.first
	switch {
	case len(e.Readings) == 1 && len(taken) == 1:
		return taken[0], nil
	case len(e.Readings) == 0:
		return exact{}, first.error(text, quantity)
	case len(e.Readings) == 1 && strings.Contains(e.Readings[0], "…"):
		e.Kind = Range
	case len(e.Readings) == 1:
		e.Kind = MissingUnit
	}
	return exact{}, e
}

// settling gathers what the alternatives of a text come to.
type settling struct {
	e     *ParseError
	taken []exact // the values that may be accepted
	first problem // of an alternative that is no length
}

// maxDepth is how many ambiguities one text may have: fraction, decimal mark
// and unit at once is more than any figure.
const maxDepth = 3

// settle tries the alternatives of a problem and those that they lead to.
func (r Reader) settle(p problem, to *settling, depth int) {
	for _, a := range p.alts {
		if strings.Contains(a.text, "…") {
			to.e.add(a.text)
			continue
		}
		s, q := r.length(a.text, a.improper)
		switch {
		case q.kind == Ambiguous && depth < maxDepth:
			r.settle(q, to, depth+1)
		case q.kind == "":
			x := s.exact()
			if to.e.add(r.named(a.text, &s)+inMetres(x, &s)) && !a.only {
				to.taken = append(to.taken, x)
			}
		case q.kind == Ambiguous:
			to.first = problem{kind: BadNumber, alts: []alternative{{text: a.text}}}
		case to.first.kind == "":
			to.first = q
		}
	}
}

// add lists a reading once and reports whether it was new.
func (e *ParseError) add(reading string) bool {
	for _, have := range e.Readings {
		if have == reading {
			return false
		}
	}
	if len(e.Readings) < maxReadings {
		e.Readings = append(e.Readings, reading)
	}
	return true
}

// named is a text with its unit, where it has none that of the scale.
func (r Reader) named(text string, s *sum) string {
	if isDigit(text[len(text)-1]) && s.n == 1 {
		return text + " " + s.terms[0].unit.name
	}
	return text
}

// inMetres is " (0.0381 m)", nothing where the text is in metres already.
func inMetres(x exact, s *sum) string {
	if s.terms[0].unit == metres && s.terms[0].m.den == 0 {
		return ""
	}
	return " (" + trimmed(x.rat(), 4) + " m)"
}

// trimmed prints a rational with at most some decimals.
func trimmed(v *big.Rat, places int) string {
	return strings.TrimSuffix(strings.TrimRight(v.FloatString(places), "0"), ".")
}
