package record

import (
	"slices"
	"strconv"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// Word is one thing a person says of a record: dig=P1, reading=7'-1 1/2".
type Word struct{ Key, Text string }

// Composer makes payloads from what a person says, filling in from the plan and
// the log what they know.
type Composer struct {
	Plan  *plan.Plan
	State *State
	Now   Stamp
	Comma bool // the person's decimal mark
}

// Compose makes the payload of a kind. A tag is said by its name, figures in
// the units of the job, a record by its id.
func (c Composer) Compose(k Kind, words []Word) (Payload, *phrase.Fault) {
	w := &composing{Composer: c, kind: k, said: map[string]string{}, filled: map[string]value{}}
	for _, one := range words {
		w.said[wordKey(one.Key)] = one.Text
	}
	members := Members(k)
	for key := range w.said {
		if !slices.ContainsFunc(members, func(m Member) bool { return m.Key == key }) && !w.also(key) {
			return nil, phrase.NewFault(phrase.New("record.say_key", phrase.With("key", key), phrase.With("kind", string(k))),
				phrase.New("record.say_key.remedy", phrase.With("keys", w.keys(members))))
		}
	}
	w.fill()
	v := w.object(members)
	if w.fault != nil {
		return nil, w.fault
	}
	p := newPayload(k)
	f := fields{in: &v}
	p.walk(&f)
	return p, f.fault
}

// wordKey lets a dig be said as dig.
func wordKey(key string) string {
	if key == "dig" {
		return "excavation"
	}
	return key
}

// composing is one payload in the making; the first fault wins.
type composing struct {
	Composer
	kind   Kind
	said   map[string]string
	filled map[string]value
	fault  *phrase.Fault
}

// also says that a key may be said although the payload does not have it.
func (w *composing) also(key string) bool {
	return key == "tag" && slices.ContainsFunc(Members(w.kind), func(m Member) bool { return m.Key == "setup" }) ||
		key == "reading" && w.kind == KindCorrection
}

// keys lists what can be said of a kind.
func (w *composing) keys(members []Member) []string {
	var out []string
	for _, m := range members {
		switch {
		case m.Key == "setup":
			out = append(out, "tag")
		case m.Key == "excavation":
			out = append(out, "dig")
		case m.Type != "object" && (m.Type != "list" || m.Key == "records"):
			out = append(out, m.Key)
		}
	}
	return out
}

func (w *composing) fail(f *phrase.Fault) {
	if w.fault == nil && f != nil {
		w.fault = f
	}
}

// object gathers the members: what was said, else what was filled in, else the
// empty value.
func (w *composing) object(members []Member) value {
	var out object
	for _, m := range members {
		text, said := w.said[m.Key]
		v, filled := w.filled[m.Key]
		switch {
		case said:
			out.set(m.Key, w.read(m, text))
		case filled:
			out.set(m.Key, v)
		case m.Optional:
			out.set(m.Key, value{})
		case m.Type == "text":
			out.set(m.Key, textOf(""))
		case m.Type == "flag":
			out.set(m.Key, value{kind: boolValue})
		case m.Type == "list":
			out.set(m.Key, value{kind: listValue})
		case m.Key == "amount":
			out.set(m.Key, numberOf(0))
		}
	}
	return out.value()
}

// plainNumbers are members that are figures without a length's unit.
var plainNumbers = []string{"hours", "before", "after", "temperature", "size"}

// read turns a text into a member's value.
func (w *composing) read(m Member, text string) value {
	switch m.Type {
	case "flag":
		return value{kind: boolValue, flag: slices.Contains([]string{"yes", "true", "sí", "si"}, strings.ToLower(text))}
	case "number":
		return w.number(m.Key, text)
	case "list":
		if m.Key == "at" {
			return w.readPlace(text)
		}
		ids := strings.Split(text, ",")
		slices.Sort(ids)
		out := value{kind: listValue}
		for _, id := range ids {
			out.list = append(out.list, textOf(strings.TrimSpace(id)))
		}
		return out
	}
	if call, ok := callWords[strings.ToLower(text)]; ok && m.Key == "call" {
		text = string(call)
	}
	return textOf(text)
}

// readPlace reads job coordinates: 90; 30.
func (w *composing) readPlace(text string) value {
	units := unit.Reader{Bare: w.Plan.Job.Coordinates, Comma: w.Comma}
	east, north, _ := strings.Cut(text, ";")
	out := value{kind: listValue}
	for _, one := range []string{east, north} {
		v, err := units.Length(strings.TrimSpace(one))
		w.parse(err)
		out.list = append(out.list, numberOf(float64(v)))
	}
	return out
}

func (w *composing) number(key, text string) value {
	if slices.Contains(plainNumbers, key) {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			w.fail(fault("record.want_number", phrase.With("key", key)))
		}
		return numberOf(v)
	}
	units := unit.Reader{Bare: w.Plan.Job.Units, Comma: w.Comma}
	if key == "station" {
		v, err := units.Station(text)
		w.parse(err)
		return numberOf(float64(v))
	}
	v, err := units.Length(text)
	w.parse(err)
	return numberOf(float64(v))
}

func (w *composing) parse(err error) {
	if err != nil {
		w.fail(phrase.ParseFault(err))
	}
}
