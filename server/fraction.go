package server

import (
	"html/template"
	"regexp"
	"strings"

	"spadework/sheet"
)

// fraction is a part of an inch as crews write it.
var fraction = regexp.MustCompile(`(\d+)/(2|4|8|16|32)`)

// figures is text with its fractions set as fractions. The stroke stays in the
// text, so that what is copied or read aloud is the figure itself, and a figure
// with its fraction never breaks over two lines.
func figures(text string) template.HTML {
	words := strings.Split(sheet.Unbroken(text), " ")
	for i, word := range words {
		words[i] = fractions(word)
	}
	return template.HTML(strings.Join(words, " "))
}

// fractions sets one word; a fraction that is a piece of more, as in a date, is
// left as it is.
func fractions(word string) string {
	var b strings.Builder
	last := 0
	for _, m := range fraction.FindAllStringSubmatchIndex(word, -1) {
		if m[0] > 0 && partOfMore(word[m[0]-1]) || m[1] < len(word) && (partOfMore(word[m[1]]) || digit(word[m[1]])) {
			continue
		}
		b.WriteString(template.HTMLEscapeString(word[last:m[0]]))
		b.WriteString(`<span class="fr"><span>` + word[m[2]:m[3]] + `</span><i>/</i><span>` + word[m[4]:m[5]] + `</span></span>`)
		last = m[1]
	}
	if last == 0 {
		return template.HTMLEscapeString(word)
	}
	b.WriteString(template.HTMLEscapeString(word[last:]))
	return `<span class="nb">` + b.String() + `</span>`
}

// partOfMore are the marks that join a fraction to something else.
func partOfMore(c byte) bool { return c == '/' || c == '.' || c == ',' }

func digit(c byte) bool { return c >= '0' && c <= '9' }
