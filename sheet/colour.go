package sheet

import "strings"

// Colour is a colour of the pages and drawings: its name as a variable of a
// style sheet, and what it is on paper and in the dark.
type Colour struct{ Name, Light, Dark string }

// Colours is every colour there is, paper first. None carries a meaning alone.
func Colours() []Colour {
	return []Colour{
		{"paper", "#FBF8EF", "#10171D"},
		{"ink", "#16202A", "#F3EFE3"},
		{"soft", "#4F5B65", "#AEB8BE"},   // words of less weight, no figures
		{"stroke", "#8A949B", "#6B7882"}, // thin lines, no words
		{"rule", "#C8D0D4", "#3A4650"},   // rules of tables, no words
		{"ribbon", "#B0185E", "#FF7DB4"}, // what needs doing now
		{"pencil", "#1D4E89", "#8FC1FF"}, // the beam and its figures
		{"ochre", "#8A5A00", "#F0BE57"},  // caution
	}
}

// ink is a colour as an attribute takes it: the page's own, or on paper where
// the drawing stands alone.
func ink(name string) string {
	for _, c := range Colours() {
		if c.Name == name {
			return "var(--" + name + "," + c.Light + ")"
		}
	}
	return "currentColor"
}

// ColourVariables is the head of a style sheet: every colour on paper, and in
// the dark where the reader asks for it on a screen.
func ColourVariables() string {
	var light, dark strings.Builder
	for _, c := range Colours() {
		light.WriteString("--" + c.Name + ":" + c.Light + ";")
		dark.WriteString("--" + c.Name + ":" + c.Dark + ";")
	}
	return ":root{color-scheme:light dark;" + light.String() + "}\n@media screen and (prefers-color-scheme:dark){:root{" + dark.String() + "}}\n"
}

// white is the blank paper of a print.
const white = "white"

// onPaper is a colour of a print as red, green and blue.
func onPaper(name string) [3]uint8 {
	return rgb(hexOnPaper(name))
}

// hexOnPaper is a colour of a print as an attribute takes it.
func hexOnPaper(name string) string {
	for _, c := range Colours() {
		if c.Name == name && name != "paper" {
			return c.Light
		}
	}
	return "#FFFFFF"
}

// rgb is a colour written as #RRGGBB.
func rgb(hex string) (out [3]uint8) {
	for i := range out {
		out[i] = nibble(hex[1+2*i])<<4 | nibble(hex[2+2*i])
	}
	return out
}

func nibble(c byte) uint8 {
	if c >= 'A' {
		return c - 'A' + 10
	}
	return c - '0'
}
