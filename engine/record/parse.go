package record

import (
	"bytes"
	"strconv"
	"unicode/utf8"

	"spadework/engine/phrase"
)

// Bounds of what is read; a record of the kinds there are stays far below.
const (
	MaxRecord = 64 << 10 // bytes of one record
	maxNested = 6        // levels: record, payload, list, row, list of two
	maxDigits = 32       // characters of one number; the longest canonical one has 25
	maxItems  = 1000     // members of one list or object
)

// parser reads one canonical JSON text. The first fault wins.
type parser struct {
	data  []byte
	at    int
	fault *phrase.Fault
}

// parse reads a whole text in canonical form; anything else is one fault with
// its column.
func parse(data []byte) (value, *phrase.Fault) {
	if len(data) > MaxRecord {
		return value{}, fault("record.too_long", phrase.With("size", len(data)), phrase.With("limit", MaxRecord))
	}
	p := parser{data: data}
	v := p.value(1)
	if p.fault == nil && p.at < len(data) {
		p.fail("record.json_after")
	}
	return v, p.fault
}

// fail notes a fault at the place reached, quoting what stands there.
func (p *parser) fail(key phrase.Key) {
	if p.fault != nil {
		return
	}
	rest := p.data[min(p.at, len(p.data)):]
	quoted := string(rest[:min(len(rest), 12)])
	f := phrase.NewFault(phrase.New(key, phrase.With("value", quoted)), phrase.New("record.json.remedy"))
	f.Place.Line, f.Place.Column = 1, utf8.RuneCount(p.data[:min(p.at, len(p.data))])+1
	p.fault = f
}

// peek is the next byte, 0 at the end.
func (p *parser) peek() byte {
	if p.at < len(p.data) {
		return p.data[p.at]
	}
	return 0
}

// take passes a byte if it is next.
func (p *parser) take(c byte) bool {
	if p.peek() != c || p.at == len(p.data) {
		return false
	}
	p.at++
	return true
}

func (p *parser) value(depth int) value {
	if depth > maxNested {
		p.fail("record.json_deep")
		return value{}
	}
	switch c := p.peek(); {
	case c == '{':
		return p.object(depth)
	case c == '[':
		return p.list(depth)
	case c == '"':
		return textOf(p.text())
	case c == '-' || c >= '0' && c <= '9':
		return p.number()
	}
	return p.word()
}

// words are the values that are words.
var words = []struct {
	text  string
	value value
}{
	{"null", value{}},
	{"true", value{kind: boolValue, flag: true}},
	{"false", value{kind: boolValue}},
}

// word reads null, true and false.
func (p *parser) word() value {
	for _, w := range words {
		if bytes.HasPrefix(p.data[p.at:], []byte(w.text)) {
			p.at += len(w.text)
			return w.value
		}
	}
	p.fail("record.json_value")
	return value{}
}

// number reads a number that stands as appendNumber writes it.
func (p *parser) number() value {
	end := p.at
	for end < len(p.data) && end-p.at <= maxDigits && isNumberByte(p.data[end]) {
		end++
	}
	text := p.data[p.at:end]
	v, err := strconv.ParseFloat(string(text), 64)
	if err != nil || len(text) > maxDigits || string(appendNumber(nil, v)) != string(text) {
		p.fail("record.json_number")
		return value{}
	}
	p.at = end
	return numberOf(v)
}

func isNumberByte(c byte) bool {
	return c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.' || c == 'e' || c == 'E'
}

// text reads a string that stands as appendText writes it.
func (p *parser) text() string {
	from := p.at
	end, plain := from+1, true
	for end < len(p.data) && p.data[end] != '"' {
		plain = plain && p.data[end] >= ' ' && p.data[end] != '\\'
		if p.data[end] == '\\' {
			end++
		}
		end++
	}
	if end >= len(p.data) {
		p.fail("record.json_text")
		return ""
	}
	raw := p.data[from : end+1]
	if inside := raw[1 : len(raw)-1]; plain && utf8.Valid(inside) {
		p.at = end + 1
		return string(inside)
	}
	s, ok := unescape(raw[1 : len(raw)-1])
	if !ok || !utf8.ValidString(s) || string(appendText(nil, s)) != string(raw) {
		p.fail("record.json_text")
		return ""
	}
	p.at = end + 1
	return s
}

// unescape undoes the escapes of appendText; others make the text differ from
// its canonical form.
func unescape(raw []byte) (string, bool) {
	out := make([]byte, 0, len(raw))
	for i := 0; i < len(raw); i++ {
		if raw[i] != '\\' {
			out = append(out, raw[i])
			continue
		}
		i++
		if i >= len(raw) {
			return "", false
		}
		if raw[i] != 'u' {
			out = append(out, unescaped(raw[i]))
			continue
		}
		if i+4 >= len(raw) {
			return "", false
		}
		n, err := strconv.ParseUint(string(raw[i+1:i+5]), 16, 8)
		if err != nil {
			return "", false
		}
		out, i = append(out, byte(n)), i+4
	}
	return string(out), true
}

// unescaped is the control that a letter stands for, else the letter.
func unescaped(letter byte) byte {
	switch letter {
	case 'b':
		return '\b'
	case 't':
		return '\t'
	case 'n':
		return '\n'
	case 'f':
		return '\f'
	case 'r':
		return '\r'
	}
	return letter
}

func (p *parser) list(depth int) value {
	out := value{kind: listValue}
	p.take('[')
	if p.take(']') {
		return out
	}
	for p.fault == nil {
		out.list = append(out.list, p.value(depth+1))
		if p.closed(']', len(out.list)) {
			break
		}
	}
	return out
}

func (p *parser) object(depth int) value {
	out := value{kind: objectValue}
	p.take('{')
	if p.take('}') {
		return out
	}
	for p.fault == nil {
		if p.peek() != '"' {
			p.fail("record.json_key")
			break
		}
		at := p.at
		key := p.text()
		if n := len(out.keys); n > 0 && !lessText(out.keys[n-1], key) {
			p.at = at
			p.fail("record.json_order") // twice, or not in order
			break
		}
		if !p.take(':') {
			p.fail("record.json_key")
			break
		}
		out.keys, out.list = append(out.keys, key), append(out.list, p.value(depth+1))
		if p.closed('}', len(out.list)) {
			break
		}
	}
	return out
}

// closed passes the end of a list or object, or the comma before its next
// member.
func (p *parser) closed(end byte, members int) bool {
	if p.fault != nil || p.take(end) {
		return true
	}
	if members >= maxItems {
		p.fail("record.json_many")
	} else if !p.take(',') {
		p.fail("record.json_comma")
	}
	return false
}
