package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"

	"spadework/cli"
)

// TestReadmeShowsWhatTheProgramPrints runs every command of the console blocks of
// the README and of the guides and compares the output to the letter.
func TestReadmeShowsWhatTheProgramPrints(t *testing.T) {
	t.Setenv("COLUMNS", "100")
	for file, least := range map[string]int{"README.md": 4, "docs/guide/checker.md": 2, "docs/guide/foreman.md": 2} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if ran := runBlocks(t, file, string(data)); ran < least {
			t.Errorf("%s shows %d runs, want at least %d", file, ran, least)
		}
	}
}

// runBlocks runs the commands of the console blocks of a text and counts them.
func runBlocks(t *testing.T, file, text string) int {
	t.Helper()
	ran := 0
	for i, block := range strings.Split(text, "```console\n") {
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
				t.Errorf("%s prints\n%s\n%s says\n%s", command, got, file, want)
			}
		}
	}
	return ran
}
