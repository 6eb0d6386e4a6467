package exchange

// word is a run of characters between blanks, with its place.
type word struct {
	text         string
	line, column int
}

// words walks the words of a text.
type words struct {
	rest         string
	line, column int
}

func newWords(data []byte) *words { return &words{rest: string(data), line: 1, column: 1} }

// peek is the next word without taking it; at the end only its place counts.
func (w *words) peek() (word, bool) {
	saved := *w
	out, ok := w.next()
	*w = saved
	return out, ok
}

// next takes the next word.
func (w *words) next() (word, bool) {
	i := 0
	for i < len(w.rest) && blank(w.rest[i]) {
		w.column++
		if w.rest[i] == '\n' {
			w.line, w.column = w.line+1, 1
		}
		i++
	}
	start := i
	for i < len(w.rest) && !blank(w.rest[i]) {
		i++
	}
	out := word{text: w.rest[start:i], line: w.line, column: w.column}
	w.column += i - start
	w.rest = w.rest[i:]
	return out, out.text != ""
}

func blank(c byte) bool { return c == ' ' || c == '\n' || c == '\r' || c == '\t' }
