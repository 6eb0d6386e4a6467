package record

// What a handing over ends.
const (
	EndShift = "shift"
	EndBreak = "break" // lunch, a storm: the same crew comes back
)

var handoverEnds = []string{EndShift, EndBreak}

// Handover ends a shift or begins a break: how it was left. After it no tag has
// a number before a close, and a tag that was not closed before the end of the
// shift has ended.
type Handover struct {
	Ends  string
	To    string // "" nobody named
	Words string
}

// Kind is KindHandover.
func (*Handover) Kind() Kind { return KindHandover }

// Names is nothing: it ends every tag.
func (*Handover) Names() []ID { return nil }

func (h *Handover) walk(f *fields) {
	f.choice("ends", &h.Ends, handoverEnds)
	f.maybe("to", &h.To)
	f.words("words", &h.Words, true)
}
