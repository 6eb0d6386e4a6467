package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"spadework/engine/job"
)

var root = filepath.Join("..", "..")

func TestDocumentsAreAsMade(t *testing.T) {
	for name, want := range made() {
		got, err := os.ReadFile(filepath.Join(root, name))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what is made: go generate ./tools/docs (%v)", name, err)
		}
	}
}

// TestEveryKindIsTold: none of the schema is without words and a form.
func TestEveryKindIsTold(t *testing.T) {
	n := 0
	var walk func(keys []job.Key)
	walk = func(keys []job.Key) {
		for _, k := range keys {
			n++
			for _, f := range k.Forms {
				if told(f) == "" || len(defs{}.form(f, k)) == 0 {
					t.Errorf("%s: kind %s is not told", k.Path, f.Kind)
				}
			}
			walk(k.Keys)
		}
	}
	for _, s := range job.Schema() {
		walk(s.Tables)
	}
	if n < 300 {
		t.Errorf("%d keys walked, want those of the whole job file", n)
	}
}

// compiled is the schema as a general reader takes it
// (github.com/santhosh-tekuri/jsonschema, checked against the official suite).
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(jsonSchema(sections())))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("job.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON is a job file as JSON.
func asJSON(t *testing.T, text []byte) any {
	t.Helper()
	var tree map[string]any
	if err := toml.Unmarshal(text, &tree); err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	out, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestJobsFitTheSchema: every job that the decoder reads.
func TestJobsFitTheSchema(t *testing.T) {
	s, n := compiled(t), 0
	for _, pattern := range []string{"examples/*/job.toml", "cli/starter/*.toml", "testdata/published/*/job.toml", "engine/job/testdata/every_key.toml"} {
		files, err := filepath.Glob(filepath.Join(root, filepath.FromSlash(pattern)))
		if err != nil || len(files) == 0 {
			t.Fatalf("no files in %s: %v", pattern, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			n++
			if err := s.Validate(asJSON(t, data)); err != nil {
				t.Errorf("%s does not fit the schema: %v", file, err)
			}
		}
	}
	if n < 8 {
		t.Errorf("%d jobs, want the examples, starters and the published", n)
	}
}

func TestWrongJobsDoNotFitTheSchema(t *testing.T) {
	const good = "[job]\nname = \"a\"\nunits = \"m\"\n[[datum]]\nid = \"D\"\nelevation = 1\n[[excavation]]\nid = 7\nkind = \"pit\"\nat = [0, \"1 ft\"]\nsize = 2\n"
	s := compiled(t)
	if err := s.Validate(asJSON(t, []byte(good))); err != nil {
		t.Fatalf("a right job does not fit: %v", err)
	}
	for _, c := range [][2]string{
		{"units = \"m\"", "units = \"yd\""}, {"name = \"a\"\n", ""}, {"kind = \"pit\"", "kind = \"pit\"\ncolour = 1"},
		{"[0, \"1 ft\"]", "[0]"}, {"elevation = 1", "elevation = [1]"}, {"[[datum]]", "[[dato]]"}, {"id = 7\n", ""},
	} {
		if err := s.Validate(asJSON(t, []byte(strings.Replace(good, c[0], c[1], 1)))); err == nil {
			t.Errorf("with %q for %q the job fits, want it not to", c[1], c[0])
		}
	}
}
