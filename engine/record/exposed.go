package record

import "spadework/engine/unit"

// Exposed is a service seen.
type Exposed struct {
	Utility    string
	Excavation string          // "" none
	Top        *unit.Elevation // of the service, nil not shot
	At         *[2]unit.Length
	Words      string
}

// Kind is KindExposed.
func (*Exposed) Kind() Kind { return KindExposed }

// Names is nothing.
func (*Exposed) Names() []ID { return nil }

func (e *Exposed) walk(f *fields) {
	f.name("utility", &e.Utility)
	f.maybe("excavation", &e.Excavation)
	known(f, "top", &e.Top)
	f.place("at", &e.At)
	f.words("words", &e.Words, true)
}
