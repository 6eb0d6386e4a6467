package plan_test

import (
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden file anew")

// TestPlansAreTheSameOnEveryMachine compares digests of the JSON with those on
// file. The check command runs it natively and in WebAssembly: both must give
// the same bytes (formulations, point 1).
func TestPlansAreTheSameOnEveryMachine(t *testing.T) {
	var b strings.Builder
	for _, folder := range examples {
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(planExample(t, folder)), filepath.Base(folder))
	}
	path := filepath.Join("testdata", "json.sha256")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("digests of the plans\n%s\nwant\n%s", b.String(), want)
	}
}
