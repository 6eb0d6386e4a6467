package exchange

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// seedFiles adds the files of a pattern; none is fatal, so that the fuzzer never
// starts from nothing.
func seedFiles(f *testing.F, pattern string) {
	f.Helper()
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		f.Fatalf("no seeds in %s: %v", pattern, err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(data))
	}
}

// FuzzTable: any text is a table or a fault with a place; cells keep to their
// header and stand where they say.
func FuzzTable(f *testing.F) {
	seedFiles(f, "../examples/*/*.csv")
	for _, s := range []string{"a,b\n1,\"2\n3\"\n", "a;b\n1,5;2\n", "\xef\xbb\xbfa\tb\r\n1\t2", "\"", "a\n\"x\"y", "a,a\n,,,\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows, fault := ReadTable("t.csv", []byte(text))
		if fault != nil {
			if fault.Place.File != "t.csv" || fault.What.IsZero() || fault.Remedy.IsZero() {
				t.Errorf("fault without place, rule or remedy: %#v", fault)
			}
			return
		}
		lines := strings.Count(text, "\n") + 1
		for _, row := range rows.Rows {
			if len(row) > len(rows.Header) {
				t.Errorf("row of %d cells under a header of %d", len(row), len(rows.Header))
			}
			for _, c := range row {
				if c.Line < 1 || c.Line > lines || c.Column < 1 || !strings.Contains(text, strings.SplitN(c.Text, "\"", 2)[0]) {
					t.Errorf("cell %+v is not in the text", c)
				}
			}
		}
	})
}

// FuzzJob: any text is planned, or refused by one fault with a rule and a
// remedy; a plan always gives its JSON.
func FuzzJob(f *testing.F) {
	seedFiles(f, "../examples/*/job.toml")
	seedFiles(f, "../cli/starter/*.toml")
	seedFiles(f, "../testdata/published/*/job.toml")
	f.Fuzz(func(t *testing.T, text string) {
		j, _, err := ReadJob("job.toml", []byte(text), func(string) ([]byte, error) { return []byte("x,y,z\n0,0,1\n9,0,1\n0,9,1\n"), nil })
		if err != nil {
			var fault *phrase.Fault
			if !errors.As(err, &fault) || fault.What.IsZero() || fault.Render(phrase.Spanish, unit.Style{}) == "" {
				t.Fatalf("error is no whole fault: %#v", err)
			}
			return
		}
		p, fault := plan.Make(j)
		if fault != nil {
			if fault.What.IsZero() {
				t.Fatalf("fault without a rule: %#v", fault)
			}
			return
		}
		if out := p.AppendJSON(nil); len(out) < 2 || out[0] != '{' || out[len(out)-1] != '}' {
			t.Fatalf("JSON of %d bytes", len(out))
		}
	})
}
