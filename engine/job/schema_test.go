package job

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"spadework/engine/phrase"
)

// tableOf makes rows of a text with commas.
func tableOf(file, text string) *Rows {
	out := &Rows{File: file}
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		var row []Cell
		for j, cell := range strings.Split(line, ",") {
			row = append(row, Cell{strings.TrimSpace(cell), i + 1, j + 1})
		}
		if i == 0 {
			out.Header = row
		} else {
			out.Rows = append(out.Rows, row)
		}
	}
	return out
}

// everyKeyFiles are the files beside testdata/every_key.toml.
func everyKeyFiles() Files {
	return Files{Grids: map[string]Grid{}, Tables: map[string]*Rows{
		"ground.csv":   tableOf("ground.csv", "P,X,Y,Z,W,Code\n1,0,0,100,a,b\n2,100,0,100,a,b\n3,100,100,101,a,b\n4,0,100,101,a,b"),
		"lines.csv":    tableOf("lines.csv", "L,P,X,Y,Z,W,Code\nk,1,10,10,100,a,b\nk,2,90,10,100,a,b"),
		"schedule.csv": tableOf("schedule.csv", "M,Z,x,y,width,bottom\nK1,q,15,15,3,97"),
	}}
}

// more are documents with what excludes the keys of every_key.toml.
var more = []string{
	"[job]\nname=\"a\"\nunits=\"m\"\n[ground]\nsurface=\"g\"\n",
	"[job]\nname=\"a\"\nunits=\"m\"\n[ground]\nlevel=1\n",
	`[job]
name = "a"
units = "ft"
[[machine]]
id = "M"
linkage = { boom = 15, stick = 8, bucket = 4, boom_foot_height = 6, boom_cylinder = { base = [1, -1], rod = [6, 1], shortest = 5, longest = 8 }, stick_cylinder = { base = [-6, 2], rod = [-2, 1], shortest = 4, longest = 7 }, bucket_cylinder = { base = [5, 1], idler = [1, 0], idler_link = 1.5, connecting_link = 1.5, pin = [1, 0.5], shortest = 3, longest = 5 } }
`,
	"[job]\nname=\"a\"\nunits=\"m\"\n[[excavation]]\nid=\"T\"\nkind=\"trench\"\nline=[[0,0],[9,0]]\nwidth=1\nopen={cover=1,from=\"existing\",bends=[1,2]}\n",
	"[job]\nname=\"a\"\nunits=\"m\"\n[[excavation]]\nid=\"T\"\nkind=\"pit\"\nat=[0,0]\nsize=1\nbottom={top=9,thickness=1}\n",
}

// asked are the keys that the decoder asks for, as paths of the schema.
func asked(t *testing.T) map[string]bool {
	t.Helper()
	texts := slices.Clone(more)
	data, err := os.ReadFile(filepath.Join("testdata", "every_key.toml"))
	if err != nil {
		t.Fatal(err)
	}
	texts = append(texts, string(data))
	out := map[string]bool{}
	for i, text := range texts {
		doc, f := Parse("job.toml", []byte(text))
		if f != nil {
			t.Fatal(f)
		}
		d := &decoder{reader: reader{src: doc.src}, job: &Job{}, files: everyKeyFiles(), ids: map[string][]string{}, seen: map[string]map[string]phrase.Place{}}
		d.observe = func(path, key string) { out[schemaPath(path, key)] = true }
		d.document(&table{r: &d.reader, n: doc.tree})
		if i == len(texts)-1 && d.fault != nil {
			t.Fatalf("every_key.toml: %v", d.fault)
		}
	}
	return out
}

var (
	ids   = regexp.MustCompile(` [^.]+`)
	items = regexp.MustCompile(`\.\d+`)
)

// schemaPath is the path of a key without ids and numbers of items.
func schemaPath(path, key string) string {
	p := key
	if path != "" {
		p = path + "." + key
	}
	p = items.ReplaceAllString(ids.ReplaceAllString(p, ""), "")
	return strings.Replace(p, "sides.side", "sides", 1) // an item of a list of sides
}

// schemaPaths are the paths of every key.
func schemaPaths(keys []Key, out map[string]bool) {
	for _, k := range keys {
		out[k.Path] = true
		for _, f := range k.Forms {
			if f.Kind == KindHeaders {
				for _, name := range f.Choices {
					out[k.Path+"."+name] = true
				}
			}
		}
		schemaPaths(k.Keys, out)
	}
}

// The schema and the decoder know the same keys: every key asked for on any way
// through the decoder is in the schema, and no key of the schema is never asked for.
func TestSchemaIsWhatTheDecoderReads(t *testing.T) {
	want := asked(t)
	got := map[string]bool{}
	for _, s := range Schema() {
		schemaPaths(s.Tables, got)
	}
	if len(want) < 300 {
		t.Errorf("the decoder asked for %d keys, want over 300", len(want))
	}
	for _, p := range slices.Sorted(maps.Keys(want)) {
		if !got[p] && !strings.HasPrefix(p, "schedule.") {
			t.Errorf("the schema lacks %s", p)
		}
	}
	for _, p := range slices.Sorted(maps.Keys(got)) {
		if !want[p] && !strings.HasPrefix(p, "schedule.") && !strings.HasPrefix(p, "finished.") && !strings.HasPrefix(p, "excavation.conditions.") {
			t.Errorf("the decoder never asks for %s", p)
		}
	}
}

// Every key that stands in the code of the decoder as a text is in the schema: a
// branch that no document here reaches would show.
func TestEveryKeyInTheCodeIsInTheSchema(t *testing.T) {
	names := map[string]bool{}
	all := map[string]bool{}
	for _, s := range Schema() {
		schemaPaths(s.Tables, all)
	}
	for p := range all {
		names[p[strings.LastIndex(p, ".")+1:]] = true
	}
	packages, err := parser.ParseDir(token.NewFileSet(), ".", func(f os.FileInfo) bool { return !strings.HasSuffix(f.Name(), "_test.go") }, 0)
	if err != nil {
		t.Fatal(err)
	}
	methods := strings.Fields(`text name names flag count number choice scalar point points corners inner list length positive notNegative
		elevation grade accuracy batter bearing station answer date time optionalLength sigma boundOrSigma signedAccuracy lean chance cost
		angle pin soil flow share numberIn span size gradeRange pixels`)
	seen := 0
	for _, p := range packages {
		ast.Inspect(p, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			sel, ok := call.Fun.(*ast.SelectorExpr)
			if !ok || !slices.Contains(methods, sel.Sel.Name) {
				return true
			}
			for _, a := range call.Args {
				lit, ok := a.(*ast.BasicLit)
				if !ok || lit.Kind != token.STRING || strings.HasPrefix(lit.Value, `"job.kind_`) {
					continue
				}
				key, _ := strconv.Unquote(lit.Value)
				seen++
				if key = strings.TrimSuffix(strings.TrimSuffix(key, ".0"), ".1"); !names[key] {
					t.Errorf("the decoder reads %q, which the schema lacks", key)
				}
				break
			}
			return true
		})
	}
	if seen < 200 {
		t.Errorf("%d keys found in the code, want over 200", seen)
	}
}

// The kinds of excavations that keys are told for, and the words of choices, are
// those of the decoder.
func TestSchemaWords(t *testing.T) {
	for path, want := range map[string][]string{
		"excavation.kind": kinds, "machine.type": machineTypes, "machine.guidance": guidanceWords(), "machine.blade": bladeSides,
		"utility.kind": utilityKinds, "conditions.support": supports, "conditions.soil": soils, "job.language": languages,
		"excavation.edges.side": edgeSides, "job.curvature": curvatures, "job.work_to": heights,
	} {
		k, ok := SchemaKey(path)
		form, isChoice := k.Form(KindChoice)
		if !ok || !isChoice || !slices.Equal(form.Choices, want) {
			t.Errorf("SchemaKey(%q) chooses from %v, want %v", path, form.Choices, want)
		}
	}
	k, _ := SchemaKey("rod.face")
	if form, _ := k.Form(KindChoice); !slices.Equal(slices.Sorted(slices.Values(form.Choices)), slices.Sorted(slices.Values(faces))) {
		t.Errorf("rod.face chooses from %v, want %v", form.Choices, faces)
	}
}

// A key told for some kinds of excavations is asked for at those alone. An open
// grade is asked for everywhere, to say that it is a trench's.
func TestSchemaKeysOfKinds(t *testing.T) {
	dig, _ := SchemaKey("excavation")
	for _, kind := range kinds {
		doc, f := Parse("job.toml", []byte("[job]\nname=\"a\"\nunits=\"m\"\n[[excavation]]\nid=\"X\"\nkind=\""+kind+"\"\n"))
		if f != nil {
			t.Fatal(f)
		}
		got := map[string]bool{}
		d := &decoder{reader: reader{src: doc.src}, job: &Job{}, ids: map[string][]string{}, seen: map[string]map[string]phrase.Place{}}
		d.observe = func(path, key string) { got[schemaPath(path, key)] = true }
		d.document(&table{r: &d.reader, n: doc.tree})
		for _, k := range dig.Keys {
			want := len(k.Only) == 0 || slices.Contains(k.Only, kind) || k.Name == "open"
			if k.Name != "outline" && got[k.Path] != want {
				t.Errorf("a %s is asked for %s: %v, want %v", kind, k.Name, got[k.Path], want)
			}
		}
	}
}
