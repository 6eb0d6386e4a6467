package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"

	"spadework/cli"
)

// TestReadmeShowsWhatTheProgramPrints runs every command of the README's console
// blocks and compares the output to the letter.
func TestReadmeShowsWhatTheProgramPrints(t *testing.T) {
	t.Setenv("COLUMNS", "100")
	data, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	ran := 0
	for i, block := range strings.Split(string(data), "```console\n") {
		if i == 0 {
			continue
		}
		block, _, _ = strings.Cut(block, "```")
		for _, run := range strings.Split(block, "$ go run . ") {
			command, want, ok := strings.Cut(run, "\n")
			if !ok {
				continue
			}
			ran++
			var out bytes.Buffer // both streams, in the order written
			cli.Run(context.Background(), strings.Fields(command), cli.Streams{Out: &out, Err: &out})
			if got := out.String(); got != want {
				t.Errorf("%s prints\n%s\nthe README says\n%s", command, got, want)
			}
		}
	}
	if ran < 4 {
		t.Errorf("the README shows %d runs, want at least 4", ran)
	}
}
