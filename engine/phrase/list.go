package phrase

import "strings"

// join is how a list ends.
type join uint8

const (
	and join = iota
	or
)

// list joins items as a sentence does: a, b and c.
func list(items []string, j join, lang Language) string {
	if len(items) < 2 {
		return strings.Join(items, "")
	}
	last := items[len(items)-1]
	return strings.Join(items[:len(items)-1], ", ") + " " + conjunction(j, lang, last) + " " + last
}

// conjunction is the word before the last item. Spanish y becomes e before the
// sound i, and o becomes u before the sound o, figures included (8, 11).
func conjunction(j join, lang Language, next string) string {
	if lang != Spanish {
		return [...]string{and: "and", or: "or"}[j]
	}
	next = strings.ToLower(next)
	switch {
	case j == and && soundsI(next):
		return "e"
	case j == and:
		return "y"
	case soundsO(next):
		return "u"
	}
	return "o"
}

// soundsI says that a Spanish word begins with the vowel i; ia, ie and io are
// a consonant, as in hielo.
func soundsI(word string) bool {
	word = strings.TrimPrefix(word, "h")
	return hasPrefix(word, "i", "í") && !hasPrefix(word, "ia", "ie", "io")
}

// soundsO says that a Spanish word or figure begins with the vowel o: ocho and
// its hundreds and thousands, once.
func soundsO(word string) bool {
	if hasPrefix(word, "8") {
		return true
	}
	if rest, ok := strings.CutPrefix(word, "11"); ok {
		return rest == "" || rest[0] < '0' || rest[0] > '9'
	}
	return hasPrefix(strings.TrimPrefix(word, "h"), "o", "ó")
}

// hasPrefix says that s begins with one of the prefixes.
func hasPrefix(s string, prefixes ...string) bool {
	for _, p := range prefixes {
		if strings.HasPrefix(s, p) {
			return true
		}
	}
	return false
}
