package job

import (
	"strings"
	"testing"

	"spadework/engine/phrase"
)

// Every key, every section and every word of a choice is told in both languages,
// and no text is left over.
func TestEveryKeyIsTold(t *testing.T) {
	paths := map[string]bool{}
	words := map[string]bool{}
	var choices func(keys []Key)
	choices = func(keys []Key) {
		for _, k := range keys {
			for _, f := range k.Forms {
				if f.Kind == KindChoice && k.Path != "rules.set" {
					for _, c := range f.Choices {
						words[c] = true
					}
				}
			}
			choices(k.Keys)
		}
	}
	for _, s := range Schema() {
		paths["section."+s.Name] = true
		schemaPaths(s.Tables, paths)
		choices(s.Tables)
	}
	for _, l := range []phrase.Language{phrase.English, phrase.Spanish} {
		all, used := map[string]bool{}, map[string]bool{}
		for line := range strings.Lines(map[phrase.Language]string{phrase.English: keysEnglish, phrase.Spanish: keysSpanish}[l]) {
			if key, text, ok := strings.Cut(line, " = "); ok && line[0] != '#' {
				if all[key] || strings.TrimSpace(text) == "" {
					t.Errorf("%s: %s is told twice or empty", l, key)
				}
				all[key] = true
			}
		}
		for path := range paths {
			label, _ := KeyText(l, path)
			if label == "" {
				t.Errorf("%s: %s has no label", l, path)
			}
			name := "*." + path[strings.LastIndexByte(path, '.')+1:]
			used[name] = used[name] || !all[path]
			used[path] = true
		}
		for w := range words {
			if strings.Trim(w, "0123456789/ABC") != "" && !all["="+w] {
				t.Errorf("%s: the choice %s has no word", l, w)
			}
		}
		for key := range all {
			if !strings.HasPrefix(key, "=") && !used[key] {
				t.Errorf("%s: the text %s is left over", l, key)
			}
		}
	}
}
