package phrase

import (
	"fmt"
	"strconv"
	"strings"

	"spadework/engine/unit"
)

// Language is a table of texts.
type Language string

// The languages spoken.
const (
	English Language = "en"
	Spanish Language = "es"
)

// Render is the message in a language and a style. A key without a text in the
// language falls back to English; one without any renders as the key itself,
// which a test forbids for keys in the code.
func (m Message) Render(lang Language, style unit.Style) string {
	if m.IsZero() {
		return ""
	}
	text, ok := lookup(lang, m)
	if !ok {
		return string(m.Key)
	}
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(text, "{")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		if rest == "" || !letter(rest[0]) { // a brace of its own, as in { key = value }
			b.WriteByte('{')
			text = rest
			continue
		}
		name, after, _ := strings.Cut(rest, "}")
		b.WriteString(m.value(name, lang, style))
		text = after
	}
}

func letter(c byte) bool { return c >= 'a' && c <= 'z' }

// value renders the argument of a placeholder: "name", "name:q" (quoted) or
// "name:or" (a list of which one holds).
func (m Message) value(placeholder string, lang Language, style unit.Style) string {
	name, form, _ := strings.Cut(placeholder, ":")
	v := m.arg(name)
	if items, ok := v.([]string); ok && form == "or" {
		return list(items, or, lang)
	}
	s := show(v, lang, style)
	if form == "q" {
		return quote(s)
	}
	return s
}

// quote sets a text in quotes, control characters escaped. A text that has the
// straight quote itself, as inches have, gets curly ones.
func quote(s string) string {
	q := strconv.Quote(s)
	if !strings.Contains(s, `"`) {
		return q
	}
	return "“" + strings.ReplaceAll(q[1:len(q)-1], `\"`, `"`) + "”"
}

// show renders one typed value.
func show(v any, lang Language, style unit.Style) string {
	switch v := v.(type) {
	case string:
		return v
	case int:
		return strconv.Itoa(v)
	case float64:
		return style.Number(v)
	case nil:
		return ""
	case Message:
		return v.Render(lang, style)
	case []string:
		return list(v, and, lang)
	case []Message:
		parts := make([]string, len(v))
		for i, m := range v {
			parts[i] = m.Render(lang, style)
		}
		return strings.Join(parts, " ")
	}
	if s, ok := quantity(v, style); ok {
		return s
	}
	return fmt.Sprint(v)
}

// quantity renders a unit quantity in its style.
func quantity(v any, style unit.Style) (string, bool) {
	switch v := v.(type) {
	case unit.Length:
		return style.Length(v), true
	case unit.Elevation:
		return style.Elevation(v), true
	case unit.Reading:
		return style.Reading(v), true
	case unit.Station:
		return style.Station(v), true
	case unit.Grade:
		return style.Grade(v), true
	case unit.Keyed:
		return style.Keyed(v), true
	case unit.Angle:
		return style.Angle(v), true
	case unit.Area:
		return style.Area(v), true
	case unit.Volume:
		return style.Volume(v), true
	case unit.Chance:
		return style.Chance(v), true
	case unit.Speed:
		return style.Speed(v), true
	case unit.Flow:
		return style.Flow(v), true
	case unit.Slope:
		return v.String(), true
	case unit.Batter:
		return v.Words, true
	}
	return "", false
}
