package tell

import (
	"strings"

	"spadework/engine/phrase"
)

// Finding is what is so, by which clause, what to do and who decides.
func Finding(v View, f phrase.Finding) string {
	text := v.Text(phrase.Key("sheet.severity_"+string(f.Severity))) + " " + v.Say(f.What)
	if f.Clause != "" {
		text += " (" + f.Clause + ")"
	}
	text = strings.TrimSuffix(text, ".") + "."
	if r := v.Say(f.Remedy); r != "" {
		text += " " + v.Text("sheet.remedy", phrase.With("remedy", r), phrase.With("decides", f.Decides))
	}
	return text
}
