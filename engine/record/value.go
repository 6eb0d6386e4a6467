package record

import "spadework/engine/phrase"

// valueKind is what a JSON value is.
type valueKind uint8

const (
	nullValue valueKind = iota
	boolValue
	numberValue
	textValue
	listValue
	objectValue
)

// value is a JSON value. The keys of an object are in canonical order.
type value struct {
	kind valueKind
	flag bool
	num  float64
	text string
	list []value  // of a list, or the members of an object
	keys []string // of an object
}

func textOf(s string) value    { return value{kind: textValue, text: s} }
func numberOf(v float64) value { return value{kind: numberValue, num: v} }

// object gathers members in any order; value puts them in order.
type object struct {
	keys []string
	list []value
}

func (o *object) set(key string, v value) {
	if o.keys == nil {
		o.keys, o.list = make([]string, 0, 20), make([]value, 0, 20) // a shot has 18
	}
	o.keys, o.list = append(o.keys, key), append(o.list, v)
}

// value sorts by insertion: members are few and come nearly in order.
func (o *object) value() value {
	for i := 1; i < len(o.keys); i++ {
		key, v := o.keys[i], o.list[i]
		j := i
		for ; j > 0 && lessText(key, o.keys[j-1]); j-- {
			o.keys[j], o.list[j] = o.keys[j-1], o.list[j-1]
		}
		o.keys[j], o.list[j] = key, v
	}
	return value{kind: objectValue, keys: o.keys, list: o.list}
}

// append appends the canonical form (RFC 8785): no blanks, keys in order.
func (v value) append(dst []byte) []byte {
	switch v.kind {
	case boolValue:
		if v.flag {
			return append(dst, "true"...)
		}
		return append(dst, "false"...)
	case numberValue:
		return appendNumber(dst, v.num)
	case textValue:
		return appendText(dst, v.text)
	case listValue, objectValue:
		return v.appendMembers(dst)
	}
	return append(dst, "null"...)
}

func (v value) appendMembers(dst []byte) []byte {
	first, last := byte('['), byte(']')
	if v.kind == objectValue {
		first, last = '{', '}'
	}
	dst = append(dst, first)
	for i, m := range v.list {
		if i > 0 {
			dst = append(dst, ',')
		}
		if v.kind == objectValue {
			dst = append(appendText(dst, v.keys[i]), ':')
		}
		dst = m.append(dst)
	}
	return append(dst, last)
}

// fault is a rule of a record's members broken, with what was read.
func fault(key phrase.Key, args ...phrase.Arg) *phrase.Fault {
	return phrase.NewFault(phrase.New(key, args...), phrase.New("record.member.remedy"))
}
