package record

import "unicode/utf8"

const lowerHex = "0123456789abcdef"

// appendText appends a string with the fewest escapes (RFC 8785, 3.2.2.2): the
// quote, the backslash and the controls.
func appendText(dst []byte, s string) []byte {
	dst = append(dst, '"')
	if !needsEscape(s) {
		return append(append(dst, s...), '"')
	}
	for i := range len(s) {
		switch c := s[i]; {
		case c == '"' || c == '\\':
			dst = append(dst, '\\', c)
		case c >= ' ':
			dst = append(dst, c)
		default:
			dst = appendControl(dst, c)
		}
	}
	return append(dst, '"')
}

func needsEscape(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c == '"' || c == '\\' {
			return true
		}
	}
	return false
}

// shortEscapes are the controls that have a letter.
var shortEscapes = map[byte]byte{'\b': 'b', '\t': 't', '\n': 'n', '\f': 'f', '\r': 'r'}

func appendControl(dst []byte, c byte) []byte {
	if letter, ok := shortEscapes[c]; ok {
		return append(dst, '\\', letter)
	}
	return append(dst, '\\', 'u', '0', '0', lowerHex[c>>4], lowerHex[c&15])
}

// lessText orders keys by UTF-16 code units (RFC 8785, 3.2.3).
func lessText(a, b string) bool {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] && a[n] < utf8.RuneSelf {
		n++
	}
	a, b = a[n:], b[n:]
	if a == "" || b == "" || a[0] < utf8.RuneSelf && b[0] < utf8.RuneSelf {
		return b != "" && (a == "" || a[0] < b[0])
	}
	for a != "" && b != "" {
		ra, na := utf8.DecodeRuneInString(a)
		rb, nb := utf8.DecodeRuneInString(b)
		if ra != rb {
			return firstUnit(ra) < firstUnit(rb) || firstUnit(ra) == firstUnit(rb) && ra < rb
		}
		a, b = a[na:], b[nb:]
	}
	return len(a) < len(b)
}

// firstUnit is the first UTF-16 code unit of a character.
func firstUnit(r rune) rune {
	if r >= 0x10000 {
		return 0xd800 + (r-0x10000)>>10
	}
	return r
}
