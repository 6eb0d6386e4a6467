package record

import "spadework/engine/unit"

// Tie is how a machine's own depth measuring gets its zero: at the beam of a
// set-up, or with the teeth on a known point.
type Tie struct {
	Setup     ID // zero where a point was touched
	Machine   string
	Point     string          // touched, "" where the beam was caught
	Elevation *unit.Elevation // of the zero: the beam at the tie, or the point
	At        *[2]unit.Length
}

// Kind is KindTie.
func (*Tie) Kind() Kind { return KindTie }

// Names is the set-up, if there is one.
func (t *Tie) Names() []ID { return named(t.Setup) }

func (t *Tie) walk(f *fields) {
	f.maybeID("setup", &t.Setup)
	f.name("machine", &t.Machine)
	f.maybe("point", &t.Point)
	known(f, "elevation", &t.Elevation)
	f.place("at", &t.At)
	if t.Setup.IsZero() == (t.Point == "") {
		f.fail("point", "record.tie_zero")
	}
}

// named lists the ids that are given.
func named(ids ...ID) []ID {
	var out []ID
	for _, id := range ids {
		if !id.IsZero() {
			out = append(out, id)
		}
	}
	return out
}
