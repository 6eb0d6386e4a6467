package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestChecksNameTheirTests finds every test that docs/checks.md names, in its
// package.
func TestChecksNameTheirTests(t *testing.T) {
	text, err := os.ReadFile("docs/checks.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := regexp.MustCompile("(?m)^\\| .* \\| `([a-z/]+)` (Test\\w+) \\|$").FindAllStringSubmatch(string(text), -1)
	if len(rows) < 30 {
		t.Fatalf("%d rows name a test, want 30 or more", len(rows))
	}
	for _, row := range rows {
		files, err := filepath.Glob(filepath.Join(row[1], "*_test.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("no tests in %s: %v", row[1], err)
		}
		found := false
		for _, file := range files {
			code, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			found = found || strings.Contains(string(code), "func "+row[2]+"(t *testing.T)")
		}
		if !found {
			t.Errorf("docs/checks.md names %s, which %s does not have", row[2], row[1])
		}
	}
}
