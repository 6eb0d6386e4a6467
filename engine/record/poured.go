package record

// Poured is concrete that went into a dig.
type Poured struct {
	Excavation string
	Words      string
}

// Kind is KindPoured.
func (*Poured) Kind() Kind { return KindPoured }

// Names is nothing.
func (*Poured) Names() []ID { return nil }

func (p *Poured) walk(f *fields) {
	f.name("excavation", &p.Excavation)
	f.words("words", &p.Words, true)
}
