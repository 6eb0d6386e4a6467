package job

import (
	"strconv"
	"strings"
)

// follows says that a text follows a pattern in which 0 stands for a digit.
func follows(text, pattern string) bool {
	if len(text) != len(pattern) {
		return false
	}
	for i := range len(text) {
		if isDigit(text[i]) != (pattern[i] == '0') || pattern[i] != '0' && text[i] != pattern[i] {
			return false
		}
	}
	return true
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// allOf says that a text is not empty and has only bytes that are good.
func allOf(text string, good func(c byte) bool) bool {
	for i := range len(text) {
		if !good(text[i]) {
			return false
		}
	}
	return text != ""
}

// isPlainNumber says that TOML writes a number so without quotes.
func isPlainNumber(text string) bool {
	whole, part, broken := strings.Cut(strings.TrimPrefix(text, "-"), ".")
	return allOf(whole, isDigit) && (whole == "0" || whole[0] != '0') && (!broken || allOf(part, isDigit))
}

// isPlainTime says that TOML writes a time so without quotes.
func isPlainTime(text string) bool { return follows(text, "0000-00-00T00:00:00") }

// isPlainKey says that a key needs no quotes.
func isPlainKey(text string) bool {
	return allOf(text, func(c byte) bool {
		return isDigit(c) || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_' || c == '-'
	})
}

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
		if isPlainTime(v.Text) {
			return v.Text
		}
	case "", KindText, KindName, KindNames, KindID, KindRef, KindRefs, KindFile, KindChoice, KindHeaders, KindClock, KindClocks, KindTable, KindTables:
	default:
		if isPlainNumber(v.Text) {
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
	if isPlainKey(key) {
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
