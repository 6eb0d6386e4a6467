package draw

import (
	"sort"
	"unicode/utf8"
)

// Setting is how a text is set.
type Setting uint8

// The settings. A Label is bold with a halo of paper, for words among lines; on
// the blank paper of a sheet stand Strong (bold) and Body (regular). Outlined is
// bold and hollow: what is planned.
const (
	Label Setting = iota
	Strong
	Body
	Outlined
)

// Bold says which of the two fonts the setting takes.
func (s Setting) Bold() bool { return s != Body }

// unitsPerEm is the size that advances are told for (DejaVu Sans 2.37, head).
const unitsPerEm = 2048

// widest is the advance taken for a character that the table does not have: no
// glyph of either font is wider (the widest, U+1672 bold, is 4129).
const widest = 4130

// run is the advances of neighbouring characters in both fonts.
type run struct {
	first         rune
	regular, bold []uint16
}

// advance is the advance of a character in units of the font.
func advance(r rune, bold bool) int {
	i := sort.Search(len(advances), func(i int) bool { return advances[i].first > r }) - 1
	if i < 0 {
		return widest
	}
	row := advances[i].regular
	if bold {
		row = advances[i].bold
	}
	k := int(r - advances[i].first)
	if k >= len(row) || row[k] == 0 {
		return widest
	}
	return int(row[k])
}

// Width is how far a text reaches in DejaVu Sans, in the measure of size, ≥ 0:
// the sum of its advances, without kerning. Every writer sets its texts by these
// figures; characters outside the table count as the widest there is.
func Width(s Setting, size float64, text string) float64 {
	sum := 0
	for _, r := range text {
		sum += advance(r, s.Bold())
	}
	return size * float64(sum) / unitsPerEm
}

// Known says that every character of a text is in the table of advances.
func Known(text string) bool {
	for _, r := range text {
		if r == utf8.RuneError || advance(r, false) == widest {
			return false
		}
	}
	return true
}
