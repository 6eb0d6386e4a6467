package phrase

import (
	"io/fs"
	"strings"
	"sync"
)

// table maps language to key to text.
var table = sync.OnceValue(func() map[Language]map[Key]string {
	out := map[Language]map[Key]string{}
	for _, lang := range []Language{English, Spanish} {
		out[lang] = readTexts(texts, lang)
	}
	return out
})

// readTexts gathers every "key = text" line of a language. The files are
// compiled in and a test reads them all, so a bad one panics at once.
func readTexts(fsys fs.FS, lang Language) map[Key]string {
	out := map[Key]string{}
	names, err := fs.Glob(fsys, "text/"+string(lang)+"/*.txt")
	if err != nil || len(names) == 0 {
		panic("phrase: no texts for " + string(lang))
	}
	for _, name := range names {
		data, err := fs.ReadFile(fsys, name)
		if err != nil {
			panic("phrase: " + err.Error())
		}
		readLines(name, string(data), out)
	}
	return out
}

// readLines adds the lines of one file to out.
func readLines(name, data string, out map[Key]string) {
	for _, line := range strings.Split(data, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		key, text, ok := strings.Cut(line, " = ")
		if !ok {
			panic("phrase: " + name + ": no \" = \" in " + line)
		}
		if _, twice := out[Key(key)]; twice {
			panic("phrase: " + name + ": key twice: " + key)
		}
		out[Key(key)] = text
	}
}

// lookup finds the text of a message, in English where the language has none.
func lookup(lang Language, m Message) (string, bool) {
	for _, l := range []Language{lang, English} {
		if s, ok := find(table()[l], m); ok {
			return s, true
		}
	}
	return "", false
}

// find is the text of a message in one table. A message with an argument
// "count" takes "key#one" where count is 1 and such a text exists.
func find(t map[Key]string, m Message) (string, bool) {
	if n, ok := m.arg("count").(int); ok && n == 1 {
		if s, ok := t[m.Key+"#one"]; ok {
			return s, true
		}
	}
	s, ok := t[m.Key]
	return s, ok
}
