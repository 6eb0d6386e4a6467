package main

import (
	"go/ast"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// textTable reads every "key = text" line of a language.
func textTable(t *testing.T, lang string) map[string]string {
	t.Helper()
	files, err := filepath.Glob("engine/phrase/text/" + lang + "/*.txt")
	if err != nil || len(files) < 5 {
		t.Fatalf("texts of %s: %d files, %v", lang, len(files), err)
	}
	out := map[string]string{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(data)) {
			if key, text, ok := strings.Cut(strings.TrimSpace(line), " = "); ok && !strings.HasPrefix(key, "#") {
				out[key] = text
			}
		}
	}
	return out
}

var placeholder = regexp.MustCompile(`\{(\w+)(:\w+)?\}`)

// placeholders are the names a text fills in, sorted, each once.
func placeholders(text string) []string {
	var out []string
	for _, m := range placeholder.FindAllStringSubmatch(text, -1) {
		out = append(out, m[1])
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func TestEveryTextIsSpokenInBothLanguages(t *testing.T) {
	en, es := textTable(t, "en"), textTable(t, "es")
	for key, text := range en {
		other, ok := es[key]
		if !ok {
			t.Errorf("%s has no Spanish text", key)
			continue
		}
		if a, b := placeholders(text), placeholders(other); !slices.Equal(a, b) {
			t.Errorf("%s fills in %v in English and %v in Spanish", key, a, b)
		}
		if strings.TrimSpace(text) == "" || strings.TrimSpace(other) == "" {
			t.Errorf("%s is empty", key)
		}
	}
	for key := range es {
		if _, ok := en[key]; !ok {
			t.Errorf("%s has no English text", key)
		}
	}
}

// literals are the string literals of all code but tests.
func literals(t *testing.T) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	for _, f := range walkSources(t) {
		if f.test {
			continue
		}
		ast.Inspect(f.ast, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				if s, err := strconv.Unquote(lit.Value); err == nil {
					out[s] = true
				}
			}
			return true
		})
	}
	return out
}

var textKey = regexp.MustCompile(`^(beam|cab|cli|dig|draw|exchange|geom|gradeline|ground|guard|job|level|machine|page|pipe|plan|proven|reception|record|safety|server|siting|store|tell|trust|unit|watch|who)\.[a-z0-9_.]*[a-z0-9]$`)

// TestKeysInTheCodeHaveTexts finds every literal that is a text's key. Keys put
// together from a prefix end in "_" or "." there and are left to their rooms.
func TestKeysInTheCodeHaveTexts(t *testing.T) {
	en := textTable(t, "en")
	found := 0
	for s := range literals(t) {
		if !textKey.MatchString(s) {
			continue
		}
		if _, ok := en[s]; ok {
			found++
		} else if !prefixOfKeys(en, s) {
			t.Errorf("the code says %q, which has no text", s)
		}
	}
	if found < 200 {
		t.Errorf("found %d keys in the code, want the whole of it", found)
	}
}

// prefixOfKeys says that texts begin with s, as those of "unit.length" + kind.
func prefixOfKeys(texts map[string]string, s string) bool {
	for key := range texts {
		if strings.HasPrefix(key, s+".") || strings.HasPrefix(key, s+"_") {
			return true
		}
	}
	return false
}

func TestNoTextIsLeftOver(t *testing.T) {
	lits := literals(t)
	var prefixes []string
	for s := range lits {
		if strings.HasSuffix(s, "_") || strings.HasSuffix(s, ".") {
			prefixes = append(prefixes, s)
		}
	}
	for key := range textTable(t, "en") {
		base := strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(key, "#one"), ".remedy"), "_remedy")
		if lits[strings.TrimSuffix(key, "#one")] || lits[base] {
			continue
		}
		if !slices.ContainsFunc(prefixes, func(p string) bool { return strings.Contains(p, ".") && strings.HasPrefix(key, p) }) {
			t.Errorf("no code says %s", key)
		}
	}
}

// TestNothingIsCalledSafe holds the rule that no text ever says so.
func TestNothingIsCalledSafe(t *testing.T) {
	word := map[string]*regexp.Regexp{
		"en": regexp.MustCompile(`(?i)\b(safe|safely)\b`),
		"es": regexp.MustCompile(`(?i)\b(segur[oa]s?|a salvo)\b`),
	}
	for lang, re := range word {
		for key, text := range textTable(t, lang) {
			if re.MatchString(text) {
				t.Errorf("%s (%s) calls something safe: %q", key, lang, text)
			}
		}
	}
}
