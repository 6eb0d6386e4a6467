package job

import (
	"slices"
	"strconv"
	"strings"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// reader turns nodes into typed values. The first fault wins; after it every
// method gives zero, so that a room reads its keys in a row and asks once.
type reader struct {
	src    *source
	scale  unit.Scale // of bare lengths and elevations
	plan   unit.Scale // of bare plan coordinates
	origin Origin
	fault  *phrase.Fault

	observe func(path, key string) // nil; a test learns which keys are asked for
}

// table is a table being read. Each key asked for is remembered: what is left
// over is unknown, and the list tells what is allowed.
type table struct {
	r    *reader
	n    *node
	path string
	used []string

	comma bool // figures have a decimal comma, as the table file they come from
}

// units is how the texts of this table are read.
func (t *table) units() unit.Reader { return unit.Reader{Bare: t.r.scale, Comma: t.comma} }

func (r *reader) table(n *node, path string) *table {
	if n == nil {
		return &table{r: r, path: path}
	}
	if n.kind != tableNode {
		r.wrongKind(n, path, "job.kind_table")
		return &table{r: r, path: path}
	}
	return &table{r: r, n: n, path: path}
}

// failAt keeps the first fault.
func (r *reader) failAt(at phrase.Place, path string, f *phrase.Fault) {
	if r.fault != nil {
		return
	}
	at.Path = path
	r.fault = f.At(at)
}

func (r *reader) wrongKind(n *node, path string, want phrase.Key) {
	r.failAt(r.src.of(n), path, phrase.NewFault(
		phrase.New("job.wrong_kind", phrase.With("value", n.describe()), phrase.With("want", phrase.New(want))),
		phrase.New("job.wrong_kind.remedy", phrase.With("want", phrase.New(want)))))
}

// describe is the value as written, or what it is.
func (n *node) describe() string {
	switch n.kind {
	case tableNode:
		return "{ … }"
	case arrayNode:
		return n.describeList()
	}
	return n.text
}

// describeList writes a short list out.
func (n *node) describeList() string {
	if n.tables || len(n.items) > 6 {
		return "[ … ]"
	}
	parts := make([]string, len(n.items))
	for i, item := range n.items {
		parts[i] = item.describe()
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// take is the node of a key, nil if absent; it marks the key as known.
func (t *table) take(key string) *node {
	t.used = append(t.used, key)
	if t.r.observe != nil {
		t.r.observe(t.path, key)
	}
	return t.n.get(key)
}

// has says that the key is given, without reading it.
func (t *table) has(key string) bool { return t.n.get(key) != nil }

func (t *table) sub(key string) string {
	if t.path == "" {
		return key
	}
	return t.path + "." + key
}

// done faults the first key nobody asked for.
func (t *table) done() {
	if t.n == nil || t.r.fault != nil {
		return
	}
	for _, e := range t.n.keys {
		if e.value.implied || slices.Contains(t.used, e.name) {
			continue
		}
		allowed := slices.Clone(t.used)
		slices.Sort(allowed)
		at := t.r.src.place(e.offset)
		if e.value.cell != nil {
			at = *e.value.cell
		}
		t.r.failAt(at, t.path, phrase.NewFault(
			phrase.New("job.unknown_key", phrase.With("key", e.name)),
			unknownRemedy(e.name, slices.Compact(allowed))))
		return
	}
}

// unknownRemedy names the key that was probably meant, and all allowed ones.
func unknownRemedy(key string, allowed []string) phrase.Message {
	if best := nearest(key, allowed); best != "" {
		return phrase.New("job.unknown_key.did_you_mean",
			phrase.With("key", best), phrase.With("allowed", strings.Join(allowed, ", ")))
	}
	return phrase.New("job.unknown_key.remedy", phrase.With("allowed", strings.Join(allowed, ", ")))
}

// fail faults the value of a key.
func (t *table) fail(key string, what, remedy phrase.Message) {
	t.failFault(key, phrase.NewFault(what, remedy))
}

func (t *table) failFault(key string, f *phrase.Fault) {
	t.r.failAt(t.place(key), t.sub(key), f)
}

// place is where a key's value stands, or the table if the key is absent. A
// dotted key looks into tables and, by number, into arrays.
func (t *table) place(key string) phrase.Place {
	n := t.n
	if n == nil {
		return phrase.Place{File: t.r.src.file}
	}
	for part := range strings.SplitSeq(key, ".") {
		next := n.get(part)
		if i, err := strconv.Atoi(part); err == nil && i >= 0 && i < len(n.items) {
			next = n.items[i]
		}
		if next == nil {
			break
		}
		n = next
	}
	return t.r.src.of(n)
}

// missing faults the lack of a key.
func (t *table) missing(key string, remedy phrase.Message) {
	t.r.failAt(t.place(""), t.path, phrase.NewFault(
		phrase.New("job.missing_key", phrase.With("key", key)), remedy))
}

// need faults the lack of a key with the plain remedy.
func (t *table) need(key string) bool {
	if t.has(key) {
		return true
	}
	t.missing(key, phrase.New("job.missing_key.remedy", phrase.With("key", key)))
	return false
}

// text reads a string, "" if absent.
func (t *table) text(key string) string {
	n := t.take(key)
	if n == nil {
		return ""
	}
	if n.kind != textNode {
		t.r.wrongKind(n, t.sub(key), "job.kind_text")
		return ""
	}
	return n.text
}

// name reads an id: a string or a number as written.
func (t *table) name(key string) string {
	n := t.take(key)
	if n == nil {
		return ""
	}
	if n.kind != textNode && n.kind != numberNode {
		t.r.wrongKind(n, t.sub(key), "job.kind_text")
		return ""
	}
	return strings.TrimSpace(n.text)
}

// names reads an array of ids; one id alone will do.
func (t *table) names(key string) []string {
	n := t.n.get(key)
	if n == nil || n.kind != arrayNode {
		if s := t.name(key); s != "" {
			return []string{s}
		}
		return nil
	}
	t.take(key)
	out := make([]string, 0, len(n.items))
	for _, item := range n.items {
		if item.kind != textNode && item.kind != numberNode {
			t.r.wrongKind(item, t.sub(key), "job.kind_text")
			return nil
		}
		out = append(out, item.text)
	}
	return out
}

// flag reads true or false.
func (t *table) flag(key string, otherwise bool) bool {
	n := t.take(key)
	if n == nil {
		return otherwise
	}
	switch strings.ToLower(n.text) {
	case "true":
		return true
	case "false":
		return false
	}
	t.r.wrongKind(n, t.sub(key), "job.kind_flag")
	return otherwise
}

// count reads a whole number from 0 to 1 000 000.
func (t *table) count(key string, otherwise int) int {
	n := t.take(key)
	if n == nil {
		return otherwise
	}
	v, err := strconv.Atoi(n.text)
	if err != nil || v < 0 || v > 1_000_000 {
		t.r.wrongKind(n, t.sub(key), "job.kind_count")
		return otherwise
	}
	return v
}

// number reads a bare figure without a unit.
func (t *table) number(key string, otherwise float64) float64 {
	n := t.take(key)
	if n == nil {
		return otherwise
	}
	v, err := strconv.ParseFloat(n.text, 64)
	if err != nil || v-v != 0 {
		t.r.wrongKind(n, t.sub(key), "job.kind_number")
		return otherwise
	}
	return v
}

// choice reads one of the words allowed and gives its index.
func (t *table) choice(key string, words []string, otherwise int) int {
	n := t.take(key)
	if n == nil {
		return otherwise
	}
	i := slices.Index(words, strings.ToLower(strings.TrimSpace(n.text)))
	if i < 0 {
		t.fail(key,
			phrase.New("job.not_a_choice", phrase.With("value", n.describe())),
			phrase.New("job.not_a_choice.remedy", phrase.With("allowed", strings.Join(words, ", "))))
		return otherwise
	}
	return i
}

// scalar is the text of a value that may be a number or a string.
func (t *table) scalar(key string, want phrase.Key) (string, bool) {
	n := t.take(key)
	if n == nil {
		return "", false
	}
	if n.kind != textNode && n.kind != numberNode {
		t.r.wrongKind(n, t.sub(key), want)
		return "", false
	}
	return n.text, true
}

// point reads [x, y] in job coordinates, reduced to the local origin.
func (t *table) point(key string) geom.Point {
	n := t.take(key)
	if n == nil {
		return geom.Point{}
	}
	return t.r.point(n, t.sub(key), t.comma)
}

func (r *reader) point(n *node, path string, comma bool) geom.Point {
	if n.kind != arrayNode || len(n.items) != 2 {
		r.wrongKind(n, path, "job.kind_point")
		return geom.Point{}
	}
	x := r.coordinate(n.items[0], path, comma)
	y := r.coordinate(n.items[1], path, comma)
	return r.origin.local(x, y)
}

// coordinate reads one plan coordinate in whole micrometres.
func (r *reader) coordinate(n *node, path string, comma bool) int64 {
	if n.kind != textNode && n.kind != numberNode {
		r.wrongKind(n, path, "job.kind_length")
		return 0
	}
	v, err := unit.Reader{Bare: r.plan, Comma: comma}.Coordinate(n.text)
	if err != nil {
		r.parseFault(r.src.of(n), path, err)
	}
	return v
}

// points reads [[x, y], …].
func (t *table) points(key string) []geom.Point {
	n := t.take(key)
	if n == nil {
		return nil
	}
	if n.kind != arrayNode {
		t.r.wrongKind(n, t.sub(key), "job.kind_points")
		return nil
	}
	out := make([]geom.Point, 0, len(n.items))
	for i, item := range n.items {
		out = append(out, t.r.point(item, t.sub(key)+"."+strconv.Itoa(i), t.comma))
	}
	return out
}

// corners reads a line or an outline of at least n places.
func (t *table) corners(key string, n int) []geom.Point {
	out := t.points(key)
	if t.has(key) && len(out) < n && t.r.fault == nil {
		t.fail(key, phrase.New("job.few_points", phrase.With("got", len(out)), phrase.With("count", n)),
			phrase.New("job.few_points.remedy", phrase.With("count", n)))
	}
	return out
}

// inner is the table of a key; absent gives a table without keys and false.
func (t *table) inner(key string) (*table, bool) {
	n := t.take(key)
	child := t.r.table(n, t.sub(key))
	child.comma = t.comma
	return child, n != nil
}

// list gives the tables of an array; one table alone will do.
func (t *table) list(key string) []*table {
	n := t.take(key)
	if n == nil {
		return nil
	}
	if n.kind == tableNode {
		return []*table{t.r.table(n, t.sub(key))}
	}
	if n.kind != arrayNode {
		t.r.wrongKind(n, t.sub(key), "job.kind_tables")
		return nil
	}
	out := make([]*table, 0, len(n.items))
	for i, item := range n.items {
		path := t.sub(key) + "." + strconv.Itoa(i)
		for _, name := range []string{"id", "tag"} {
			if id := item.get(name); id != nil {
				path = t.sub(key) + " " + id.text
			}
		}
		child := t.r.table(item, path)
		child.comma = t.comma
		out = append(out, child)
	}
	return out
}
