package exchange

import (
	"strconv"
	"strings"
)

// property is a fact of a dig by its name in files: a word, or a length.
type property struct {
	name   string
	word   *string
	length **float64
}

// properties are the facts in the order in which files have them.
func (d *DigFacts) properties() []property {
	return []property{
		{name: "dig_kind", word: &d.Kind},
		{name: "tolerance_above", length: &d.Above},
		{name: "tolerance_below", length: &d.Below},
		{name: "width", length: &d.Width},
	}
}

// text is the fact as files have it, lengths in metres; false where it is not told.
func (p property) text() (string, bool) {
	if p.word != nil {
		return *p.word, *p.word != ""
	}
	if *p.length == nil {
		return "", false
	}
	return figure(**p.length), true
}

// take sets the fact from a text; a length counts in units of so many metres.
// False where it is no fact of a dig.
func (p property) take(text string, metres float64) bool {
	text = strings.TrimSpace(text)
	if p.word != nil {
		*p.word = text
		return true
	}
	v, err := strconv.ParseFloat(text, 64)
	v *= metres
	if err != nil || !(v >= 0 && v <= maxCoordinate) {
		return false
	}
	*p.length = &v
	return true
}
