package record

import "spadework/engine/safety"

// Open counts the points whose newest shot is not good.
func (s *State) Open() int {
	open := 0
	for _, d := range s.Digs {
		for _, p := range d.Points {
			if p.Verdict != Good {
				open++
			}
		}
	}
	return open
}

// StandingEntries are the competent person's entries that the log leaves
// standing.
func (s *State) StandingEntries() []safety.Entry {
	var out []safety.Entry
	for _, e := range s.Entries {
		if e.Standing {
			out = append(out, e.Entry)
		}
	}
	return out
}

// Dig finds a dig of the log by its id.
func (s *State) Dig(id string) (DigState, bool) {
	for _, d := range s.Digs {
		if d.Excavation == id {
			return d, true
		}
	}
	return DigState{}, false
}
