package job

import (
	"regexp"
	"strconv"
	"strings"
)

// plainNumber is a number as TOML writes it without quotes.
var plainNumber = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]+)?$`)

// plainTime is a time as TOML writes it without quotes.
var plainTime = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}$`)

// plainKey is a key that needs no quotes.
var plainKey = regexp.MustCompile(`^[A-Za-z0-9_-]+$`)

// literal writes a value as TOML: whether a text stands in quotes is told by the
// kind of its key. A key that is not in the schema has its texts in quotes.
func literal(k Key, v Value) string {
	switch v.Shape {
	case ListShape:
		return listLiteral(k, v)
	case TableShape:
		return tableLiteral(k, v)
	}
	switch kind := k.scalarKind(); kind {
	case KindFlag, KindAnswer:
		if v.Text == "true" || v.Text == "false" {
			return v.Text
		}
	case KindDate:
		if isDate(v.Text) {
			return v.Text
		}
	case KindTime:
		if plainTime.MatchString(v.Text) {
			return v.Text
		}
	case "", KindText, KindName, KindNames, KindID, KindRef, KindRefs, KindFile, KindChoice, KindHeaders, KindClock, KindClocks, KindTable, KindTables:
	default:
		if plainNumber.MatchString(v.Text) {
			return v.Text
		}
	}
	return quoted(v.Text)
}

// scalarKind is the kind of a key's value where it is neither list nor table.
func (k Key) scalarKind() ValueKind {
	for _, f := range k.Forms {
		if f.Kind != KindTable && f.Kind != KindTables {
			return f.Kind
		}
	}
	return ""
}

// listLiteral writes a list; places and other figures in it are of the key's own
// kind.
func listLiteral(k Key, v Value) string {
	item := k
	if len(k.Forms) > 1 {
		item.Forms = k.Forms[1:] // bends = "none" or stations: the list is the later form
	}
	parts := make([]string, len(v.Items))
	for i, one := range v.Items {
		parts[i] = literal(item, one)
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

func tableLiteral(k Key, v Value) string {
	if len(v.Keys) == 0 {
		return "{}"
	}
	parts := make([]string, len(v.Keys))
	for i, one := range v.Keys {
		parts[i] = keyText(one.Key) + " = " + literal(k.under(one.Key), one.Value)
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

// under is a key of the table of a key.
func (k Key) under(name string) Key {
	if found, ok := findKey(k.Keys, []string{name}); ok {
		return found
	}
	return Key{Name: name}
}

func keyText(key string) string {
	if plainKey.MatchString(key) {
		return key
	}
	return quoted(key)
}

// quoted writes a text in the quotes that need no escapes, if there are such
// (TOML 1.0, strings).
func quoted(s string) string {
	control := strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r == 0x7f })
	if !control && strings.Contains(s, `"`) && !strings.Contains(s, "'") {
		return "'" + s + "'"
	}
	var out strings.Builder
	out.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			out.WriteByte('\\')
			out.WriteRune(r)
		case r == '\n':
			out.WriteString(`\n`)
		case r == '\t':
			out.WriteString(`\t`)
		case r < ' ' || r == 0x7f:
			hex := strconv.FormatInt(int64(r), 16)
			out.WriteString(`\u` + "0000"[len(hex):] + hex)
		default:
			out.WriteRune(r)
		}
	}
	out.WriteByte('"')
	return out.String()
}
