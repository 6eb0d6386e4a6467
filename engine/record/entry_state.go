package record

import (
	"spadework/engine/phrase"
	"spadework/engine/safety"
)

// judgeEntries says which entries of the competent person stand: none that was
// corrected, and none that is not known to come after the end of every shift
// and every rain. Whether the person is the one named and the day is today is
// for safety.InHoleShotAllowed.
func (r *replay) judgeEntries() {
	for _, i := range r.entries {
		p := r.payload(i).(*PersonEntry)
		one := EntryState{Record: r.id(i), Entry: safety.Entry{
			Who: r.s.nodes[i].Person, At: shortStamp(p.At), Where: phrase.Where{Excavation: p.Excavation}, Rule: p.Rule, Saw: p.Saw,
		}}
		one.Why = r.entryVoid(i)
		one.Standing = one.Why.IsZero()
		r.st.Entries = append(r.st.Entries, one)
	}
	r.findHoleShots()
}

// shortStamp is the time to the second, as safety reads it.
func shortStamp(t Stamp) string {
	s := t.String()
	return s[:19] + s[23:]
}

func (r *replay) entryVoid(i int) phrase.Message {
	if r.corrected(i) {
		return phrase.New("record.entry_corrected")
	}
	for _, m := range []*marks{&r.shifts, &r.rains} {
		for _, lane := range m.lanes {
			if last := lane.at[len(lane.at)-1]; !r.s.before(last, i) {
				return phrase.New(phrase.Key("record.entry_" + string(r.s.nodes[last].Kind())))
			}
		}
	}
	return phrase.Message{}
}

// findHoleShots tells of shots taken from inside a hole of which no entry is
// known to come before them on their day.
func (r *replay) findHoleShots() {
	for _, id := range r.digNames {
		for _, k := range r.digs[id].shots {
			if r.payload(k).(*CheckShot).From != FromHole || r.entered(id, k) {
				continue
			}
			n := r.s.nodes[k]
			r.st.Findings = append(r.st.Findings, phrase.Finding{
				Rule: "hole_shot", Severity: phrase.Stop, Where: phrase.Where{Excavation: id},
				What:   phrase.New("record.find_hole_shot", phrase.With("id", id), phrase.With("person", n.Person)),
				Remedy: phrase.New("record.find_hole_shot.remedy"), Decides: phrase.New("who.competent_person"),
			})
		}
	}
}

// entered says that an inspection of a dig is known to come before a shot, with
// no end of a shift and no rain between them.
func (r *replay) entered(dig string, k int) bool {
	for _, i := range r.entries {
		p := r.payload(i).(*PersonEntry)
		if p.Rule != "" || p.Excavation != "" && p.Excavation != dig || r.corrected(i) || !r.s.before(i, k) {
			continue
		}
		between := func(v int) bool { return !r.s.before(v, i) }
		if !r.shifts.lastNotAfter(k, between) && !r.rains.lastNotAfter(k, between) {
			return true
		}
	}
	return false
}
