package job

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// jobTexts are the job files of the examples and the one with every key.
func jobTexts(t testing.TB) map[string]string {
	t.Helper()
	files, err := filepath.Glob("../../examples/*/job.toml")
	if err != nil || len(files) < 3 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	out := map[string]string{"folded": folded}
	for _, file := range append(files, filepath.Join("testdata", "every_key.toml")) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		out[file] = string(data)
	}
	return out
}

// folded says everything in ways that forms do not write.
const folded = `job.name = "a" # the name
job.units = "m"
datum = [{ id = "F", elevation = 100.50 }, { id = "G", elevation = 99 }]

# BM1 is a pin
[[benchmark]]
id = 'BM1' # a pin
at = [
  0, # east
  0, # north
]
elevation = 101.370

[[excavation]]
id = "A"
kind = "pit"
at = [1, 1]
size = 2
# as drawn
[excavation.bottom]
# below the floor
below = "16 in"
datum = "F"

[[excavation]]
id = "B"
kind = "pit"
at = [9, 9]
size = 2
bottom.elevation = 97

[rules]
competent_person = """the "foreman" """
[[rules.override]]
rule = "a"
value = "b"
source = "c"`

func valuesOf(t testing.TB, text string) Value {
	t.Helper()
	doc, f := Parse("job.toml", []byte(text))
	if f != nil {
		t.Fatalf("%v in\n%s", f, text)
	}
	return doc.Values()
}

func TestStatementsJoinToTheWhole(t *testing.T) {
	for name, text := range jobTexts(t) {
		var out strings.Builder
		for _, s := range statements(text) {
			out.WriteString(text[s.from:s.to])
		}
		if out.String() != text {
			t.Errorf("%s: the statements do not join to the document", name)
		}
	}
}

// each calls with every key of every table of a document.
func each(v Value, visit func(table string, index int, key string, value Value)) {
	for _, table := range v.Keys {
		items := []Value{table.Value}
		if table.Value.Shape == ListShape {
			items = table.Value.Items
		}
		for i, item := range items {
			for _, k := range item.Keys {
				visit(table.Key, i, k.Key, k.Value)
			}
		}
	}
}

// Read and written back, a job says the same, key by key; the decoder reads it as
// before.
func TestWhatIsReadIsWritten(t *testing.T) {
	for name, text := range jobTexts(t) {
		before := valuesOf(t, text)
		n := 0
		each(before, func(table string, index int, key string, value Value) {
			n++
			out, _, f := Edited("job.toml", text, []Edit{{SetKey, table, index, key, &value}})
			if f != nil {
				t.Fatalf("%s: %s %d.%s: %v", name, table, index, key, f)
			}
			if !valuesOf(t, out).Equal(before) {
				t.Errorf("%s: %s %d.%s set to itself changes the job:\n%s", name, table, index, key, out)
			}
		})
		if n < 10 {
			t.Errorf("%s: %d keys seen", name, n)
		}
	}
}

// A job written anew, table by table from its values alone, is read by the decoder
// as it was.
func TestAJobWrittenAnewIsDecodedTheSame(t *testing.T) {
	text := jobTexts(t)[filepath.Join("testdata", "every_key.toml")]
	before := valuesOf(t, text)
	anew := ""
	for _, table := range before.Keys {
		items := []Value{table.Value}
		if table.Value.Shape == ListShape {
			items = table.Value.Items
		}
		for _, item := range items {
			var f error
			out, _, fault := Edited("job.toml", anew, []Edit{{Kind: AddTable, Table: table.Key, Value: &item}})
			if fault != nil {
				f = fault
				t.Fatalf("%s: %v", table.Key, f)
			}
			anew = out
		}
	}
	if got := valuesOf(t, anew); !got.Equal(before) {
		t.Fatalf("the job written anew says something else:\n%s", anew)
	}
	doc, f := Parse("job.toml", []byte(anew))
	if f != nil {
		t.Fatal(f)
	}
	if _, f := doc.Decode(everyKeyFiles()); f != nil {
		t.Errorf("the job written anew is refused: %v\n%s", f, anew)
	}
}

// An edit changes what it names and nothing else; taken back, the job says what
// it said.
func TestAnEditTouchesNothingElse(t *testing.T) {
	texts := jobTexts(t)
	rapid.Check(t, func(rt *rapid.T) {
		for _, name := range []string{rapid.SampledFrom(slices.Sorted(maps.Keys(texts))).Draw(rt, "job")} {
			text := texts[name]
			before := valuesOf(t, text)
			type place struct {
				table string
				index int
				key   string
				value Value
			}
			var all []place
			each(before, func(table string, index int, key string, value Value) {
				all = append(all, place{table, index, key, value})
			})
			p := all[rapid.IntRange(0, len(all)-1).Draw(rt, name)]
			out, _, f := Edited("job.toml", text, []Edit{{SetKey, p.table, p.index, p.key, nil}})
			if f != nil {
				rt.Fatal(f)
			}
			each(valuesOf(t, out), func(table string, index int, key string, value Value) {
				if table == p.table && index == p.index && key == p.key {
					rt.Fatalf("%s: %s %d.%s is still there", name, table, index, key)
				}
			})
			back, _, f := Edited("job.toml", out, []Edit{{SetKey, p.table, p.index, p.key, &p.value}})
			if f != nil {
				rt.Fatal(f)
			}
			if !valuesOf(t, back).Equal(before) {
				rt.Fatalf("%s: %s %d.%s taken out and put back:\n%s", name, p.table, p.index, p.key, back)
			}
		}
	})
}

// Comments and order stay; those that go are counted.
func TestCommentsStayOrAreCounted(t *testing.T) {
	v := func(s string) *Value { return &Value{Text: s} }
	for _, c := range []struct {
		edits []Edit
		has   []string
		lacks []string
		lost  int
	}{
		{[]Edit{{SetKey, "benchmark", 0, "elevation", v("101.40")}}, []string{"elevation = 101.40\n", "# a pin", "0, # east", "# BM1 is a pin"}, []string{"101.370"}, 0},
		{[]Edit{{SetKey, "benchmark", 0, "id", v("BM7")}}, []string{`id = "BM7" # a pin`}, nil, 0},
		{[]Edit{{SetKey, "benchmark", 0, "at", nil}}, nil, []string{"# east"}, 2},
		{[]Edit{{SetKey, "excavation", 0, "bottom", &Value{Shape: TableShape, Keys: []KeyValue{{"elevation", Value{Text: "97.10"}}}}}},
			[]string{"bottom = { elevation = 97.10 }", "# as drawn"}, []string{"[excavation.bottom]"}, 1},
		{[]Edit{{DropTable, "benchmark", 0, "", nil}}, []string{"[[excavation]]"}, []string{"BM1", "# a pin", "# BM1 is a pin"}, 4},
		{[]Edit{{SetKey, "job", 0, "revision", v("B")}}, []string{"[job]\n", `revision = "B"`}, nil, 1},
		{[]Edit{{SetKey, "rules", 0, "set", v("none")}}, []string{`set = "none"`, "[[rules.override]]"}, nil, 0},
		{[]Edit{{AddTable, "excavation", 0, "", &Value{Shape: TableShape, Keys: []KeyValue{{"id", Value{Text: "C"}}}}}}, []string{"bottom.elevation = 97\n\n[[excavation]]\nid = \"C\"\n"}, nil, 0},
		{[]Edit{{SetKey, "excavation", 1, "words", v(`6'-9" below`)}}, []string{`words = "6'-9\" below"`}, nil, 0},
		{[]Edit{{SetKey, "excavation", 1, "size", v("16 in")}}, []string{`size = "16 in"`}, nil, 0},
	} {
		out, lost, f := Edited("job.toml", folded, c.edits)
		if f != nil {
			t.Errorf("Edited(%+v) = %v", c.edits, f)
			continue
		}
		for _, part := range c.has {
			if !strings.Contains(out, part) {
				t.Errorf("Edited(%+v) lacks %q:\n%s", c.edits, part, out)
			}
		}
		for _, part := range c.lacks {
			if strings.Contains(out, part) {
				t.Errorf("Edited(%+v) still has %q:\n%s", c.edits, part, out)
			}
		}
		if lost != c.lost {
			t.Errorf("Edited(%+v) lost %d comments, want %d:\n%s", c.edits, lost, c.lost, out)
		}
	}
}

func TestTableAtALine(t *testing.T) {
	doc, f := Parse("job.toml", []byte(folded))
	if f != nil {
		t.Fatal(f)
	}
	for _, c := range []struct {
		line  int
		table string
		index int
		key   string
	}{{1, "job", 0, "name"}, {6, "benchmark", 0, ""}, {9, "benchmark", 0, "at"}, {21, "excavation", 0, "bottom"}, {30, "excavation", 1, "bottom"}} {
		if table, index, key := doc.TableAt(c.line); table != c.table || index != c.index || key != c.key {
			t.Errorf("TableAt(%d) = %s %d %s, want %s %d %s", c.line, table, index, key, c.table, c.index, c.key)
		}
	}
}

// FuzzEdited holds that whatever document is right stays right under an edit, and
// that no text of a value gets out of its quotes.
func FuzzEdited(f *testing.F) {
	for _, s := range []string{"a", `"`, "'", "\\", "1'-4 1/2\"", "\n", "\x00", "ñ", "]]", "#", `'"`} {
		f.Add(folded, s)
	}
	f.Fuzz(func(t *testing.T, text, value string) {
		if strings.ToValidUTF8(value, "") != value {
			t.Skip()
		}
		if _, fault := Parse("job.toml", []byte(text)); fault != nil {
			t.Skip()
		}
		out, _, fault := Edited("job.toml", text, []Edit{{SetKey, "spoil", 0, "material", &Value{Text: value}}})
		if fault != nil {
			return
		}
		table, _ := valuesOf(t, out).Get("spoil")
		if got, _ := table.Get("material"); got.Text != value {
			t.Errorf("material = %q, want %q in\n%s", got.Text, value, out)
		}
	})
}
