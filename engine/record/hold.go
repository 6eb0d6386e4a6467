package record

// Hold is a hold point looked at: bearing, location, steel.
type Hold struct {
	Excavation string
	Hold       string
	By         string // who passed or refused it
	Agency     string // "" none
	Passed     bool
	Words      string
}

// Kind is KindHold.
func (*Hold) Kind() Kind { return KindHold }

// Names is nothing.
func (*Hold) Names() []ID { return nil }

func (h *Hold) walk(f *fields) {
	f.name("excavation", &h.Excavation)
	f.name("hold", &h.Hold)
	f.name("by", &h.By)
	f.maybe("agency", &h.Agency)
	f.flag("passed", &h.Passed)
	f.words("words", &h.Words, true)
}
