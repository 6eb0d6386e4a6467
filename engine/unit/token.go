package unit

import (
	"unicode"
	"unicode/utf8"
)

// Texts are first brought to plain form in a buffer on the stack: lower case,
// typographic marks as ' " - /, vulgar fractions as 1/2, one space where there
// were several. degreeMark stands for °.
const (
	maxText    = 80 // bytes in plain form
	maxTokens  = 20
	degreeMark = '\x01'
)

// The kinds of token that are not their own character.
const (
	numberToken = 'n'
	wordToken   = 'w'
)

// token is a number, a word or a single mark of the plain text.
type token struct {
	kind      byte
	spaced    bool // a space stands before it
	ambiguous bool // the number's only mark may be decimal or group thousands
	lo, hi    int  // in the plain text
	d         decimal
}

// tokens is a text in plain form and its tokens.
type tokens struct {
	buf   [maxText]byte
	size  int
	list  [maxTokens]token
	n     int
	comma bool
}

// problem is what is wrong with a plain text, where; zero if nothing.
type problem struct {
	kind   Kind
	lo, hi int
	limit  string
	alts   []alternative
}

// alternative is a text that another might mean.
type alternative struct {
	text     string
	only     bool // told to the reader but never accepted
	improper bool // a fraction over one is meant as it stands
}

// vulgar are the fractions that have a character.
var vulgar = map[rune]string{'½': "1/2", '⅓': "1/3", '⅔': "2/3", '¼': "1/4", '¾': "3/4", '⅕': "1/5", '⅖': "2/5",
	'⅗': "3/5", '⅘': "4/5", '⅙': "1/6", '⅚': "5/6", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅒': "1/10"}

// plainMark is the ASCII form of a typographic mark, 0 if it is none.
func plainMark(r rune) byte {
	switch r {
	case '′', '’', '‘', '´', 'ʹ':
		return '\''
	case '″', '”', '“', 'ʺ':
		return '"'
	case '−', '–', '‐', '‑':
		return '-'
	case '⁄', '∕':
		return '/'
	case '°', 'º', '˚':
		return degreeMark
	case '∶':
		return ':'
	}
	return 0
}

// put adds a byte of plain text and reports whether there was room.
func (ts *tokens) put(c byte) bool {
	if c == ' ' && (ts.size == 0 || ts.buf[ts.size-1] == ' ') {
		return true
	}
	if c == '\'' && ts.size > 0 && ts.buf[ts.size-1] == '\'' {
		ts.buf[ts.size-1] = '"'
		return true
	}
	if ts.size == maxText {
		return false
	}
	ts.buf[ts.size] = c
	ts.size++
	return true
}

// putAll adds several bytes.
func (ts *tokens) putAll(s string) bool {
	for i := 0; i < len(s); i++ {
		if !ts.put(s[i]) {
			return false
		}
	}
	return true
}

// plain fills the buffer.
func (ts *tokens) plain(text string) problem {
	after := false // a vulgar fraction
	for _, r := range text {
		ok := true
		if after && r >= '0' && r <= '9' {
			ok = ts.put(' ')
		}
		after = false
		if r >= utf8.RuneSelf {
			ok, after = ts.putRune(r)
		} else if r < ' ' && r != '\t' || r == 0x7f {
			return problem{kind: BadNumber, alts: []alternative{{text: string(r)}}}
		} else {
			ok = ok && ts.put(lower(byte(r)))
		}
		if !ok {
			return problem{kind: TooLong}
		}
	}
	for ts.size > 0 && ts.buf[ts.size-1] == ' ' {
		ts.size--
	}
	if ts.size == 0 {
		return problem{kind: Empty}
	}
	return problem{}
}

// lower folds ASCII and makes a tab a space.
func lower(c byte) byte {
	switch {
	case c >= 'A' && c <= 'Z':
		return c + 'a' - 'A'
	case c == '\t':
		return ' '
	}
	return c
}

// putRune adds a character beyond ASCII; fraction says that it was a vulgar one.
func (ts *tokens) putRune(r rune) (ok, fraction bool) {
	if c := plainMark(r); c != 0 {
		return ts.put(c), false
	}
	if unicode.IsSpace(r) {
		return ts.put(' '), false
	}
	if r == '‰' {
		return ts.putAll(" per_mille"), false
	}
	if s, ok := vulgar[r]; ok {
		if ts.size > 0 && isDigit(ts.buf[ts.size-1]) {
			ts.put(' ')
		}
		return ts.putAll(s), true
	}
	var b [utf8.UTFMax]byte
	for _, c := range b[:utf8.EncodeRune(b[:], r)] {
		if !ts.put(c) {
			return false, false
		}
	}
	return true, false
}

func isDigit(c byte) bool  { return c >= '0' && c <= '9' }
func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c == '_' || c >= utf8.RuneSelf }

// inNumber says that the byte at i belongs to a run of digits, points and
// commas.
func (ts *tokens) inNumber(i int) bool {
	if i >= ts.size {
		return false
	}
	c := ts.buf[i]
	if c == '.' || c == ',' {
		return i+1 < ts.size && isDigit(ts.buf[i+1]) || i > 0 && isDigit(ts.buf[i-1])
	}
	return isDigit(c)
}

// read brings text to plain form and splits it.
func (ts *tokens) read(text string, comma bool) problem {
	ts.comma = comma
	if p := ts.plain(text); p.kind != "" {
		return p
	}
	for i := 0; i < ts.size; {
		spaced := false
		if ts.buf[i] == ' ' {
			spaced = true
			i++
		}
		if ts.n == maxTokens {
			return problem{kind: TooLong}
		}
		t, p := ts.scan(i)
		if p.kind != "" {
			return p
		}
		t.spaced = spaced
		ts.list[ts.n] = t
		ts.n++
		i = t.hi
	}
	return ts.notNumbers()
}

// scan is the token that begins at i.
func (ts *tokens) scan(i int) (token, problem) {
	t := token{kind: ts.buf[i], lo: i, hi: i + 1}
	switch {
	case ts.inNumber(i):
		for ts.inNumber(t.hi) {
			t.hi++
		}
		var bad Kind
		t.kind = numberToken
		t.d, t.ambiguous, bad = readDecimal(ts.buf[i:t.hi], ts.comma)
		return t, problem{kind: bad, lo: t.lo, hi: t.hi}
	case isLetter(ts.buf[i]):
		t.kind = wordToken
		for t.hi < ts.size && isLetter(ts.buf[t.hi]) {
			t.hi++
		}
		if t.hi < ts.size && ts.buf[t.hi] == '.' && !ts.inNumber(t.hi) {
			t.hi++
		}
	}
	return t, problem{}
}

// notNumbers finds what other programs write for numbers that are none.
func (ts *tokens) notNumbers() problem {
	for i := 0; i < ts.n; i++ {
		t := ts.list[i]
		if t.kind != wordToken {
			continue
		}
		switch string(ts.word(i)) {
		case "nan", "inf", "infinity":
			return problem{kind: NotFinite, lo: t.lo, hi: t.hi}
		case "e":
			if i > 0 && !t.spaced && ts.kind(i-1) == numberToken && ts.power(i+1) {
				return problem{kind: Exponent, lo: ts.list[i-1].lo, hi: ts.size}
			}
		}
	}
	return problem{}
}

// power says that an exponent stands at i.
func (ts *tokens) power(i int) bool {
	if k := ts.kind(i); k == '-' || k == '+' {
		i++
	}
	return ts.kind(i) == numberToken && !ts.list[i].spaced
}

// kind is the kind of token i, 0 past the end.
func (ts *tokens) kind(i int) byte {
	if i < 0 || i >= ts.n {
		return 0
	}
	return ts.list[i].kind
}

// word is the text of token i without the point of an abbreviation.
func (ts *tokens) word(i int) []byte {
	if ts.kind(i) != wordToken {
		return nil
	}
	lo, hi := ts.list[i].lo, ts.list[i].hi
	if ts.buf[hi-1] == '.' {
		hi--
	}
	return ts.buf[lo:hi]
}

// at is the problem of a kind at token i; past the end it has no part.
func (ts *tokens) at(kind Kind, i int) problem {
	if i >= ts.n {
		return problem{kind: kind}
	}
	return problem{kind: kind, lo: ts.list[i].lo, hi: ts.list[i].hi}
}

// text is the plain text of tokens i to j, j excluded.
func (ts *tokens) text(i, j int) string {
	if i >= j {
		return ""
	}
	return string(ts.buf[ts.list[i].lo:ts.list[j-1].hi])
}

// sign skips a leading sign.
func (ts *tokens) sign() (next int, neg bool) {
	switch ts.kind(0) {
	case '-':
		return 1, true
	case '+':
		return 1, false
	}
	return 0, false
}
