package record

// SignOff is a person who stands for something.
type SignOff struct {
	Excavation string // "" the whole job
	Role       string
	Words      string
}

// Kind is KindSignOff.
func (*SignOff) Kind() Kind { return KindSignOff }

// Names is nothing.
func (*SignOff) Names() []ID { return nil }

func (s *SignOff) walk(f *fields) {
	f.maybe("excavation", &s.Excavation)
	f.name("role", &s.Role)
	f.words("words", &s.Words, false)
}
