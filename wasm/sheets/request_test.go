package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/exchange"
	"spadework/sheet"
)

// exampleRequest is an example with its tables as the page sends it.
func exampleRequest(t *testing.T, name string) request {
	t.Helper()
	folder := filepath.Join("..", "..", "examples", name)
	q := request{Tables: map[string]string{}, Today: "2026-05-06", Link: "https://site.example/job"}
	files, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		data, err := os.ReadFile(filepath.Join(folder, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		switch f.Name() {
		case "job.toml":
			q.Job = string(data)
		case "job.log.jsonl":
			for line := range bytes.Lines(data) {
				q.Records = append(q.Records, bytes.TrimSpace(line))
			}
		default:
			q.Tables[f.Name()] = string(data)
		}
	}
	return q
}

// TestTheModuleMakesTheBytesOfTheCommandLine: the same job read from its folder
// and printed as "spadework sheets" does gives the same PDF. It runs natively and
// in WebAssembly (.ci/check), where the book's digests are compared too.
func TestTheModuleMakesTheBytesOfTheCommandLine(t *testing.T) {
	for _, name := range []string{"alder-quay", "fennel-yard"} {
		for _, paper := range []sheet.Paper{sheet.Letter, sheet.A4} {
			q := exampleRequest(t, name)
			q.Paper, q.Language = paper.Name, phrase.Spanish
			data, err := json.Marshal(q)
			if err != nil {
				t.Fatal(err)
			}
			got, err := answer(data)
			if err != nil {
				t.Fatal(err)
			}
			if want := commandLine(t, name, paper, q.Link); !bytes.Equal(got, want) {
				t.Errorf("%s on %s: %d bytes, the command line makes %d others", name, paper.Name, len(got), len(want))
			}
		}
	}
}

// commandLine is what the command line writes.
func commandLine(t *testing.T, name string, paper sheet.Paper, link string) []byte {
	t.Helper()
	folder := filepath.Join("..", "..", "examples", name)
	text, err := os.ReadFile(filepath.Join(folder, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := exchange.ReadJob("job.toml", text, func(n string) ([]byte, error) { return os.ReadFile(filepath.Join(folder, n)) })
	if err != nil {
		t.Fatal(err)
	}
	j.Today = "2026-05-06"
	p, fault := plan.Make(j)
	if fault != nil {
		t.Fatal(fault)
	}
	var log record.Input
	text, err = os.ReadFile(filepath.Join(folder, "job.log.jsonl"))
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	for line := range bytes.Lines(text) {
		r, fault := record.Decode(bytes.TrimSpace(line))
		if fault != nil {
			t.Fatal(fault)
		}
		log.Records = append(log.Records, r)
	}
	d, fault := sheet.Book(p, sheet.View{Language: phrase.Spanish, Style: j.Style}, sheet.BookOptions{Paper: paper, Log: record.Replay(log),
		Address: func(k sheet.Card) string { return sheet.CardAddress(link, k) }})
	if fault != nil {
		t.Fatal(fault)
	}
	return sheet.PDF(d)
}

func TestAWrongRequestIsAnError(t *testing.T) {
	for _, data := range []string{"", "{", `{"job": 3}`, `{"job": "[job]\nname = 3"}`, `{"job": "[ground]\npoints = \"none.csv\""}`} {
		if got, err := answer([]byte(data)); err == nil || len(got) > 0 || strings.TrimSpace(err.Error()) == "" {
			t.Errorf("answer(%q) = %d bytes, %v; want an error", data, len(got), err)
		}
	}
}
