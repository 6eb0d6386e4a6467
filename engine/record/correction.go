package record

// Correction points at an earlier record and says that it is not so. It takes
// trust away and never gives any, save that a shot may be read anew.
type Correction struct {
	Record  ID
	Of      Kind    // of that record
	Instead Payload // what is so, of the same kind; nil nothing
	Reason  string
}

// Kind is KindCorrection.
func (*Correction) Kind() Kind { return KindCorrection }

// Names are the record corrected and what its new payload names.
func (c *Correction) Names() []ID {
	out := []ID{c.Record}
	if c.Instead != nil {
		out = append(out, c.Instead.Names()...)
	}
	return out
}

// uncorrectable are kinds that a new record answers instead: a beam that was
// set up otherwise gets a new tag.
func uncorrectable(k Kind) bool { return k == KindCorrection || k == KindAccept }

func (c *Correction) walk(f *fields) {
	f.id("record", &c.Record)
	f.choice("of", (*string)(&c.Of), kindWords)
	if uncorrectable(c.Of) {
		f.fail("of", "record.uncorrectable")
	}
	if f.fault != nil {
		return
	}
	f.part("instead", c.Instead == nil, func(in *fields) {
		if c.Instead == nil {
			c.Instead = newPayload(c.Of)
		}
		c.Instead.walk(in)
	})
	if c.Instead != nil && c.Instead.Kind() != c.Of {
		f.fail("instead", "record.other_kind")
	}
	f.words("reason", &c.Reason, false)
}
