package record

import (
	"math"
	"slices"
	"unicode/utf8"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Bounds of what a field may hold.
const (
	maxName  = 80        // characters of a name or an id of the job
	maxText  = 4000      // characters of words
	maxSize  = 1e7       // metres: over any coordinate or elevation on earth
	maxWhole = 1<<53 - 1 // whole numbers that a float64 holds (RFC 7493, 2.2)
)

// fields walks the members of an object one by one, writing them where in is
// nil, else reading them. One walk tells both, so that what is written is what
// is read. Every member is present, null where it is not known.
type fields struct {
	in    *value
	used  int
	out   object
	path  string
	list  *[]Member // gathers what is asked for; nothing is read then
	fault *phrase.Fault
}

// fail notes the first fault, at a member.
func (f *fields) fail(key string, rule phrase.Key, args ...phrase.Arg) {
	if f.fault == nil && f.list == nil {
		f.fault = fault(rule, append([]phrase.Arg{phrase.With("key", key)}, args...)...)
		f.fault.Place.Path = f.path + key
	}
}

// put writes a member; a walk that reads writes nothing.
func (f *fields) put(key string, v value) {
	if f.in == nil {
		f.out.set(key, v)
	}
}

// member takes a member to read.
func (f *fields) member(key string, kind valueKind, optional bool) (value, bool) {
	if f.list != nil {
		*f.list = append(*f.list, Member{key, typeName(kind), optional})
		return value{}, false
	}
	i, ok := slices.BinarySearchFunc(f.in.keys, key, func(a, b string) int {
		switch {
		case a == b:
			return 0
		case lessText(a, b):
			return -1
		}
		return 1
	})
	if !ok {
		f.fail(key, "record.no_key")
		return value{}, false
	}
	f.used++
	v := f.in.list[i]
	if v.kind == nullValue && optional {
		return v, false
	}
	if v.kind != kind {
		f.fail(key, kindRule(kind))
		return value{}, false
	}
	return v, true
}

// kindRule is what a member of a kind must be.
func kindRule(kind valueKind) phrase.Key {
	return [...]phrase.Key{"record.want_null", "record.want_flag", "record.want_number",
		"record.want_text", "record.want_list", "record.want_object"}[kind]
}

// done faults members that nobody asked for. It ends a walk.
func (f *fields) done(known func(key string) bool) {
	if f.in == nil || f.fault != nil || f.used == len(f.in.keys) {
		return
	}
	for _, key := range f.in.keys {
		if !known(key) {
			f.fail(key, "record.unknown_key")
			return
		}
	}
}

// words is a text that may be long; may it be empty?
func (f *fields) words(key string, p *string, empty bool) { f.textField(key, p, maxText, empty) }

// name is a short text that must not be empty.
func (f *fields) name(key string, p *string) { f.textField(key, p, maxName, false) }

// maybe is a short text, null where it is "".
func (f *fields) maybe(key string, p *string) {
	if f.in == nil && *p == "" {
		f.put(key, value{})
		return
	}
	if f.in != nil {
		if _, ok := f.member(key, textValue, true); !ok {
			return
		}
		f.used--
	}
	f.name(key, p)
}

func (f *fields) textField(key string, p *string, most int, empty bool) {
	if f.in != nil {
		v, ok := f.member(key, textValue, false)
		if !ok {
			return
		}
		*p = v.text
	}
	switch {
	case *p == "" && !empty:
		f.fail(key, "record.empty_text")
	case utf8.RuneCountInString(*p) > most:
		f.fail(key, "record.long_text", phrase.With("count", utf8.RuneCountInString(*p)), phrase.With("limit", most))
	case !plain(*p, most == maxText):
		f.fail(key, "record.control_text")
	}
	f.put(key, textOf(*p))
}

// plain says that a text is UTF-8 without controls; words may have lines.
func plain(s string, lines bool) bool {
	for _, r := range s {
		if r == utf8.RuneError || r < ' ' && (!lines || r != '\n') || r == 0x7f {
			return false
		}
	}
	return utf8.ValidString(s)
}

// choice is one of some words.
func (f *fields) choice(key string, p *string, words []string) {
	if f.in != nil {
		v, ok := f.member(key, textValue, false)
		if !ok {
			return
		}
		*p = v.text
	}
	if !slices.Contains(words, *p) {
		f.fail(key, "record.choice", quoted(*p), phrase.With("words", words))
	}
	f.put(key, textOf(*p))
}

func (f *fields) flag(key string, p *bool) {
	if f.in != nil {
		v, ok := f.member(key, boolValue, false)
		if ok {
			*p = v.flag
		}
		return
	}
	f.put(key, value{kind: boolValue, flag: *p})
}

// number is a figure within bounds.
func (f *fields) number(key string, written, least, most float64) (float64, bool) {
	v := written
	if f.in != nil {
		m, ok := f.member(key, numberValue, false)
		if !ok {
			return 0, false
		}
		v = m.num
	}
	if !(v >= least && v <= most) {
		f.fail(key, "record.bounds", quoted(v), phrase.With("least", least), phrase.With("most", most))
		return 0, false
	}
	f.put(key, numberOf(v))
	return v, true
}

// whole is a whole number of least or more.
func (f *fields) whole(key string, p *int64, least int64) {
	v, ok := f.number(key, float64(*p), float64(least), maxWhole)
	if ok && v != math.Trunc(v) {
		f.fail(key, "record.whole", quoted(v))
		return
	}
	if f.in != nil {
		*p = int64(v)
	}
}

// size is a quantity in metres.
func size[T ~float64](f *fields, key string, p *T) { figure(f, key, p, -maxSize, maxSize) }

// figure is a quantity within bounds.
func figure[T ~float64](f *fields, key string, p *T, least, most float64) {
	v, _ := f.number(key, float64(*p), least, most)
	if f.in != nil {
		*p = T(v)
	}
}

// known is a quantity, null where the pointer is nil.
func known[T ~float64](f *fields, key string, p **T) { knownFigure(f, key, p, -maxSize, maxSize) }

func knownFigure[T ~float64](f *fields, key string, p **T, least, most float64) {
	if f.in != nil {
		if _, ok := f.member(key, numberValue, true); !ok {
			return
		}
		f.used--
		*p = new(T)
	} else if *p == nil {
		f.put(key, value{})
		return
	}
	figure(f, key, *p, least, most)
}

// id is the id of another record.
func (f *fields) id(key string, p *ID) {
	text := p.String()
	f.name(key, &text)
	if f.in != nil && f.fault == nil && !p.read(text) {
		f.fail(key, "record.id", quoted(text))
	}
}

// maybeID is an id, null where it is zero.
func (f *fields) maybeID(key string, p *ID) {
	text := ""
	if !p.IsZero() {
		text = p.String()
	}
	f.maybe(key, &text)
	if f.in != nil && f.fault == nil && text != "" && !p.read(text) {
		f.fail(key, "record.id", quoted(text))
	}
}

// place is [x, y] in metres, null where the pointer is nil.
func (f *fields) place(key string, p **[2]unit.Length) {
	if f.in == nil {
		if *p == nil {
			f.put(key, value{})
			return
		}
		for _, v := range *p {
			if !(math.Abs(float64(v)) <= maxSize) {
				f.fail(key, "record.want_place")
			}
		}
		f.put(key, value{kind: listValue, list: []value{numberOf(float64((*p)[0])), numberOf(float64((*p)[1]))}})
		return
	}
	v, ok := f.member(key, listValue, true)
	if !ok {
		return
	}
	out := [2]unit.Length{}
	for i, m := range v.list {
		if i >= len(out) || m.kind != numberValue || !(math.Abs(m.num) <= maxSize) {
			f.fail(key, "record.want_place")
			return
		}
		out[i] = unit.Length(m.num)
	}
	if len(v.list) != len(out) {
		f.fail(key, "record.want_place")
	}
	*p = &out
}

// part walks an object inside; absent says that there is none to write, and
// reading null leaves it alone.
func (f *fields) part(key string, absent bool, walk func(*fields)) {
	if f.in == nil && absent {
		f.put(key, value{})
		return
	}
	f.walkInside(key, true, walk)
}

// inner walks an object that must be there.
func (f *fields) inner(key string, walk func(*fields)) { f.walkInside(key, false, walk) }

func (f *fields) walkInside(key string, optional bool, walk func(*fields)) {
	if f.in != nil {
		if v, ok := f.member(key, objectValue, optional); ok {
			f.inside(v, key, walk)
		}
		return
	}
	in := fields{path: f.path + key + "."}
	walk(&in)
	f.adopt(&in)
	f.put(key, in.out.value())
}

// inside reads an object.
func (f *fields) inside(v value, key string, walk func(*fields)) {
	in := fields{in: &v, path: f.path + key + "."}
	walk(&in)
	in.end(walk)
	f.adopt(&in)
}

// end faults unknown keys: those that a walk that writes does not come by.
func (f *fields) end(walk func(*fields)) {
	f.done(func(key string) bool {
		probe := fields{}
		walk(&probe)
		return slices.Contains(probe.out.keys, key)
	})
}

func (f *fields) adopt(in *fields) {
	if f.fault == nil {
		f.fault = in.fault
	}
}

// rows walks a list of objects.
func rows[T any](f *fields, key string, p *[]T, walk func(*fields, *T)) {
	if f.in == nil {
		list := value{kind: listValue}
		for i := range *p {
			in := fields{path: f.path + key + "."}
			walk(&in, &(*p)[i])
			f.adopt(&in)
			list.list = append(list.list, in.out.value())
		}
		f.put(key, list)
		return
	}
	v, ok := f.member(key, listValue, false)
	if !ok {
		return
	}
	for _, m := range v.list {
		if m.kind != objectValue {
			f.fail(key, "record.want_object")
			return
		}
		var row T
		f.inside(m, key, func(in *fields) { walk(in, &row) })
		*p = append(*p, row)
	}
}

// ids walks a list of ids that must be in order, each once.
func (f *fields) ids(key string, p *[]ID) {
	list := value{kind: listValue}
	if f.in != nil {
		v, ok := f.member(key, listValue, false)
		if !ok {
			return
		}
		for _, m := range v.list {
			var id ID
			if m.kind != textValue || !id.read(m.text) {
				f.fail(key, "record.id", quoted(m.text))
				return
			}
			*p = append(*p, id)
		}
	}
	for i, id := range *p {
		if i > 0 && id.Compare((*p)[i-1]) <= 0 {
			f.fail(key, "record.id_order", quoted(id.String()))
		}
		list.list = append(list.list, textOf(id.String()))
	}
	if len(*p) > maxCauses {
		f.fail(key, "record.many_causes", phrase.With("count", len(*p)), phrase.With("limit", maxCauses))
	}
	f.put(key, list)
}

// stamp is a time with its offset.
func (f *fields) stamp(key string, p *Stamp) {
	text := ""
	if f.in == nil && p.valid() {
		text = p.String()
	}
	f.textField(key, &text, maxName, true)
	t, ok := ParseStamp(text)
	if !ok {
		f.fail(key, "record.time", quoted(text))
	}
	if f.in != nil {
		*p = t
	}
}

// quoted quotes what was read.
func quoted(v any) phrase.Arg { return phrase.With("value", v) }
