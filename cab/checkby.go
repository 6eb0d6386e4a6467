package cab

import "spadework/engine/record"

// CheckBy is until when what is shown stands if nothing else happens: the close
// that is due, else the end of the day of the last reading of the beam.
type CheckBy struct {
	Millis int64  `json:"millis"` // since 1970 UTC, 0 no beam
	Time   string `json:"time"`   // of day, at the place
}

const dayMillis = 86_400_000

// checkBy is the time for a tag.
func (c *Cab) checkBy(tag string) CheckBy {
	t, ok := c.tag(tag)
	if !ok {
		return CheckBy{}
	}
	from, found := record.Stamp{}, false
	for _, l := range c.state.Log {
		closed, isClose := l.Payload.(*record.Close)
		if l.ID == t.Setup || isClose && closed.Setup == t.Setup && closed.Good() && !l.Corrected {
			from, found = l.Time, true
		}
	}
	if !found {
		return CheckBy{}
	}
	by := endOfDay(from)
	for _, b := range c.beams {
		if n := b.Next; b.Tag.Setup == t.Setup && n != nil && n.Timed && n.By.Millis < by.Millis {
			by = n.By
		}
	}
	return CheckBy{by.Millis, by.Minute()}
}

// endOfDay is the last minute of a day at its place.
func endOfDay(s record.Stamp) record.Stamp {
	local := s.Millis + int64(s.Offset)*60_000
	into := (local%dayMillis + dayMillis) % dayMillis
	return record.Stamp{Millis: s.Millis - into + dayMillis - 60_000, Offset: s.Offset}
}
