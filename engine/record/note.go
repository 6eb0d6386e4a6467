package record

// Note is words.
type Note struct {
	Excavation string // "" none
	Words      string
}

// Kind is KindNote.
func (*Note) Kind() Kind { return KindNote }

// Names is nothing.
func (*Note) Names() []ID { return nil }

func (n *Note) walk(f *fields) {
	f.maybe("excavation", &n.Excavation)
	f.words("words", &n.Words, false)
}
