package job

import (
	"errors"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"spadework/engine/phrase"
)

// nodeKind is what a node of the document is.
type nodeKind uint8

const (
	tableNode nodeKind = iota
	arrayNode          // of values, or of [[tables]]
	textNode           // a string
	numberNode
	boolNode
	dateNode
)

// node is one value of the job document with its place. A number keeps its
// digits as written, so that the decimal figure is read exactly and only once.
type node struct {
	kind    nodeKind
	tables  bool // an array made by [[name]] headers
	closed  bool // an inline table or a table already named by its header
	text    string
	keys    []entry
	items   []*node
	offset  int // byte offset in the document
	cell    *phrase.Place
	implied bool // given by the defaults of a schedule, not by the row
}

// entry is a key of a table in the order written.
type entry struct {
	name   string
	value  *node
	offset int
}

// get finds the value of a key, nil if the table has none.
func (n *node) get(name string) *node {
	if n == nil {
		return nil
	}
	for i := range n.keys {
		if n.keys[i].name == name {
			return n.keys[i].value
		}
	}
	return nil
}

// source is the text of a document and where its lines begin.
type source struct {
	file  string
	data  []byte
	lines []int
}

func newSource(file string, data []byte) *source {
	s := &source{file: file, data: data, lines: []int{0}}
	for i, c := range data {
		if c == '\n' {
			s.lines = append(s.lines, i+1)
		}
	}
	return s
}

// place is the line and column of a byte offset.
func (s *source) place(offset int) phrase.Place {
	line := sort.SearchInts(s.lines, offset+1)
	start := s.lines[line-1]
	column := utf8.RuneCount(s.data[start:min(offset, len(s.data))]) + 1
	return phrase.Place{File: s.file, Line: line, Column: column}
}

// of is the place of a node.
func (s *source) of(n *node) phrase.Place {
	if n.cell != nil {
		return *n.cell
	}
	return s.place(n.offset)
}

// grower builds the tree of a document expression by expression.
type grower struct {
	src    *source
	parser unstable.Parser
	root   *node
	table  *node // the table of the last header
	fault  *phrase.Fault
}

// parseTree reads a TOML document into nodes with places. Keys or tables given
// twice are faults.
func parseTree(src *source) (*node, *phrase.Fault) {
	g := &grower{src: src, root: &node{}}
	g.table = g.root
	if i := invalidUTF8(src.data); i >= 0 {
		return nil, syntaxFault("job.toml_utf8", src.place(i), "")
	}
	g.parser.Reset(src.data)
	for g.fault == nil && g.parser.NextExpression() {
		g.expression(g.parser.Expression())
	}
	if g.fault != nil {
		return nil, g.fault
	}
	if err := g.parser.Error(); err != nil {
		return nil, g.syntax(err)
	}
	return g.root, nil
}

// invalidUTF8 is the offset of the first byte that is not UTF-8, or -1.
func invalidUTF8(data []byte) int {
	if utf8.Valid(data) {
		return -1
	}
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

func (g *grower) expression(e *unstable.Node) {
	switch e.Kind {
	case unstable.Table:
		g.header(e, false)
	case unstable.ArrayTable:
		g.header(e, true)
	case unstable.KeyValue:
		g.keyValue(g.table, e)
	}
}

// header opens [a.b] or [[a.b]].
func (g *grower) header(e *unstable.Node, array bool) {
	at := g.root
	it := e.Key()
	for it.Next() {
		k := it.Node()
		name, offset := string(k.Data), int(k.Raw.Offset)
		if !it.IsLast() {
			at = g.descend(at, name, offset)
		} else if array {
			at = g.openArray(at, name, offset)
		} else {
			at = g.openTable(at, name, offset)
		}
		if g.fault != nil {
			return
		}
	}
	g.table = at
}

// descend steps into a table on the way of a dotted key, making it if need be.
func (g *grower) descend(at *node, name string, offset int) *node {
	child := at.get(name)
	switch {
	case child == nil:
		child = &node{offset: offset}
		at.keys = append(at.keys, entry{name, child, offset})
	case child.kind == arrayNode && child.tables:
		child = child.items[len(child.items)-1]
	case child.kind != tableNode || child.closed && child.tables:
		g.twice(name, offset, child)
	}
	return child
}

func (g *grower) openTable(at *node, name string, offset int) *node {
	child := at.get(name)
	if child == nil {
		child = &node{offset: offset}
		at.keys = append(at.keys, entry{name, child, offset})
	} else if child.kind != tableNode || child.closed {
		g.twice(name, offset, child)
	}
	child.closed = true
	return child
}

func (g *grower) openArray(at *node, name string, offset int) *node {
	list := at.get(name)
	if list == nil {
		list = &node{kind: arrayNode, tables: true, offset: offset}
		at.keys = append(at.keys, entry{name, list, offset})
	} else if !list.tables {
		g.twice(name, offset, list)
		return at
	}
	child := &node{offset: offset, closed: true}
	list.items = append(list.items, child)
	return child
}

// keyValue adds a.b = value to a table.
func (g *grower) keyValue(at *node, e *unstable.Node) {
	it := e.Key()
	for it.Next() {
		k := it.Node()
		name, offset := string(k.Data), int(k.Raw.Offset)
		if !it.IsLast() {
			at = g.descend(at, name, offset)
			if g.fault != nil {
				return
			}
			continue
		}
		if old := at.get(name); old != nil {
			g.twice(name, offset, old)
			return
		}
		at.keys = append(at.keys, entry{name, g.value(e.Value(), offset), offset})
	}
}

// value turns a value of the parser into a node; keyOffset places what the
// parser gives no place.
func (g *grower) value(v *unstable.Node, keyOffset int) *node {
	n := &node{offset: int(v.Raw.Offset)}
	if v.Raw.Length == 0 {
		n.offset = keyOffset
	}
	switch v.Kind {
	case unstable.String:
		n.kind, n.text = textNode, string(v.Data)
	case unstable.Integer, unstable.Float:
		n.kind, n.text = numberNode, strings.ReplaceAll(string(v.Data), "_", "")
	case unstable.Bool:
		n.kind, n.text = boolNode, string(v.Data)
	case unstable.Array:
		n.kind = arrayNode
		for it := v.Children(); it.Next(); {
			n.items = append(n.items, g.value(it.Node(), keyOffset))
		}
	case unstable.InlineTable:
		n.closed, n.tables = true, true
		for it := v.Children(); it.Next(); {
			g.keyValue(n, it.Node())
		}
	default:
		n.kind, n.text = dateNode, string(v.Data)
	}
	return n
}

// twice faults a key or table that the document already has.
func (g *grower) twice(name string, offset int, old *node) {
	if g.fault != nil {
		return
	}
	f := phrase.NewFault(
		phrase.New("job.key_twice", phrase.With("key", name), phrase.With("line", g.src.of(old).Line)),
		phrase.New("job.key_twice.remedy", phrase.With("key", name)))
	f.Code = phrase.Conflict
	g.fault = f.At(g.src.place(offset))
}

// syntaxTexts sorts the parser's messages, which are written for programmers,
// into the few things a person can get wrong.
var syntaxTexts = []struct{ part, key string }{
	{"strings must be quoted", "job.toml_unquoted"},
	{"at start of value", "job.toml_unquoted"},
	{"expected keyword", "job.toml_unquoted"},
	{"string", "job.toml_string"},
	{"escape", "job.toml_string"},
	{"'='", "job.toml_equals"},
	{"expected value", "job.toml_value"},
	{"table name", "job.toml_header"},
	{"key", "job.toml_key"},
	{"inline table", "job.toml_inline"},
	{"array", "job.toml_array"},
	{"digit", "job.toml_number"},
	{"number", "job.toml_number"},
	{"zero", "job.toml_number"},
	{"exponent", "job.toml_number"},
	{"newline", "job.toml_rest"},
}

// syntax rewords an error of the parser.
func (g *grower) syntax(err error) *phrase.Fault {
	var pe *unstable.ParserError
	if !errors.As(err, &pe) {
		return syntaxFault("job.toml_other", phrase.Place{File: g.src.file}, "")
	}
	offset := int(g.parser.Range(pe.Highlight).Offset)
	line := g.lineAt(offset)
	if hasInchMark(line) {
		return syntaxFault("job.toml_inches", g.src.place(offset), line)
	}
	return syntaxFault(syntaxKey(pe.Message), g.src.place(offset), line)
}

// hasInchMark says that an inch mark closes a quote: "3'-4"".
func hasInchMark(line string) bool {
	for rest := line; ; {
		i := strings.Index(rest, `""`)
		if i < 0 {
			return false
		}
		if i > 0 && '0' <= rest[i-1] && rest[i-1] <= '9' {
			return true
		}
		rest = rest[i+1:]
	}
}

func syntaxKey(message string) string {
	i := slices.IndexFunc(syntaxTexts, func(t struct{ part, key string }) bool {
		return strings.Contains(message, t.part)
	})
	if i < 0 {
		return "job.toml_other"
	}
	return syntaxTexts[i].key
}

// lineAt is the text of the line around an offset, for the message.
func (g *grower) lineAt(offset int) string {
	start := g.src.lines[g.src.place(offset).Line-1]
	line, _, _ := strings.Cut(string(g.src.data[start:]), "\n")
	line = strings.TrimSpace(line)
	if runes := []rune(line); len(runes) > 60 {
		line = string(runes[:57]) + "..."
	}
	return line
}

func syntaxFault(key string, at phrase.Place, line string) *phrase.Fault {
	return phrase.NewFault(
		phrase.New(phrase.Key(key), phrase.With("line", line)),
		phrase.New(phrase.Key(key+".remedy"))).At(at)
}
