package guard

import (
	"math"

	"spadework/engine/record"
	"spadework/engine/watch"
)

// step is the least time between two records of which one rests on the other: a
// rod is not read faster (common practice), and no time would leave no room for a
// bump.
const step = watch.Hours(1.0 / 60)

// timeline is when records were made, in hours from the first of the log.
type timeline struct {
	st    *record.State
	hours map[record.ID]watch.Hours
	line  map[record.ID]*record.Line
}

// newTimeline times the records by what each rests on: a device's clock tells how
// long after its own record before, and of a first record how long after its
// causes; no clock puts a record before what it rests on. A clock that is fast all
// day changes nothing, one that leaps makes more room for a bump.
func newTimeline(st *record.State) *timeline {
	t := &timeline{st: st, hours: map[record.ID]watch.Hours{}, line: map[record.ID]*record.Line{}}
	byHash := map[record.Hash]*record.Line{}
	owed := map[record.ID]watch.Hours{} // what steps added to the time shown, along a chain
	for i := range st.Log {
		l := &st.Log[i]
		t.line[l.ID] = l
		byHash[l.Hash()] = l
		at := watch.Hours(0)
		before := byHash[l.Previous]
		if before != nil {
			shown := between(before, l)
			gone := max(shown-owed[before.ID], step)
			at = t.hours[before.ID] + gone
			owed[l.ID] = owed[before.ID]
			if shown >= 0 {
				owed[l.ID] += gone - shown
			}
		}
		for _, id := range l.Causes {
			cause, here := t.line[id]
			switch {
			case !here:
			case before == nil:
				at = max(at, t.hours[id]+span(cause, l))
			default:
				at = max(at, t.hours[id]+step)
			}
		}
		t.hours[l.ID] = at
	}
	return t
}

// between is the time that two records show between them; a clock that was put back
// shows less than none.
func between(a, b *record.Line) watch.Hours {
	return watch.Hours(float64(b.Time.Millis-a.Time.Millis) / 3_600_000)
}

// span is that time, a step at least.
func span(a, b *record.Line) watch.Hours { return max(between(a, b), step) }

// latest is the latest time that a record may have been made by: its own, or, where
// another device wrote the close that is known to come first after it, just before
// that close. Of a dig later is worse: more time for a bump before it.
func (t *timeline) latest(id record.ID, closes []record.CloseState) watch.Hours {
	at := t.hours[id]
	first, of := watch.Hours(math.Inf(1)), record.ID{}
	for _, c := range closes {
		if c.Counts && t.st.Before(id, c.Record) && t.hours[c.Record] < first {
			first, of = t.hours[c.Record], c.Record
		}
	}
	l, c := t.line[id], t.line[of]
	if l == nil || c == nil || l.Device == c.Device {
		return at
	}
	return max(at, first-step/2)
}
