package record

import (
	"os"
	"strings"
	"testing"
)

// TestDocsListEveryKey: docs/records.md has a row of every kind with its keys.
func TestDocsListEveryKey(t *testing.T) {
	data, err := os.ReadFile("../../docs/records.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]string{}
	for line := range strings.Lines(string(data)) {
		if cells := strings.Split(line, "|"); len(cells) == 4 {
			for _, kind := range strings.Fields(cells[1]) {
				rows[strings.Trim(kind, "`")] = strings.TrimSpace(cells[2])
			}
		}
	}
	for _, k := range Kinds() {
		var keys []string
		for _, m := range Members(Kind(k)) {
			key := m.Key
			if m.Optional {
				key += "?"
			}
			keys = append(keys, "`"+key+"`")
		}
		if want := strings.Join(keys, " "); rows[k] != want {
			t.Errorf("docs/records.md says of %s: %s\nwant %s", k, rows[k], want)
		}
	}
}
