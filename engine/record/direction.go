package record

import "spadework/engine/unit"

// Direction is what somebody with a say directed. A new bottom is a new
// revision of the dig.
type Direction struct {
	Excavation string
	By         string // who directed
	Words      string
	Bottom     *unit.Elevation // nil the bottom stays
	Drawing    string          // "" none
	Replaces   ID              // the direction before it, zero none
}

// Kind is KindDirection.
func (*Direction) Kind() Kind { return KindDirection }

// Names is the direction before it.
func (d *Direction) Names() []ID { return named(d.Replaces) }

func (d *Direction) walk(f *fields) {
	f.name("excavation", &d.Excavation)
	f.name("by", &d.By)
	f.words("words", &d.Words, false)
	known(f, "bottom", &d.Bottom)
	f.maybe("drawing", &d.Drawing)
	f.maybeID("replaces", &d.Replaces)
}
