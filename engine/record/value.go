package record

import (
	"slices"

	"spadework/engine/phrase"
)

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

// object gathers members in any order; value sorts them.
type object struct {
	keys []string
	list []value
}

func (o *object) set(key string, v value) {
	at, _ := slices.BinarySearchFunc(o.keys, key, func(a, b string) int {
		switch {
		case lessText(a, b):
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	o.keys, o.list = slices.Insert(o.keys, at, key), slices.Insert(o.list, at, v)
}

func (o *object) value() value { return value{kind: objectValue, keys: o.keys, list: o.list} }

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
