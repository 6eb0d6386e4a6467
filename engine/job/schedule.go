package job

import (
	"slices"

	"spadework/engine/phrase"
)

// scheduleColumns are the columns a schedule of digs may have.
var scheduleColumns = []string{
	"id", "kind", "words", "x", "y", "x1", "y1", "x2", "y2", "width", "length", "bearing",
	"elevation", "below", "datum", "from", "top", "thickness", "cover", "blinding", "bedding",
	"subbase", "working", "above", "below_tolerance", "soil", "concrete", "material",
}

// schedule reads [[schedule]]: a table of digs, with the keys that all rows
// share beside it. Every row becomes an excavation as if written by hand, so
// that both obey the same rules.
func (d *decoder) schedule(t *table) {
	name := t.text("file")
	if !t.need("file") {
		return
	}
	mapping := d.mapping(t, scheduleColumns)
	rows := d.rows(t, "file", name)
	if rows == nil {
		return
	}
	c, fault := FindColumns(rows, scheduleColumns, mapping)
	if fault == nil {
		fault = c.Need(rows, "id")
	}
	if fault != nil {
		d.keep(fault)
		return
	}
	shared := d.sharedKeys(t)
	d.job.Excavations = slices.Grow(d.job.Excavations, len(rows.Rows))
	for _, row := range rows.Rows {
		if d.fault != nil {
			return
		}
		n := rowNode(rows, c, row)
		n.adopt(shared)
		x := &table{r: t.r, n: n, path: "excavation " + n.name("id"), comma: rows.DecimalComma}
		d.job.Excavations = append(d.job.Excavations, d.excavation(x))
	}
}

// sharedKeys are the keys of [[schedule]] that go to every row.
func (d *decoder) sharedKeys(t *table) []entry {
	var out []entry
	for _, e := range t.n.keys {
		if e.name == "file" || e.name == "columns" || e.name == "ignore" {
			continue
		}
		t.take(e.name)
		out = append(out, e)
	}
	return out
}

// adopt adds shared keys the row lacks; tables are adopted key by key.
func (n *node) adopt(shared []entry) {
	for _, e := range shared {
		own := n.get(e.name)
		switch {
		case own == nil:
			n.keys = append(n.keys, entry{e.name, e.value.copy(), e.offset})
		case own.kind == tableNode && e.value.kind == tableNode:
			own.adopt(e.value.keys)
			own.implyFrom(e.value.keys)
		}
	}
}

// implyFrom marks what came from the shared keys: a row that gives its bottom in
// another way than the schedule need not use them.
func (n *node) implyFrom(shared []entry) {
	for _, e := range shared {
		if v := n.get(e.name); v != nil && v.cell == nil {
			v.implied = true
		}
	}
}

// copy is the node with a list of keys of its own, all the way down.
func (n *node) copy() *node {
	out := *n
	out.keys = nil
	for _, e := range n.keys {
		out.keys = append(out.keys, entry{e.name, e.value.copy(), e.offset})
	}
	return &out
}

// rowNode is a row as the table of an excavation.
func rowNode(rows *Rows, c Columns, row []Cell) *node {
	b := rowBuilder{rows: rows, c: c, row: row, n: &node{cell: placeOf(rows, row[0])}}
	for _, key := range []string{"id", "kind", "words", "bearing", "blinding", "bedding", "subbase", "soil", "concrete", "material"} {
		b.put(b.n, key, key)
	}
	b.put(b.table("bottom"), "elevation", "elevation")
	for _, key := range []string{"below", "datum", "from", "top", "thickness", "cover"} {
		b.put(b.table("bottom"), key, key)
	}
	b.put(b.table("tolerance"), "above", "above")
	b.put(b.table("tolerance"), "below", "below_tolerance")
	b.put(b.table("sides_at"), "working", "working")
	b.place()
	b.n.dropEmpty()
	return b.n
}

// rowBuilder gathers the cells of a row.
type rowBuilder struct {
	rows *Rows
	c    Columns
	row  []Cell
	n    *node
}

func placeOf(rows *Rows, c Cell) *phrase.Place {
	at := rows.place(c)
	return &at
}

// value is a cell as a node, nil if it is empty.
func (b *rowBuilder) value(column string) *node {
	cell := b.c.Cell(b.row, column)
	if cell.Text == "" {
		return nil
	}
	return &node{kind: textNode, text: cell.Text, cell: placeOf(b.rows, cell)}
}

// put adds a cell under a key.
func (b *rowBuilder) put(n *node, key, column string) {
	if v := b.value(column); v != nil {
		n.keys = append(n.keys, entry{name: key, value: v})
	}
}

// table is the inner table of a key, made if need be.
func (b *rowBuilder) table(key string) *node {
	if n := b.n.get(key); n != nil {
		return n
	}
	n := &node{cell: b.n.cell}
	b.n.keys = append(b.n.keys, entry{name: key, value: n})
	return n
}

// list adds the cells of columns as a list, if any is given.
func (b *rowBuilder) list(columns ...string) *node {
	n := &node{kind: arrayNode, cell: b.n.cell}
	for _, column := range columns {
		if v := b.value(column); v != nil {
			n.items = append(n.items, v)
		}
	}
	if len(n.items) == 0 {
		return nil
	}
	n.cell = n.items[0].cell
	return n
}

// place adds at and size, or line and width.
func (b *rowBuilder) place() {
	add := func(key string, n *node) {
		if n != nil {
			b.n.keys = append(b.n.keys, entry{name: key, value: n})
		}
	}
	add("at", b.list("x", "y"))
	from, to := b.list("x1", "y1"), b.list("x2", "y2")
	if from == nil || to == nil {
		add("size", b.size())
		return
	}
	add("line", &node{kind: arrayNode, items: []*node{from, to}, cell: from.cell})
	b.put(b.n, "width", "width")
}

// size is [width, length], or one figure for a square.
func (b *rowBuilder) size() *node {
	pair := b.list("width", "length")
	if pair != nil && len(pair.items) == 1 {
		return pair.items[0]
	}
	return pair
}

// dropEmpty takes out inner tables that no cell filled.
func (n *node) dropEmpty() {
	kept := n.keys[:0]
	for _, e := range n.keys {
		if e.value.kind != tableNode || len(e.value.keys) > 0 {
			kept = append(kept, e)
		}
	}
	n.keys = kept
}
