package plan

import (
	"math"
	"strconv"
	"strings"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// encoder appends JSON. It writes floats in the fewest digits that give them
// back (strconv 'g' −1), NaN and infinities as null, and keys in the order
// called, so that the same plan gives the same bytes.
type encoder struct {
	b     []byte
	first bool // nothing stands yet in the open object or list
}

func (e *encoder) comma() {
	if !e.first {
		e.b = append(e.b, ',')
	}
	e.first = false
}

// object writes { … } with what fill writes into it.
func (e *encoder) object(fill func()) { e.group('{', '}', fill) }

// list writes [ … ].
func (e *encoder) list(fill func()) { e.group('[', ']', fill) }

func (e *encoder) group(open, end byte, fill func()) {
	e.b = append(e.b, open)
	e.first = true
	fill()
	e.b = append(e.b, end)
	e.first = false
}

// key writes "name": after a comma where one is due.
func (e *encoder) key(name string) {
	e.comma()
	e.b = append(e.b, '"')
	e.b = append(e.b, name...)
	e.b = append(e.b, '"', ':')
}

// item begins the next item of a list.
func (e *encoder) item() { e.comma() }

func (e *encoder) text(name, s string) {
	e.key(name)
	e.string(s)
}

// textOrNull writes "" as null: not known.
func (e *encoder) textOrNull(name, s string) {
	if s == "" {
		e.null(name)
		return
	}
	e.text(name, s)
}

const hexDigits = "0123456789abcdef"

// string writes a string with what JSON wants escaped (RFC 8259, section 7).
func (e *encoder) string(s string) {
	e.b = append(e.b, '"')
	if strings.IndexFunc(s, func(r rune) bool { return r == '"' || r == '\\' || r < 0x20 }) < 0 {
		e.b = append(append(e.b, s...), '"')
		return
	}
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '"' || c == '\\':
			e.b = append(e.b, '\\', c)
		case c < 0x20:
			e.b = append(e.b, '\\', 'u', '0', '0', hexDigits[c>>4], hexDigits[c&15])
		default:
			e.b = append(e.b, c)
		}
	}
	e.b = append(e.b, '"')
}

func (e *encoder) number(name string, f float64) {
	e.key(name)
	e.float(f)
}

func (e *encoder) float(f float64) {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		e.b = append(e.b, "null"...)
		return
	}
	if f == 0 {
		f = 0 // a minus sign on zero says nothing
	}
	e.b = strconv.AppendFloat(e.b, f, 'g', -1, 64)
}

func (e *encoder) whole(name string, n int) {
	e.key(name)
	e.b = strconv.AppendInt(e.b, int64(n), 10)
}

func (e *encoder) flag(name string, v bool) {
	e.key(name)
	e.b = strconv.AppendBool(e.b, v)
}

func (e *encoder) null(names ...string) {
	for _, name := range names {
		e.key(name)
		e.b = append(e.b, "null"...)
	}
}

func (e *encoder) pair(name string, x, y float64) {
	e.key(name)
	e.list(func() {
		e.item()
		e.float(x)
		e.item()
		e.float(y)
	})
}

func (e *encoder) point(name string, p geom.Point) { e.pair(name, p.X, p.Y) }

func (e *encoder) message(name string, m phrase.Message) {
	e.key(name)
	e.b = m.AppendJSON(e.b)
}

// optional writes a quantity or null.
func optional[T ~float64](e *encoder, name string, v *T) {
	if v == nil {
		e.null(name)
		return
	}
	e.number(name, float64(*v))
}

// array writes a list of objects.
func array[T any](e *encoder, name string, items []T, one func(T)) {
	e.key(name)
	e.list(func() {
		for _, it := range items {
			e.item()
			e.object(func() { one(it) })
		}
	})
}
