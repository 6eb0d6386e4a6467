package cli

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"spadework/store"
)

// TestProofIsHeldAgainstTheStore: the job and the log of the store, page for page;
// a later record does not undo it, another revision or a lacking record does.
func TestProofIsHeldAgainstTheStore(t *testing.T) {
	dir := t.TempDir()
	b, records, err := exampleDay()
	if err != nil {
		t.Fatal(err)
	}
	stored := func(name string, keep int, change func(map[string]string)) string {
		path := filepath.Join(dir, name)
		s, err := store.Open(context.Background(), path, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		own := b
		own.Files = map[string]string{}
		for file, text := range b.Files {
			own.Files[file] = text
		}
		change(own.Files)
		if err := fill(context.Background(), s, own, records[:keep]); err != nil {
			t.Fatal(err)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		return path
	}
	same := func(map[string]string) {}
	proof := filepath.Join(dir, "proof.pdf")
	ran(t, statusOK, "--today", "2026-05-06", "proof", filepath.Join("..", "examples", exampleFolder), "-o", proof)
	if out := ran(t, statusOK, "verify", "--db", stored("whole.db", len(records), same), proof); !strings.Contains(out, "The proof holds: 24 records") {
		t.Errorf("verify = %q, want that it holds", out)
	}
	if out := ran(t, statusOut, "verify", "--db", stored("short.db", len(records)-1, same), proof); !strings.Contains(out, "DIFFERS: record") {
		t.Errorf("verify without the last record = %q, want what differs", out)
	}
	other := func(files map[string]string) { files["ground.csv"] += "\n" }
	if out := ran(t, statusOut, "verify", "--db", stored("other.db", len(records), other), proof); !strings.Contains(out, `DIFFERS: "ground.csv" is not as it was`) {
		t.Errorf("verify against other ground = %q, want what differs", out)
	}
}
