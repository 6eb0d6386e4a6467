package record

import "spadework/engine/phrase"

// listDue tells what is to be done next: tags first, then digs, then the log
// itself.
func (r *replay) listDue() {
	for _, t := range r.tags {
		r.dueTag(t)
	}
	for _, d := range r.st.Digs {
		r.dueDig(d)
	}
	for _, h := range r.st.Holds {
		if !h.Passed {
			r.due(phrase.Where{Excavation: h.Excavation}, "record.due_hold", phrase.With("id", h.Excavation), phrase.With("hold", h.Hold))
		}
	}
	r.dueAside(Waiting, "record.due_waiting")
	r.dueAside(Held, "record.due_held")
	r.dueAside(Quarantined, "record.due_quarantined")
}

func (r *replay) due(w phrase.Where, key phrase.Key, args ...phrase.Arg) {
	r.st.Due = append(r.st.Due, Due{w, phrase.New(key, args...)})
}

func (r *replay) dueTag(t *tag) {
	where := phrase.Where{Setup: t.Tag.Tag}
	switch {
	case t.State == TagSuspended && t.Bad > 0 && r.standingBad(t):
		r.due(where, "record.due_read_again", phrase.With("tag", t.Tag.Tag), phrase.With("why", t.Why))
	case t.State == TagSuspended:
		r.due(where, "record.due_close_first", phrase.With("tag", t.Tag.Tag), phrase.With("why", t.Why))
	case t.State == TagLive && t.Open > 0:
		r.due(where, "record.due_close", phrase.With("tag", t.Tag.Tag), phrase.With("count", t.Open))
	}
}

// standingBad says that a bad close of a tag was not shown to be a misread.
func (r *replay) standingBad(t *tag) bool {
	for _, lane := range t.bad.lanes {
		for _, b := range lane.at {
			if !t.overruled(b, -1) {
				return true
			}
		}
	}
	return false
}

// dueKeys are the verdicts that ask for something to be done at a point.
var dueKeys = map[Verdict]phrase.Key{
	NotClosed: "record.due_not_closed", NoTolerance: "record.due_no_tolerance", OldBottom: "record.due_old_bottom",
	AtRisk: "record.due_at_risk", Withdrawn: "record.due_withdrawn", ToDig: "record.due_to_dig", OverDug: "record.due_over_dug",
}

func (r *replay) dueDig(d DigState) {
	where := phrase.Where{Excavation: d.Excavation}
	if d.OpenBottom {
		r.due(where, "record.due_open_bottom", phrase.With("id", d.Excavation))
	}
	for _, p := range d.Points {
		key, asks := dueKeys[p.Verdict]
		if !asks || p.Verdict == NotClosed && r.closes(p.Tag) {
			continue
		}
		if d.Poured && p.Verdict != NotClosed {
			key = "record.due_poured"
		}
		off := p.Deviation
		r.due(phrase.Where{Excavation: d.Excavation, Part: p.Part}, key, phrase.With("id", d.Excavation),
			phrase.With("point", PointMessage(p)), phrase.With("why", p.Why), phrase.With("off", max(off, -off)))
	}
	if d.OverDigs > 0 {
		r.due(where, "record.due_over_dig", phrase.With("id", d.Excavation), phrase.With("count", d.OverDigs))
	}
}

// closes says that a close of the tag is still to be had and asked for already.
func (r *replay) closes(name string) bool {
	for _, t := range r.tags {
		if t.Tag.Tag == name && t.State != TagEnded {
			return true
		}
	}
	return false
}

// PointMessage names a point of a dig in words, empty for its centre.
func PointMessage(p PointState) phrase.Message {
	switch {
	case p.Station != nil && p.Part != "":
		return phrase.New("record.point_part_station", phrase.With("part", p.Part), phrase.With("station", *p.Station))
	case p.Station != nil:
		return phrase.New("record.point_station", phrase.With("station", *p.Station))
	case p.Point != "":
		return phrase.New("record.point_named", phrase.With("point", p.Point))
	}
	return phrase.New("record.point_centre")
}

func (r *replay) dueAside(s Status, key phrase.Key) {
	count := 0
	for _, a := range r.st.Aside {
		if a.Status == s {
			count++
		}
	}
	if count > 0 {
		r.due(phrase.Where{}, key, phrase.With("count", count))
	}
}
