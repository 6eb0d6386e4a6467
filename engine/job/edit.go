package job

import (
	"slices"
	"strings"

	"spadework/engine/phrase"
)

// EditKind is what an edit does.
type EditKind string

// The kinds of edits.
const (
	SetKey    EditKind = "set"  // gives Key of a table a value; without a value it takes it out
	AddTable  EditKind = "add"  // a further table of a list with the keys of the value, or a table that was not there
	DropTable EditKind = "drop" // takes a table out
)

// Edit is one change of a document.
type Edit struct {
	Kind  EditKind
	Table string
	Index int // which of a list, from 0
	Key   string
	Value *Value
}

// Edited makes edits in the text of a job file, one after the other. Everything
// else keeps its place, its spelling and its comments; lost counts the comments
// that stood in what was taken out or written anew.
func Edited(file, text string, edits []Edit) (out string, lost int, f *phrase.Fault) {
	for _, e := range edits {
		n := 0
		if text, n, f = edited(file, text, e); f != nil {
			return "", 0, f
		}
		lost += n
	}
	return text, lost, nil
}

func edited(file, text string, e Edit) (string, int, *phrase.Fault) {
	doc, f := Parse(file, []byte(text))
	if f != nil {
		return "", 0, f
	}
	if text != "" && !strings.HasSuffix(text, "\n") {
		text += "\n"
	}
	k, known := SchemaKey(e.Table)
	if !known {
		return "", 0, phrase.NewFault(phrase.New("job.unknown_key", phrase.With("key", e.Table)), phrase.New("job.unknown_key.remedy",
			phrase.With("allowed", strings.Join(documentTables, ", "))))
	}
	w := &editor{text: text, doc: doc, key: k, edit: e}
	w.unfold()
	switch e.Kind {
	case SetKey:
		w.set()
	case AddTable:
		w.add()
	case DropTable:
		w.drop()
	}
	if _, f := Parse(file, []byte(w.text)); f != nil {
		return "", 0, f
	}
	return w.text, w.lost, nil
}

// editor makes one edit.
type editor struct {
	text string
	doc  *Document
	key  Key // of the table
	edit Edit
	lost int
}

func (w *editor) list() bool {
	_, list := w.key.Form(KindTables)
	return list
}

// unfold writes a table that stands on one line, or by dotted keys before the
// first header, under headers of its own.
func (w *editor) unfold() {
	var folded []statement
	for _, s := range statements(w.text) {
		if s.table == w.edit.Table && s.index < 0 {
			folded = append(folded, s)
		}
	}
	if len(folded) == 0 {
		return
	}
	values, _ := w.doc.Values().Get(w.edit.Table)
	w.takeOut(folded)
	if !w.list() {
		w.put(len(w.text), w.block(values))
		return
	}
	for _, one := range values.Items {
		w.put(len(w.text), w.block(one))
	}
}

// takeOut removes statements and counts the comments in them.
func (w *editor) takeOut(list []statement) {
	for _, s := range slices.Backward(list) {
		line := w.text[s.from:s.to]
		switch {
		case s.what == between && strings.Contains(line, "#"):
			w.lost++
		case s.what == keyValue:
			w.lost += s.comments
			if strings.Contains(w.text[s.value[1]:s.to], "#") {
				w.lost++
			}
		case s.what == header && strings.Contains(line, "#"):
			w.lost++
		}
		w.text = w.text[:s.from] + w.text[s.to:]
	}
}

func (w *editor) put(at int, text string) { w.text = w.text[:at] + text + w.text[at:] }

// block is a table under its header, with an empty line before it.
func (w *editor) block(v Value) string {
	var out strings.Builder
	head := "[" + w.edit.Table + "]"
	if w.list() {
		head = "[" + head + "]"
	}
	out.WriteString("\n" + head + "\n")
	for _, k := range v.Keys {
		out.WriteString(keyText(k.Key) + " = " + literal(w.key.under(k.Key), k.Value) + "\n")
	}
	return out.String()
}

// own are the statements of the table that is edited.
func (w *editor) own() []statement {
	var out []statement
	for _, s := range statements(w.text) {
		if s.table == w.edit.Table && s.index == w.edit.Index {
			out = append(out, s)
		}
	}
	return out
}

// set gives a key its value.
func (w *editor) set() {
	own := w.own()
	var under []statement // what gives the key now
	sub := false
	for _, s := range own {
		switch {
		case s.what == header:
			sub = len(s.path) > 0 && s.path[0] == w.edit.Key
		case s.what == between:
			if sub && !w.leads(s) {
				under = append(under, s)
			}
			continue
		}
		if len(s.path) > 0 && s.path[0] == w.edit.Key {
			under = append(under, s)
		}
	}
	v := w.edit.Value
	if v != nil && len(under) == 1 && under[0].what == keyValue && len(under[0].path) == 1 {
		s := under[0]
		w.lost += s.comments
		w.text = w.text[:s.value[0]] + literal(w.key.under(w.edit.Key), *v) + w.text[s.value[1]:]
		return
	}
	w.takeOut(under)
	if v == nil {
		return
	}
	line := keyText(w.edit.Key) + " = " + literal(w.key.under(w.edit.Key), *v) + "\n"
	at, there := w.endOfKeys()
	if !there {
		w.put(len(w.text), "\n["+w.edit.Table+"]\n"+line)
		return
	}
	w.put(at, line)
}

// leads says that a comment or blank stands before the next header, which it
// belongs to.
func (w *editor) leads(s statement) bool {
	all := statements(w.text)
	for i := slices.IndexFunc(all, func(o statement) bool { return o.from == s.from }); i < len(all); i++ {
		if all[i].what != between {
			return all[i].what == header
		}
	}
	return true
}

// endOfKeys is where the last of a table's plain keys ends.
func (w *editor) endOfKeys() (at int, there bool) {
	inMain := false
	for _, s := range w.own() {
		switch {
		case s.what == header:
			inMain = len(s.path) == 0
			if inMain {
				at, there = s.to, true
			}
		case s.what == keyValue && inMain:
			at = s.to
		}
	}
	return at, there
}

// add puts a further table behind the last of its name.
func (w *editor) add() {
	v := Value{Shape: TableShape}
	if w.edit.Value != nil {
		v = *w.edit.Value
	}
	if !w.list() {
		for _, k := range v.Keys {
			w.edit.Key, w.edit.Value = k.Key, &k.Value
			w.set()
		}
		return
	}
	at := len(w.text)
	for _, s := range statements(w.text) {
		if s.table == w.edit.Table && s.what != between {
			at = s.to
		}
	}
	w.put(at, w.block(v))
}

// drop takes a table out, with the comment that stands right over its header.
func (w *editor) drop() {
	all := statements(w.text)
	var out []statement
	for i, s := range all {
		if s.table != w.edit.Table || s.index != w.edit.Index {
			continue
		}
		if s.what == header && len(s.path) == 0 {
			for j := i - 1; j >= 0 && all[j].what == between && strings.Contains(w.text[all[j].from:all[j].to], "#"); j-- {
				out = append(out, all[j])
			}
		}
		if s.what != between || !w.leads(s) {
			out = append(out, s)
		}
	}
	slices.SortFunc(out, func(a, b statement) int { return a.from - b.from })
	w.takeOut(slices.CompactFunc(out, func(a, b statement) bool { return a.from == b.from }))
}

// TableAt is the table and key of the document that stand at a line, from 1; the
// key is "" on a header.
func (doc *Document) TableAt(line int) (table string, index int, key string) {
	at := 0
	if line > 0 && line <= len(doc.src.lines) {
		at = doc.src.lines[line-1]
	}
	for _, s := range statements(string(doc.src.data)) {
		if s.from > at {
			break
		}
		if s.what == between {
			continue
		}
		table, index, key = s.table, max(s.index, 0), ""
		if len(s.path) > 0 {
			key = s.path[0]
		}
	}
	return table, index, key
}
