package job

// Value is a value of the document as a form holds it: a text as written, a list
// or a table with its keys in order.
type Value struct {
	Text  string
	Items []Value    // of a list
	Keys  []KeyValue // of a table
	Shape Shape
}

// Shape is what a value is made of.
type Shape uint8

// The shapes.
const (
	ScalarShape Shape = iota
	ListShape
	TableShape
)

// KeyValue is a key of a table with its value.
type KeyValue struct {
	Key   string
	Value Value
}

// Get is the value of a key, and whether the table has it.
func (v Value) Get(key string) (Value, bool) {
	for _, k := range v.Keys {
		if k.Key == key {
			return k.Value, true
		}
	}
	return Value{}, false
}

// Name is the id or tag of a table, "" where it has none.
func (v Value) Name() string {
	for _, key := range []string{"id", "tag"} {
		if id, ok := v.Get(key); ok {
			return id.Text
		}
	}
	return ""
}

// Equal says that two values are written alike; the order of keys does not count.
func (v Value) Equal(w Value) bool {
	if v.Shape != w.Shape || v.Text != w.Text || len(v.Items) != len(w.Items) || len(v.Keys) != len(w.Keys) {
		return false
	}
	for i := range v.Items {
		if !v.Items[i].Equal(w.Items[i]) {
			return false
		}
	}
	for _, k := range v.Keys {
		if other, ok := w.Get(k.Key); !ok || !k.Value.Equal(other) {
			return false
		}
	}
	return true
}

// Values is the whole document as a table. A table of the document that may be
// given several times is a list, however it is written.
func (doc *Document) Values() Value {
	out := valueOf(doc.tree)
	for i, k := range out.Keys {
		if isList(k.Key) && k.Value.Shape == TableShape {
			out.Keys[i].Value = Value{Shape: ListShape, Items: []Value{k.Value}}
		}
	}
	return out
}

// isList says that a table of the document may be given several times.
func isList(table string) bool {
	k, ok := SchemaKey(table)
	_, list := k.Form(KindTables)
	return ok && list
}

func valueOf(n *node) Value {
	switch n.kind {
	case tableNode:
		out := Value{Shape: TableShape}
		for _, e := range n.keys {
			out.Keys = append(out.Keys, KeyValue{e.name, valueOf(e.value)})
		}
		return out
	case arrayNode:
		out := Value{Shape: ListShape}
		for _, item := range n.items {
			out.Items = append(out.Items, valueOf(item))
		}
		return out
	}
	return Value{Text: n.text}
}
