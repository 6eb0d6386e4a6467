package sheet

import "strings"

// noBreak is the blank that no line breaks at.
const noBreak = "\u00a0"

// tied are the units that stay with their figure.
var tied = []string{"%", "ft", "in", "mm", "m", "yd", "kV"}

// Unbroken ties a figure to its fraction and unit, so that 8'-1 1/8" never
// stands as 8'-1 at the end of a line.
func Unbroken(text string) string {
	var out strings.Builder
	for i := range len(text) {
		if text[i] == ' ' && i > 0 && isDigit(text[i-1]) && (beginsFraction(text[i+1:]) || beginsUnit(text[i+1:])) {
			out.WriteString(noBreak)
			continue
		}
		out.WriteByte(text[i])
	}
	return out.String()
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// leadingDigits is how many digits a text begins with, or ends with.
func leadingDigits(text string, atEnd bool) int {
	n := 0
	for n < len(text) {
		c := text[n]
		if atEnd {
			c = text[len(text)-1-n]
		}
		if !isDigit(c) {
			break
		}
		n++
	}
	return n
}

// beginsFraction says that a text begins with one, such as 1/8.
func beginsFraction(text string) bool {
	n := leadingDigits(text, false)
	return n > 0 && len(text) > n+1 && text[n] == '/' && isDigit(text[n+1])
}

// beginsUnit says that a text begins with a unit and no longer word.
func beginsUnit(text string) bool {
	for _, unit := range tied {
		rest, ok := strings.CutPrefix(text, unit)
		if ok && (unit == "%" || rest == "" || !isWord(rest[0])) {
			return true
		}
	}
	return false
}

func isWord(c byte) bool {
	return isDigit(c) || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_'
}
