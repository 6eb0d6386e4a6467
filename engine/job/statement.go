package job

import (
	"slices"
	"strings"
)

// statement is a line of a document, or several where a value goes on: a header,
// a key with its value, or what stands between them.
type statement struct {
	from, to int // bytes, with the line's end
	what     statementKind
	table    string   // of the document that it belongs to, "" before the first
	index    int      // which of that name, from 0
	path     []string // under that table; of a key with its own name at the end
	value    [2]int   // bytes of a key's value
	comments int      // inside the value
}

type statementKind uint8

const (
	between statementKind = iota // blank, or a comment alone
	header
	keyValue
)

// statements parts a document that is right TOML. Their bytes join to the whole.
func statements(src string) []statement {
	l := &lexer{src: src, seen: map[string]int{}, at: statement{index: -1}}
	var out []statement
	for l.pos < len(src) {
		out = append(out, l.next())
	}
	return out
}

// lexer walks over a document.
type lexer struct {
	src  string
	pos  int
	seen map[string]int // tables opened by [[name]], by name
	at   statement      // table, index and path of the last header
}

func (l *lexer) next() statement {
	s := statement{from: l.pos, table: l.at.table, index: l.at.index}
	l.blanks()
	switch {
	case l.pos >= len(l.src) || l.src[l.pos] == '\n' || l.src[l.pos] == '\r' || l.src[l.pos] == '#':
		l.restOfLine()
	case l.src[l.pos] == '[':
		s.what = header
		l.header(&s)
	default:
		s.what = keyValue
		l.keyValue(&s)
	}
	s.to = l.pos
	return s
}

func (l *lexer) blanks() {
	for l.pos < len(l.src) && (l.src[l.pos] == ' ' || l.src[l.pos] == '\t') {
		l.pos++
	}
}

func (l *lexer) restOfLine() {
	if i := strings.IndexByte(l.src[l.pos:], '\n'); i >= 0 {
		l.pos += i + 1
		return
	}
	l.pos = len(l.src)
}

// header reads [a.b] or [[a.b]].
func (l *lexer) header(s *statement) {
	list := strings.HasPrefix(l.src[l.pos:], "[[")
	l.pos++
	if list {
		l.pos++
	}
	path := l.key()
	s.table, s.path, s.index = path[0], path[1:], 0
	switch n, known := l.seen[s.table]; {
	case list && len(path) == 1:
		s.index = n
		l.seen[s.table] = n + 1
	case known && n > 0:
		s.index = n - 1
	}
	l.at = *s
	l.restOfLine()
}

// key reads a.b up to what follows it.
func (l *lexer) key() []string {
	var out []string
	for l.pos < len(l.src) {
		l.blanks()
		c := l.src[l.pos]
		if c == '"' || c == '\'' {
			from := l.pos
			l.quoted()
			out = append(out, l.src[from+1:l.pos-1])
		} else {
			from := l.pos
			for l.pos < len(l.src) && isPlainKey(l.src[l.pos:l.pos+1]) {
				l.pos++
			}
			out = append(out, l.src[from:l.pos])
		}
		l.blanks()
		if l.pos >= len(l.src) || l.src[l.pos] != '.' {
			break
		}
		l.pos++
	}
	return out
}

// keyValue reads a key with its value to the end of its line.
func (l *lexer) keyValue(s *statement) {
	s.path = slices.Concat(l.at.path, l.key())
	if s.table == "" {
		s.table, s.path, s.index = s.path[0], s.path[1:], -1
	}
	l.pos++ // =
	l.blanks()
	s.value[0] = l.pos
	depth := 0
	for l.pos < len(l.src) {
		c := l.src[l.pos]
		switch {
		case c == '"' || c == '\'':
			l.quoted()
			s.value[1] = l.pos
			continue
		case c == '#':
			if depth > 0 {
				s.comments++
			}
			l.restOfLine()
			if depth == 0 {
				return
			}
			continue
		case c == '[' || c == '{':
			depth++
		case c == ']' || c == '}':
			depth--
		case c == '\n' && depth == 0:
			l.pos++
			return
		}
		l.pos++
		if c != ' ' && c != '\t' && c != '\r' && c != '\n' {
			s.value[1] = l.pos
		}
	}
}

// quoted steps over a text in quotes, of one line or of several.
func (l *lexer) quoted() {
	q := l.src[l.pos : l.pos+1]
	if strings.HasPrefix(l.src[l.pos:], q+q+q) {
		q = q + q + q
	}
	l.pos += len(q)
	for l.pos < len(l.src) {
		if q[0] == '"' && l.src[l.pos] == '\\' {
			l.pos += 2
			continue
		}
		if strings.HasPrefix(l.src[l.pos:], q) {
			l.pos += len(q)
			for len(q) == 3 && l.pos < len(l.src) && l.src[l.pos] == q[0] { // """" ends with a quote of its own
				l.pos++
			}
			return
		}
		l.pos++
	}
}
