package safety

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// texts is the "key = text" lines of every table of a language.
func texts(t *testing.T, lang phrase.Language) map[string]string {
	t.Helper()
	files, err := filepath.Glob("../phrase/text/" + string(lang) + "/*.txt")
	if err != nil || len(files) < 5 {
		t.Fatalf("found %d tables of %s, want all", len(files), lang)
	}
	out := map[string]string{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.SplitSeq(string(data), "\n") {
			if key, text, ok := strings.Cut(line, " = "); ok && !strings.HasPrefix(line, "#") {
				out[key] = text
			}
		}
	}
	return out
}

// assurance is the words that call a thing harmless. Key names are not text.
var assurance = map[phrase.Language]*regexp.Regexp{
	phrase.English: regexp.MustCompile(`(?i)\bsafe(r|st|ly)?\b`),
	phrase.Spanish: regexp.MustCompile(`(?i)\bsegur[oa]s?\b|\bseguramente\b|\ba salvo\b`),
}

func TestNoTextCallsAnythingSafe(t *testing.T) {
	for lang, words := range assurance {
		for key, text := range texts(t, lang) {
			if found := words.FindString(text); found != "" {
				t.Errorf("%s %s says %q: %s", lang, key, found, text)
			}
		}
	}
	for lang, text := range map[phrase.Language]string{phrase.English: "It is safe.", phrase.Spanish: "Zanja segura"} {
		if !assurance[lang].MatchString(text) {
			t.Errorf("the test misses %q", text)
		}
	}
}

func TestRulesDataCallsNothingSafe(t *testing.T) {
	if found := assurance[phrase.English].FindString(rulesText); found != "" {
		t.Errorf("rules.csv says %q", found)
	}
}

var placeholder = regexp.MustCompile(`\{([a-z_]+)(:[a-z]+)?\}`)

// checkTexts checks that every message of the findings has a text in both
// languages and an argument for every placeholder in it.
func checkTexts(t *testing.T, findings []phrase.Finding) {
	t.Helper()
	for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
		table := texts(t, lang)
		for _, f := range findings {
			for _, m := range []phrase.Message{f.What, f.Remedy, f.Decides} {
				checkMessage(t, table, m)
			}
			if got := f.What.Render(lang, unit.Style{}); strings.Contains(got, "safety.") || strings.ContainsAny(got, "{}<>") {
				t.Errorf("%s %s renders as %q", lang, f.Rule, got)
			}
		}
	}
}

// checkMessage checks one message and those inside it.
func checkMessage(t *testing.T, table map[string]string, m phrase.Message) {
	t.Helper()
	text, ok := table[string(m.Key)]
	if !ok {
		t.Errorf("no text for %s", m.Key)
	}
	for _, p := range placeholder.FindAllStringSubmatch(text, -1) {
		if !slices.ContainsFunc(m.Args, func(a phrase.Arg) bool { return a.Name == p[1] && a.Value != nil }) {
			t.Errorf("%s has no argument %s", m.Key, p[1])
		}
	}
	for _, a := range m.Args {
		if inner, ok := a.Value.(phrase.Message); ok {
			checkMessage(t, table, inner)
		}
	}
}

func TestEveryTextIsInBothLanguagesWithTheSamePlaceholders(t *testing.T) {
	en, es := texts(t, phrase.English), texts(t, phrase.Spanish)
	names := func(text string) []string {
		out := placeholder.FindAllString(text, -1)
		slices.Sort(out)
		return slices.Compact(out)
	}
	count := 0
	for key, text := range en {
		if !strings.HasPrefix(key, "safety.") {
			continue
		}
		count++
		if other, ok := es[key]; !ok || !slices.Equal(names(text), names(other)) {
			t.Errorf("%s: %q and %q", key, text, other)
		}
	}
	if count < 300 {
		t.Errorf("found %d texts, want all", count)
	}
}
