package record

// LaserEvent is a laser that stopped, gave alarm, was restarted, dropped or got
// a battery.
type LaserEvent struct {
	What  Kind
	Laser string
	Words string
}

// Kind is What.
func (e *LaserEvent) Kind() Kind { return e.What }

// Names is nothing: what happens to a laser happens to all its tags.
func (*LaserEvent) Names() []ID { return nil }

func (e *LaserEvent) walk(f *fields) {
	f.name("laser", &e.Laser)
	f.words("words", &e.Words, true)
}
