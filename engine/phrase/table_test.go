package phrase

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// placeholder begins with a letter; a brace before a blank stands for itself.
var placeholder = regexp.MustCompile(`\{[a-z][^{}]*\}`)

// placeholders are the sorted placeholders of a text.
func placeholders(text string) []string {
	found := placeholder.FindAllString(text, -1)
	slices.Sort(found)
	return slices.Compact(found)
}

// strayBrace is an opened brace that neither fills in nor stands alone.
var strayBrace = regexp.MustCompile(`\{[^ ]`)

// TestLanguagesAgree: the same keys, the same placeholders, no empty text, no
// brace that belongs to no placeholder.
func TestLanguagesAgree(t *testing.T) {
	en, es := table()[English], table()[Spanish]
	if len(en) == 0 {
		t.Fatal("no English texts")
	}
	for key, text := range en {
		other, ok := es[key]
		if !ok {
			t.Errorf("%s has no Spanish text", key)
			continue
		}
		if a, b := placeholders(text), placeholders(other); !slices.Equal(a, b) {
			t.Errorf("%s has %v in English, %v in Spanish", key, a, b)
		}
		for _, s := range []string{text, other} {
			if strings.TrimSpace(s) == "" || strayBrace.MatchString(placeholder.ReplaceAllString(s, "")) {
				t.Errorf("%s = %q is empty or has a stray brace", key, s)
			}
		}
	}
	for key := range es {
		if _, ok := en[key]; !ok {
			t.Errorf("%s has no English text", key)
		}
	}
}

// TestPlaceholderForms: only :q and :or are known.
func TestPlaceholderForms(t *testing.T) {
	known := regexp.MustCompile(`^\{[a-z_0-9]+(:q|:or)?\}$`)
	for lang, texts := range table() {
		for key, text := range texts {
			for _, p := range placeholders(text) {
				if !known.MatchString(p) {
					t.Errorf("%s: %s has the placeholder %s", lang, key, p)
				}
			}
		}
	}
}

// TestBadTexts: a bad file is found at once.
func TestBadTexts(t *testing.T) {
	for name, data := range map[string]string{"no equals": "a.b text", "twice": "a = x\na = y"} {
		fsys := fstest.MapFS{"text/en/a.txt": {Data: []byte(data)}}
		if !panics(func() { readTexts(fsys, English) }) {
			t.Errorf("readTexts(%s) did not panic", name)
		}
	}
	if !panics(func() { readTexts(fstest.MapFS{}, English) }) {
		t.Error("readTexts of no files did not panic")
	}
	got := readTexts(fstest.MapFS{"text/en/a.txt": {Data: []byte("# note\n\n a.b = x = y \r\n")}}, English)
	if len(got) != 1 || got["a.b"] != "x = y" {
		t.Errorf("readTexts = %q, want a.b = \"x = y\"", got)
	}
}

func panics(f func()) (did bool) {
	defer func() { did = recover() != nil }()
	f()
	return false
}

// TestFind: the text for one thing, for several and for a key without one.
func TestFind(t *testing.T) {
	texts := map[Key]string{"dig.n": "{count} digs", "dig.n#one": "one dig", "dig.m": "{count} left"}
	for _, c := range []struct {
		key   Key
		count any
		want  string
	}{{"dig.n", 1, "one dig"}, {"dig.n", 2, "{count} digs"}, {"dig.n", 0, "{count} digs"}, {"dig.m", 1, "{count} left"},
		{"dig.n", "1", "{count} digs"}} {
		if got, ok := find(texts, New(c.key, With("count", c.count))); !ok || got != c.want {
			t.Errorf("find(%s, count %v) = %q, %v, want %q", c.key, c.count, got, ok, c.want)
		}
	}
	if got, ok := find(texts, New("dig.none")); ok {
		t.Errorf("find(dig.none) = %q, want none", got)
	}
}
