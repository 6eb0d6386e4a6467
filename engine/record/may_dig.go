package record

import "spadework/engine/phrase"

// At is what a phone has in hand when it would show a number.
type At struct {
	Setup ID // whose tag it holds
	Tie   ID // of a machine with sensors of its own, zero for a rod
	Today string
}

// MayDig says why a phone has no number; the zero Message if it has one. A
// phone that holds an older tag has none, nor one whose tag was set up on
// another day and not closed on this: that a date can only take away.
func (s *State) MayDig(q At) phrase.Message {
	if !q.Tie.IsZero() {
		return s.mayDigFrom(q)
	}
	for _, t := range s.Tags {
		if t.Setup != q.Setup {
			continue
		}
		if t.State != TagLive {
			return t.Why
		}
		return s.overnight(t, q.Today)
	}
	return phrase.New("record.no_tag")
}

func (s *State) mayDigFrom(q At) phrase.Message {
	for _, t := range s.Ties {
		if t.Tie != q.Tie {
			continue
		}
		if !t.Live || t.Setup.IsZero() {
			return t.Why
		}
		return s.MayDig(At{Setup: t.Setup, Today: q.Today})
	}
	return phrase.New("record.no_tie")
}

// overnight holds a tag of another day back until it is closed today.
func (s *State) overnight(t Tag, today string) phrase.Message {
	if today == "" {
		return phrase.Message{}
	}
	for _, l := range s.Log {
		c, isClose := l.Payload.(*Close)
		if l.ID != t.Setup && !(isClose && c.Setup == t.Setup && c.Good() && !l.Corrected) {
			continue
		}
		if l.Time.Date() == today {
			return phrase.Message{}
		}
	}
	return phrase.New("record.void_overnight", phrase.With("tag", t.Tag))
}
