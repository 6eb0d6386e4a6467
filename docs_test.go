package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var (
	sourceFileName = regexp.MustCompile("`((?:engine|exchange|sheet|store|server|cli|cab)/[a-z0-9_/]+\\.go)`")
	linkTo         = regexp.MustCompile(`\]\(([^)#:\s]+)(?:#[^)]*)?\)`)
)

// TestDocumentsLeadSomewhere: every link to a file and every source file that a
// document names is there.
func TestDocumentsLeadSomewhere(t *testing.T) {
	files, named, links := []string{"README.md"}, 0, 0
	for _, pattern := range []string{"docs/*.md", "docs/*/*.md", "docs/*/*/*.md"} {
		found, err := filepath.Glob(filepath.FromSlash(pattern))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range sourceFileName.FindAllStringSubmatch(string(text), -1) {
			named++
			if _, err := os.Stat(filepath.FromSlash(m[1])); err != nil {
				t.Errorf("%s names %s, which is not there", file, m[1])
			}
		}
		for _, m := range linkTo.FindAllStringSubmatch(string(text), -1) {
			links++
			if _, err := os.Stat(filepath.Join(filepath.Dir(file), filepath.FromSlash(m[1]))); err != nil {
				t.Errorf("%s leads to %s, which is not there", file, m[1])
			}
		}
	}
	if len(files) < 20 || named < 20 || links < 20 {
		t.Errorf("%d documents with %d source files and %d links, want at least 20 of each", len(files), named, links)
	}
}

// TestEveryRoomIsToldOf: the architecture names every room of the house.
func TestEveryRoomIsToldOf(t *testing.T) {
	text, err := os.ReadFile("docs/architecture.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range rooms {
		for _, room := range line {
			if room != "" && !strings.Contains(string(text), "`"+room+"`") {
				t.Errorf("docs/architecture.md does not tell of %s", room)
			}
		}
	}
}
