package record

// MachineEvent is a machine whose tracks, blade or outriggers moved, whose
// bucket, coupler or teeth changed, that was lifted off its footing or that sank:
// what ends a tie by the table of package machine.
type MachineEvent struct {
	What    Kind
	Machine string
	Words   string
}

// Kind is What.
func (e *MachineEvent) Kind() Kind { return e.What }

// Names is nothing: it voids every tie of the machine.
func (*MachineEvent) Names() []ID { return nil }

func (e *MachineEvent) walk(f *fields) {
	f.name("machine", &e.Machine)
	f.words("words", &e.Words, true)
}
