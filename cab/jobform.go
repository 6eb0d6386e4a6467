//go:build foreman || !js

package cab

import (
	"maps"
	"slices"
	"strings"

	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/exchange"
)

// Section is a group of tables of the job file for one form.
type Section struct {
	Name   string    `json:"name"`
	Tables []FormKey `json:"tables"`
}

// FormKey is a key that a form asks for. Its label and help are the page's texts,
// by its path.
type FormKey struct {
	Path  string     `json:"path"`
	Name  string     `json:"name"`
	Must  bool       `json:"must,omitempty"`
	Kinds []FormKind `json:"kinds"`
	Only  []string   `json:"only,omitempty"` // kinds of excavations that have it
	Keys  []FormKey  `json:"keys,omitempty"`
}

// FormKind is one way to say a value.
type FormKind struct {
	Kind    string   `json:"kind"`
	Choices []string `json:"choices,omitempty"`
	Of      string   `json:"of,omitempty"` // table that its ids come from
}

// FormSchema is every key that the job file can say.
func FormSchema() []Section {
	var out []Section
	for _, s := range job.Schema() {
		out = append(out, Section{s.Name, formKeys(s.Tables)})
	}
	return out
}

func formKeys(keys []job.Key) []FormKey {
	var out []FormKey
	for _, k := range keys {
		f := FormKey{Path: k.Path, Name: k.Name, Must: k.Must, Only: k.Only, Keys: formKeys(k.Keys)}
		for _, one := range k.Forms {
			f.Kinds = append(f.Kinds, FormKind{string(one.Kind), one.Choices, one.Of})
		}
		out = append(out, f)
	}
	return out
}

// JobForm is what a job file says, for forms.
type JobForm struct {
	Values FormValue  `json:"values"`
	Files  []FormFile `json:"files"` // beside the job file
	Faults []Misread  `json:"faults"`
}

// FormFile is a file beside the job file.
type FormFile struct {
	Name string `json:"name"`
	Kind string `json:"kind"` // points, breaklines, schedule, surface; "" the job names it nowhere
}

// Misread is a fault with the key of the form that it is about.
type Misread struct {
	Told
	File  string `json:"file"`
	Line  int    `json:"line"`
	Table string `json:"table"` // "" where it is in a file beside the job
	Index int    `json:"index"`
	At    string `json:"at"` // key
}

// FormEdit is an edit of a job file, as a page makes it.
type FormEdit struct {
	Kind  string     `json:"kind"` // set, add, drop
	Table string     `json:"table"`
	Index int        `json:"index"`
	Key   string     `json:"key"`
	Value *FormValue `json:"value"`
}

// JobEdit is a bundle with what is to be changed in it. A file of null goes.
type JobEdit struct {
	Bundle exchange.Bundle    `json:"bundle"`
	Edits  []FormEdit         `json:"edits"`
	Files  map[string]*string `json:"files"`
}

// JobEdited is a bundle after its edits. Lost counts the comments of the job file
// that went with what was taken out.
type JobEdited struct {
	Bundle exchange.Bundle `json:"bundle"`
	Lost   int             `json:"lost"`
	Form   JobForm         `json:"form"`
}

// readForm is the form of a bundle, with what is wrong in it.
func (e *Engine) readForm(b exchange.Bundle) (JobForm, *phrase.Fault) {
	out := JobForm{Faults: []Misread{}, Files: []FormFile{}}
	doc, f := job.Parse(b.Main, []byte(b.Files[b.Main]))
	if f != nil {
		return out, f
	}
	out.Values = FormValue(doc.Values())
	kinds := map[string]string{}
	for _, ref := range doc.Files() {
		kinds[ref.Name] = string(ref.Kind)
	}
	for _, name := range b.Names() {
		if name != b.Main {
			out.Files = append(out.Files, FormFile{name, kinds[name]})
		}
	}
	if _, voice, err := b.Job(); err != nil {
		if e.lang == "" {
			e.lang = voice.Language
		}
		out.Faults = append(out.Faults, e.misread(doc, b.Main, faultOf(err)))
	}
	return out, nil
}

// misread places a fault at a key of the form.
func (e *Engine) misread(doc *job.Document, main string, f *phrase.Fault) Misread {
	out := Misread{Told: *e.told(f), File: f.Place.File, Line: f.Place.Line}
	if f.Place.File == main && f.Place.Line > 0 {
		out.Table, out.Index, out.At = doc.TableAt(f.Place.Line)
	}
	return out
}

// writeJob makes edits in a bundle.
func (e *Engine) writeJob(in JobEdit) (JobEdited, *phrase.Fault) {
	b := exchange.Bundle{Format: in.Bundle.Format, Main: in.Bundle.Main, Files: maps.Clone(in.Bundle.Files)}
	for _, name := range slices.Sorted(maps.Keys(in.Files)) {
		if text := in.Files[name]; text == nil {
			delete(b.Files, name)
		} else {
			b.Files[name] = *text
		}
	}
	edits := make([]job.Edit, len(in.Edits))
	for i, c := range in.Edits {
		edits[i] = job.Edit{Kind: job.EditKind(c.Kind), Table: c.Table, Index: c.Index, Key: c.Key, Value: (*job.Value)(c.Value)}
	}
	text, lost, f := job.Edited(b.Main, b.Files[b.Main], edits)
	if f != nil {
		return JobEdited{}, f
	}
	b.Files[b.Main] = text
	if f := b.Check(); f != nil {
		return JobEdited{}, f
	}
	form, f := e.readForm(b)
	return JobEdited{b, lost, form}, f
}

// NewJob is what a first job is made from.
type NewJob struct {
	Name     string          `json:"name"`
	Units    string          `json:"units"`
	Language phrase.Language `json:"language"`
	Drawing  string          `json:"drawing"`
}

// newJob is a bundle with its head alone.
func (e *Engine) newJob(n NewJob) (JobEdited, *phrase.Fault) {
	head := job.Value{Shape: job.TableShape, Keys: []job.KeyValue{
		{Key: "name", Value: job.Value{Text: n.Name}}, {Key: "units", Value: job.Value{Text: n.Units}},
		{Key: "language", Value: job.Value{Text: string(n.Language)}},
	}}
	if n.Drawing != "" {
		head.Keys = append(head.Keys, job.KeyValue{Key: "drawing", Value: job.Value{Text: n.Drawing}})
	}
	const main = "job.toml"
	return e.writeJob(JobEdit{
		Bundle: exchange.Bundle{Format: 1, Main: main, Files: map[string]string{main: ""}},
		Edits:  []FormEdit{{Kind: string(job.AddTable), Table: "job", Value: (*FormValue)(&head)}},
	})
}

// Difference is a key, a table or a file in which two versions of a job differ.
type Difference struct {
	Table  string `json:"table"` // "" a file
	ID     string `json:"id"`
	Key    string `json:"key"`
	Mine   string `json:"mine"` // "" is not there
	Theirs string `json:"theirs"`
}

// differences compares two bundles table by table; things are matched by their
// ids, or by their order where they have none.
func differences(mine, theirs exchange.Bundle) ([]Difference, *phrase.Fault) {
	out := []Difference{}
	var values [2]job.Value
	for i, b := range []exchange.Bundle{mine, theirs} {
		doc, f := job.Parse(b.Main, []byte(b.Files[b.Main]))
		if f != nil {
			return out, f
		}
		values[i] = doc.Values()
	}
	for _, s := range job.Schema() {
		for _, table := range s.Tables {
			a, _ := values[0].Get(table.Name)
			b, _ := values[1].Get(table.Name)
			out = append(out, differ(table.Name, a, b)...)
		}
	}
	for _, name := range slices.Compact(slices.Sorted(slices.Values(slices.Concat(mine.Names(), theirs.Names())))) {
		if a, b := mine.Files[name], theirs.Files[name]; name != mine.Main && name != theirs.Main && a != b {
			out = append(out, Difference{ID: name, Mine: lines(a), Theirs: lines(b)})
		}
	}
	return out, nil
}

// lines tells a file by its count of lines.
func lines(text string) string {
	if text == "" {
		return ""
	}
	return text[:min(len(text), strings.IndexByte(text+"\n", '\n'))] + " …"
}

func differ(table string, a, b job.Value) []Difference {
	var out []Difference
	pairs := [][2]job.Value{{a, b}}
	if a.Shape == job.ListShape || b.Shape == job.ListShape {
		pairs = matched(a.Items, b.Items)
	}
	for _, p := range pairs {
		id := p[0].Name()
		if id == "" {
			id = p[1].Name()
		}
		var keys []string
		for _, k := range slices.Concat(p[0].Keys, p[1].Keys) {
			if !slices.Contains(keys, k.Key) {
				keys = append(keys, k.Key)
			}
		}
		for _, key := range keys {
			x, hasX := p[0].Get(key)
			y, hasY := p[1].Get(key)
			if hasX == hasY && x.Equal(y) {
				continue
			}
			out = append(out, Difference{table, id, key, plain(x), plain(y)})
		}
	}
	return out
}

// matched pairs the things of two lists by id.
func matched(a, b []job.Value) [][2]job.Value {
	var out [][2]job.Value
	used := make([]bool, len(b))
	for i, x := range a {
		j := slices.IndexFunc(b, func(y job.Value) bool { return y.Name() == x.Name() && x.Name() != "" })
		if x.Name() == "" && i < len(b) {
			j = i
		}
		if j < 0 || used[j] {
			out = append(out, [2]job.Value{x, {}})
			continue
		}
		used[j] = true
		out = append(out, [2]job.Value{x, b[j]})
	}
	for j, y := range b {
		if !used[j] {
			out = append(out, [2]job.Value{{}, y})
		}
	}
	return out
}

// plain is a value in a line for reading.
func plain(v job.Value) string {
	var parts []string
	for _, k := range v.Keys {
		parts = append(parts, k.Key+" "+plain(k.Value))
	}
	for _, item := range v.Items {
		parts = append(parts, plain(item))
	}
	if parts == nil {
		return v.Text
	}
	return strings.Join(parts, ", ")
}

// PastedTable is a table as it was read, with what each column is taken for.
type PastedTable struct {
	Heads []string   `json:"heads"`
	Means []string   `json:"means"` // name of the column, "" left out
	Rows  [][]string `json:"rows"`
	Comma bool       `json:"comma"` // figures have a decimal comma
}

// readPasted reads rows as they were pasted, by the schedule's own columns.
func readPasted(name, text string) (PastedTable, *phrase.Fault) {
	rows, f := exchange.ReadTable(name, []byte(text))
	if f != nil {
		return PastedTable{}, f
	}
	form, _ := scheduleColumns()
	columns, f := job.FindColumns(rows, form.Choices, job.Mapping{})
	if f != nil {
		return PastedTable{}, f
	}
	out := PastedTable{Heads: []string{}, Means: []string{}, Rows: [][]string{}, Comma: rows.DecimalComma}
	for i, head := range rows.Header {
		means := ""
		for _, c := range form.Choices {
			if at, ok := columns[c]; ok && at == i {
				means = c
			}
		}
		out.Heads, out.Means = append(out.Heads, head.Text), append(out.Means, means)
	}
	for _, row := range rows.Rows {
		cells := make([]string, len(row))
		for i, c := range row {
			cells[i] = c.Text
		}
		out.Rows = append(out.Rows, cells)
	}
	return out, nil
}

func scheduleColumns() (job.KeyForm, bool) {
	k, _ := job.SchemaKey("schedule.columns")
	return k.Form(job.KindHeaders)
}
