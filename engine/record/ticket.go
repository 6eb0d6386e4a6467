package record

import "spadework/engine/unit"

// ticketFor is what extra work is for.
var ticketFor = []string{"rock", "water", "unsuitable", "waiting", "change", "other"}

// Ticket is extra work, for somebody to agree to.
type Ticket struct {
	For           string
	Excavation    string       // "" none
	Hours         *float64     // nil not told
	Before, After *unit.Volume // bank, nil not told
	Words         string
}

// Kind is KindTicket.
func (*Ticket) Kind() Kind { return KindTicket }

// Names is nothing.
func (*Ticket) Names() []ID { return nil }

func (t *Ticket) walk(f *fields) {
	f.choice("for", &t.For, ticketFor)
	f.maybe("excavation", &t.Excavation)
	knownFigure(f, "hours", &t.Hours, 0, 1e4)
	knownFigure(f, "before", &t.Before, 0, maxSize)
	knownFigure(f, "after", &t.After, 0, maxSize)
	f.words("words", &t.Words, false)
}
