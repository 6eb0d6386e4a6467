package job

import (
	_ "embed"
	"strings"

	"spadework/engine/phrase"
)

//go:embed keys_en.txt
var keysEnglish string

//go:embed keys_es.txt
var keysSpanish string

// KeyText is what a key of the job file is called, and what helps to fill it in.
// Both are empty where there is no text.
func KeyText(l phrase.Language, path string) (label, help string) {
	all := keysEnglish
	if l == phrase.Spanish {
		all = keysSpanish
	}
	for _, key := range []string{path, "*." + path[strings.LastIndexByte(path, '.')+1:]} {
		for line := range strings.Lines(all) {
			if name, text, ok := strings.Cut(strings.TrimSuffix(line, "\n"), " = "); ok && name == key && name[0] != '#' {
				label, help, _ = strings.Cut(text, " | ")
				return label, help
			}
		}
	}
	return "", ""
}
