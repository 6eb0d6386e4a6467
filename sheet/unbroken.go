package sheet

import "regexp"

// noBreak is the blank that no line breaks at.
const noBreak = "\u00a0"

var (
	beforeFraction = regexp.MustCompile(`(\d) (\d+/\d+)`)
	beforeUnit     = regexp.MustCompile(`(\d) (%|(?:ft|in|mm|m|yd|kV)\b)`)
)

// Unbroken ties a figure to its fraction and unit, so that 8'-1 1/8" never
// stands as 8'-1 at the end of a line.
func Unbroken(text string) string {
	text = beforeFraction.ReplaceAllString(text, "$1"+noBreak+"$2")
	return beforeUnit.ReplaceAllString(text, "$1"+noBreak+"$2")
}
