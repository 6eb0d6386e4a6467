package job

import (
	"cmp"
	"slices"

	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// FileKind says how a file beside the job file is read.
type FileKind string

// The kinds of files.
const (
	PointTable    FileKind = "points"
	LineTable     FileKind = "breaklines"
	ScheduleTable FileKind = "schedule"
	GridFile      FileKind = "surface"
)

// FileRef is a file that the document names.
type FileRef struct {
	Name  string
	Kind  FileKind
	Place phrase.Place
}

// Files are the files beside the job file, read.
type Files struct {
	Tables map[string]*Rows
	Grids  map[string]Grid
}

// Grid is a grid as its file has it: job coordinates and elevations in the units
// of the file.
type Grid struct {
	ground.GridData
	Plan, Height *unit.Scale // of places and of elevations, nil where the file does not tell
	Bare         bool        // figures of a text, which count as metres in a job of metres
}

// Document is a job file whose TOML is right; its meaning is not yet checked.
type Document struct {
	src  *source
	tree *node
}

// Parse reads the TOML of a job file.
func Parse(file string, data []byte) (*Document, *phrase.Fault) {
	src := newSource(file, data)
	tree, fault := parseTree(src)
	if fault != nil {
		return nil, fault
	}
	return &Document{src: src, tree: tree}, nil
}

// Voice is how a job speaks: its language and how its figures print.
type Voice struct {
	Language phrase.Language
	Style    unit.Style
}

// Voice looks up language and units without judging the document, so that its
// faults can be told in them.
func (doc *Document) Voice() Voice {
	d := &decoder{reader: reader{src: doc.src}, job: &Job{}}
	head := &table{r: &d.reader, n: doc.tree.get("job")}
	d.units(head)
	if d.fault != nil || head.n == nil || head.n.kind != tableNode {
		return Voice{Language: phrase.English}
	}
	return Voice{Language: phrase.Language(languages[head.choice("language", languages, 0)]), Style: d.style(head)}
}

// Files are the files the document names, each once, by name.
func (doc *Document) Files() []FileRef {
	var out []FileRef
	add := func(n *node, key string, kind FileKind) {
		if v := n.get(key); v != nil && v.kind == textNode {
			out = append(out, FileRef{v.text, kind, doc.src.of(v)})
		}
	}
	for _, table := range []string{"ground", "finished"} {
		n := doc.tree.get(table)
		add(n, "points", PointTable)
		add(n, "breaklines", LineTable)
		add(n, "surface", GridFile)
	}
	if list := doc.tree.get("schedule"); list != nil {
		for _, n := range append(list.items, list) {
			add(n, "file", ScheduleTable)
		}
	}
	slices.SortStableFunc(out, func(a, b FileRef) int { return cmp.Compare(a.Name, b.Name) })
	return slices.CompactFunc(out, func(a, b FileRef) bool { return a.Name == b.Name })
}
