package phrase

import (
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"
)

// What a page's module has built in is every text but those of the command line,
// the store and the server.
func TestTextsOfAPage(t *testing.T) {
	source, err := os.ReadFile("texts_js.go")
	if err != nil {
		t.Fatal(err)
	}
	_, line, _ := strings.Cut(string(source), "//go:embed ")
	line, _, _ = strings.Cut(line, "\n")
	left := map[string]bool{"cli.txt": true, "store.txt": true, "server.txt": true}
	names, err := fs.Glob(texts, "text/*/*.txt")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		in := false
		for _, pattern := range strings.Fields(line) {
			ok, err := path.Match(pattern, name)
			if err != nil {
				t.Fatal(err)
			}
			in = in || ok
		}
		if in == left[path.Base(name)] {
			t.Errorf("%s is built into a page's module: %t", name, in)
		}
	}
}
