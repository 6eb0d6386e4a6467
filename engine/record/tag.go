package record

import (
	"slices"

	"spadework/engine/phrase"
)

// tag is a set-up in hand.
type tag struct {
	at    int // the set-up
	setup *SetupMade
	Tag
	disturbed marks   // laser events
	ends      []int   // what ended it: the laser set up anew or dropped, the shift's end
	good      marks   // closes that count
	points    []marks // good, by the point read
	names     []string
	bad       marks // closes off the limit
}

func (r *replay) addTag(i int, p *SetupMade) {
	t := &tag{at: i, setup: p, Tag: Tag{Setup: r.id(i), Tag: p.Tag, Laser: p.Laser, State: TagLive}}
	t.disturbed.s, t.good.s, t.bad.s = r.s, r.s, r.s
	r.tags = append(r.tags, t)
	r.tagOf[i] = t
	r.byLaser[p.Laser] = append(r.byLaser[p.Laser], t)
}

// judgeTags finds for every tag what disturbed and what ended it, which closes
// count, and whether it has numbers.
func (r *replay) judgeTags() {
	r.addLaserEvents()
	r.endByNextSetup()
	r.endByName()
	for _, t := range r.tags {
		if r.corrected(t.at) {
			t.end(r.corrections[t.at][0])
		}
	}
	r.addCloses()
	r.endByShift()
	for _, t := range r.tags {
		r.dropLate(t)
		r.judgeTag(t)
	}
	r.listCloses()
}

// listCloses tells every close of every tag and what it counts for.
func (r *replay) listCloses() {
	for i := range r.s.nodes {
		c, ok := r.payload(i).(*Close)
		if !ok {
			continue
		}
		at, ok := r.s.index[c.Setup]
		if !ok || r.tagOf[at] == nil {
			continue
		}
		t := r.tagOf[at]
		good, bad := r.standing(i, c)
		out := CloseState{Record: r.id(i), On: c.On, Point: c.Point, Off: c.Off(), Good: !bad, Counts: bad || good && !r.late(t, i)}
		for _, k := range r.corrections[i] {
			if instead, ok := r.payload(k).(*Correction).Instead.(*Close); ok && bad && c.Good() {
				out.Off = instead.Off()
			}
		}
		t.Readings = append(t.Readings, out)
	}
}

func (t *tag) end(i int) { t.ends = append(t.ends, i) }

// addLaserEvents gives every tag of a laser what happened to it, save what is
// known to have come before the set-up.
func (r *replay) addLaserEvents() {
	for i := range r.s.nodes {
		e, ok := r.payload(i).(*LaserEvent)
		if !ok {
			continue
		}
		for _, t := range r.byLaser[e.Laser] {
			switch {
			case r.s.before(i, t.at):
			case e.What == KindDropped:
				t.end(i)
			default:
				t.disturbed.add(i)
			}
		}
	}
}

// endByNextSetup ends a tag where its laser is set up again, or where nobody
// knows which of two set-ups of one laser came first.
func (r *replay) endByNextSetup() {
	for _, tags := range r.byLaser {
		for i, t := range tags {
			for j, next := range tags {
				if i == j || r.s.before(next.at, t.at) {
					continue
				}
				t.end(next.at)
				if r.s.before(t.at, next.at) {
					break // the first known to follow; later ones change nothing
				}
			}
		}
	}
}

// endByName ends tags that bear one name, but the first's life before the
// second: a number belongs to one tag.
func (r *replay) endByName() {
	byName := map[string][]*tag{}
	for _, t := range r.tags {
		byName[t.setup.Tag] = append(byName[t.setup.Tag], t)
	}
	for _, tags := range byName {
		for i, t := range tags {
			if i > 0 {
				t.end(tags[0].at)
			} else if len(tags) > 1 {
				t.end(tags[1].at)
			}
		}
	}
}

// addCloses sorts the closes of every tag into those that count and those that
// are bad. A close after the tag's end, or of which that is not known, counts
// for nothing.
func (r *replay) addCloses() {
	for i := range r.s.nodes {
		c, ok := r.payload(i).(*Close)
		if !ok {
			continue
		}
		at, ok := r.s.index[c.Setup]
		if !ok || r.tagOf[at] == nil {
			continue
		}
		t := r.tagOf[at]
		switch good, bad := r.standing(i, c); {
		case bad:
			t.bad.add(i)
			t.Bad++
			message := phrase.New("record.close_off", phrase.With("point", c.Point), phrase.With("off", c.Off()))
			t.LastBad = &message
		case good && !r.late(t, i):
			t.addGood(i, c.Point)
		}
	}
}

// late says that a record is not known to come before all that ended a tag.
func (r *replay) late(t *tag, i int) bool {
	return slices.ContainsFunc(t.ends, func(e int) bool { return !r.s.before(i, e) })
}

// dropLate takes the closes away that a shift's end made count for nothing.
func (r *replay) dropLate(t *tag) {
	old := t.good
	t.good, t.points, t.names, t.Closes = marks{s: r.s}, nil, nil, 0
	for _, lane := range old.lanes {
		for _, i := range lane.at {
			if !r.late(t, i) {
				t.addGood(i, r.payload(i).(*Close).Point)
			}
		}
	}
}

// standing says what a close counts for after its corrections: they can take
// away a good one, never a bad one.
func (r *replay) standing(i int, c *Close) (good, bad bool) {
	good, bad = c.Good(), !c.Good()
	for _, k := range r.corrections[i] {
		good = false
		if instead, ok := r.payload(k).(*Correction).Instead.(*Close); ok && !instead.Good() {
			bad = true
		}
	}
	return good, bad
}

func (t *tag) addGood(i int, point string) {
	t.good.add(i)
	t.Closes++
	k := slices.Index(t.names, point)
	if k < 0 {
		k = len(t.names)
		t.names = append(t.names, point)
		t.points = append(t.points, marks{s: t.good.s})
	}
	t.points[k].add(i)
}

// endByShift ends a tag at the end of a shift unless it was closed before it:
// a good close that knows of all its shots and disturbances till then.
func (r *replay) endByShift() {
	rest := r.restingOn()
	for _, lane := range r.shifts.lanes {
		for _, h := range lane.at {
			for _, t := range r.tags {
				over := slices.ContainsFunc(t.ends, func(e int) bool { return r.s.before(e, h) })
				if !over && !r.s.before(h, t.at) && !r.closedAt(t, h, rest[t]) {
					t.end(h)
				}
			}
		}
	}
}

// restingOn is the shots and ties of every tag.
func (r *replay) restingOn() map[*tag]*marks {
	out := map[*tag]*marks{}
	for _, t := range r.tags {
		out[t] = &marks{s: r.s}
	}
	for i := range r.s.nodes {
		if shot, ok := r.payload(i).(*CheckShot); ok {
			if t := r.tagUnder(shot); t != nil {
				out[t].add(i)
			}
		}
	}
	return out
}

// tagUnder is the tag whose beam a shot rests on, nil for a touched point.
func (r *replay) tagUnder(shot *CheckShot) *tag {
	setup := shot.Setup
	if i, ok := r.s.index[shot.Tie]; ok {
		if tie, ok := r.payload(i).(*Tie); ok {
			setup = tie.Setup
		}
	}
	if i, ok := r.s.index[setup]; ok && !setup.IsZero() {
		return r.tagOf[i]
	}
	return nil
}

// closedAt says that a tag was closed when the shift ended at h.
func (r *replay) closedAt(t *tag, h int, shots *marks) bool {
	return t.good.lastBefore(h, func(c int) bool {
		open := func(i int) bool { return !r.s.before(i, c) }
		return !shots.lastNotAfter(h, open) && !t.disturbed.lastNotAfter(h, open) && !t.bad.lastNotAfter(h, open)
	})
}

// judgeTag says whether a tag has numbers now, and if not why.
func (r *replay) judgeTag(t *tag) {
	if len(t.ends) > 0 {
		t.State, t.Why = TagEnded, r.reason(t, slices.Min(t.ends))
		return
	}
	hold := func(i int) bool {
		if t.good.knowing(i) {
			return false
		}
		t.State, t.Why = TagSuspended, r.reason(t, i)
		return true
	}
	for _, lane := range t.bad.lanes {
		for _, b := range lane.at {
			if !t.overruled(b, -1) {
				t.State, t.Why = TagSuspended, r.reason(t, b)
				return
			}
		}
	}
	for _, m := range []*marks{&t.disturbed, &r.handovers} {
		for _, lane := range m.lanes {
			if i := lane.at[len(lane.at)-1]; !r.s.before(i, t.at) && hold(i) {
				return
			}
		}
	}
}

// overruled says that a bad close was a misread: good ones on two points came
// after it, and, where k is a record, before that.
func (t *tag) overruled(b, k int) bool {
	points := 0
	for i := range t.points {
		if k < 0 && t.points[i].knowing(b) || k >= 0 && t.points[i].between(b, k) {
			points++
		}
	}
	return points >= 2
}

// reason tells why a record took a tag's numbers.
func (r *replay) reason(t *tag, i int) phrase.Message {
	n := r.s.nodes[i]
	args := []phrase.Arg{phrase.With("tag", t.Tag.Tag), phrase.With("laser", t.Laser), phrase.With("person", n.Person)}
	key := phrase.Key("record.void_" + string(n.Kind()))
	switch p := n.Payload.(type) {
	case *SetupMade:
		args = append(args, phrase.With("next", p.Tag))
		if p.Tag == t.Tag.Tag {
			key = "record.void_same_tag"
		} else if !r.s.before(t.at, i) {
			key = "record.void_setup_unknown"
		}
	case *Handover:
		key += "_" + phrase.Key(p.Ends)
		if t.State == TagEnded || len(t.ends) > 0 {
			key = "record.void_not_closed"
		}
	case *Close:
		args = append(args, phrase.With("point", p.Point), phrase.With("off", p.Off()))
	}
	return phrase.New(key, args...)
}
