package cab

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spadework/engine/phrase"
)

var update = flag.Bool("update", false, "write the digests anew")

// The answers for every example, in both languages, have the bytes that are
// kept. The test runs natively and in WebAssembly (.ci/check), so that page and
// command line say the same to the last digit.
func TestAnswersOfExamples(t *testing.T) {
	var out strings.Builder
	for _, name := range []string{"alder-quay", "fennel-yard", "sorrel-bank"} {
		for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
			o := opening(t, name)
			o.Language = lang
			out.WriteString(name + " " + string(lang) + " " + answersOf(t, o) + "\n")
		}
	}
	path := filepath.Join("testdata", "answers.sha256")
	if *update {
		if err := os.WriteFile(path, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if out.String() != string(want) {
		t.Errorf("the answers have the digests\n%swant\n%s(-update writes them anew)", out.String(), want)
	}
}

// answersOf is the digest of every answer about a job.
func answersOf(t *testing.T, o Opening) string {
	t.Helper()
	var e Engine
	sum := sha256.New()
	ask := func(name string, args any) []byte {
		q, err := json.Marshal(map[string]any{"call": name, "args": args})
		if err != nil {
			t.Fatal(err)
		}
		answer := e.Call(q, nil)
		if strings.HasPrefix(string(answer), `{"fault"`) {
			t.Fatalf("%s(%v) = %s", name, args, answer)
		}
		sum.Write(answer)
		return answer
	}
	var h struct{ OK Home }
	if err := json.Unmarshal(ask("open", o), &h); err != nil {
		t.Fatal(err)
	}
	for _, d := range h.OK.Digs {
		ask("stand", map[string]string{"dig": d.ID})
	}
	for _, tag := range h.OK.Tags {
		ask("closes", map[string]string{"tag": tag.Tag})
	}
	ask("watch", struct{}{})
	ask("map", struct{}{})
	ask("plan", struct{}{})
	return hex.EncodeToString(sum.Sum(nil))
}
