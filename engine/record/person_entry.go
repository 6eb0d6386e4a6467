package record

// PersonEntry is what the competent person saw, for a day: an inspection, or
// the release of one finding.
type PersonEntry struct {
	Excavation string // "" the whole site
	Rule       string // of the finding released, "" the day's inspection
	At         Stamp  // as the person says it
	Saw        string
}

// Kind is KindEntry.
func (*PersonEntry) Kind() Kind { return KindEntry }

// Names is nothing.
func (*PersonEntry) Names() []ID { return nil }

func (e *PersonEntry) walk(f *fields) {
	f.maybe("excavation", &e.Excavation)
	f.maybe("rule", &e.Rule)
	f.stamp("at", &e.At)
	f.words("saw", &e.Saw, false)
}
