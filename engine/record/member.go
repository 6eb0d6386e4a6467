package record

// Member is one key of a payload.
type Member struct {
	Key      string
	Type     string // flag, number, text, list, object
	Optional bool   // it may be null
}

// Members lists the keys of a kind as they are walked, nil for no kind. A
// correction's "instead" has the members of the kind corrected.
func Members(k Kind) []Member {
	p := newPayload(k)
	if p == nil {
		return nil
	}
	f := fields{in: &value{kind: objectValue}, list: &[]Member{}}
	p.walk(&f)
	return *f.list
}

// typeName is a kind of value as Member tells it.
func typeName(k valueKind) string {
	return [...]string{"null", "flag", "number", "text", "list", "object"}[k]
}
