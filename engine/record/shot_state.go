package record

import (
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// reading is a shot as it stands after its corrections: who says so last, and
// the records its trust is asked at.
type reading struct {
	at        int   // the shot
	asked     []int // the shot and its correction
	payload   *CheckShot
	withdrawn bool
	corrected bool
}

// judgeShots gives every point of every dig its newest shot and a verdict.
func (r *replay) judgeShots() {
	for _, id := range r.digNames {
		d := r.digs[id]
		for _, group := range r.byPoint(d.shots) {
			d.state.Points = append(d.state.Points, r.judgePoint(d, group))
		}
		for _, p := range d.state.Points {
			if rank[p.Verdict] > rank[d.state.Verdict] {
				d.state.Verdict = p.Verdict
			}
		}
		if len(d.state.Points) == 0 {
			d.state.Verdict = ""
		}
		d.state.OverDigs = r.openOverDigs(d.overDigs)
		d.state.Poured = slices.ContainsFunc(d.poured, func(i int) bool { return !r.corrected(i) })
	}
}

// pointKey names a point of a dig.
type pointKey struct {
	part, point string
	station     unit.Station
	run         bool
}

func keyOf(part, point string, station *unit.Station) pointKey {
	if station == nil {
		return pointKey{part: part, point: point}
	}
	return pointKey{part, point, *station, true}
}

// byPoint groups shots by their point, groups in the order of their first.
func (r *replay) byPoint(shots []int) [][]int {
	place := map[pointKey]int{}
	var out [][]int
	for _, i := range shots {
		p := r.payload(i).(*CheckShot)
		key := keyOf(p.Part, p.Point, p.Station)
		k, ok := place[key]
		if !ok {
			k = len(out)
			place[key] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}

// judgePoint judges the newest shot at a point; where nobody knows which is
// newest, the worst of them.
func (r *replay) judgePoint(d *digWork, shots []int) PointState {
	var out PointState
	newest := 0
	for _, i := range r.latest(shots) {
		for _, one := range r.readings(i) {
			p := r.judgeReading(d, one)
			newest++
			if out.Shot.IsZero() || rank[p.Verdict] > rank[out.Verdict] {
				out = p
			}
		}
	}
	out.Several = newest > 1
	return out
}

// readings is what a shot and its newest corrections say.
func (r *replay) readings(i int) []reading {
	shot := r.payload(i).(*CheckShot)
	if !r.corrected(i) {
		return []reading{{at: i, asked: []int{i}, payload: shot}}
	}
	var out []reading
	for _, k := range r.latest(r.corrections[i]) {
		one := reading{at: i, asked: []int{i, k}, payload: shot, corrected: true, withdrawn: true}
		if instead, ok := r.payload(k).(*Correction).Instead.(*CheckShot); ok && samePoint(instead, shot) {
			one.payload, one.withdrawn = instead, false
		}
		out = append(out, one)
	}
	return out
}

func samePoint(a, b *CheckShot) bool {
	return a.Excavation == b.Excavation && keyOf(a.Part, a.Point, a.Station) == keyOf(b.Part, b.Point, b.Station)
}

// judgeReading is a shot with its verdict, and counts it for its tag.
func (r *replay) judgeReading(d *digWork, one reading) PointState {
	n, p := r.s.nodes[one.at], one.payload
	out := PointState{
		Part: p.Part, Point: p.Point, Station: p.Station, Shot: n.ID, Person: n.Person, Time: n.Time,
		Height: p.Height(), Deviation: p.Deviation(), Corrected: one.corrected,
	}
	t := r.tagUnder(p)
	if t != nil {
		out.Setup, out.Tag = t.Setup, t.Tag.Tag
	}
	risk := r.risk(t, one)
	out.Closed = t != nil && r.closedSince(t, one)
	closed := out.Closed && risk.IsZero()
	if t != nil && !one.withdrawn {
		t.Shots++
		if !closed {
			t.Open++
		}
	}
	out.Verdict, out.Why = d.verdict(p, one.withdrawn, risk, closed)
	return out
}

// verdict is the worst that holds.
func (d *digWork) verdict(p *CheckShot, withdrawn bool, risk phrase.Message, closed bool) (Verdict, phrase.Message) {
	off := p.Deviation()
	switch {
	case withdrawn:
		return Withdrawn, phrase.Message{}
	case p.Above != nil && off > *p.Above+heightRounding:
		return ToDig, risk
	case p.Below != nil && -off > *p.Below+heightRounding:
		return OverDug, risk
	case !risk.IsZero():
		return AtRisk, risk
	case d.state.OpenBottom || p.Direction != d.current:
		return OldBottom, phrase.Message{}
	case p.Above == nil:
		return NoTolerance, phrase.Message{}
	case !closed:
		return NotClosed, phrase.Message{}
	}
	return Good, phrase.Message{}
}

// heightRounding is the difference under which two heights are one, as the plan
// has it: what float64 leaves of figures snapped to a micrometre.
const heightRounding = unit.Micrometre / 1000

// basis is the records whose beam a reading rests on: of a machine's own
// sensors the tie, else the reading itself.
func (r *replay) basis(one reading) []int {
	if tie, ok := r.s.index[one.payload.Tie]; ok {
		return []int{tie}
	}
	return one.asked
}

// risk tells why a reading may be wrong by its beam or tie, zero where nothing
// is known to stand against it.
func (r *replay) risk(t *tag, one reading) phrase.Message {
	if tie, ok := r.s.index[one.payload.Tie]; ok {
		for _, k := range one.asked {
			if why := r.tieRiskAt(tie, k); !why.IsZero() {
				return why
			}
		}
	}
	if t == nil {
		return phrase.Message{}
	}
	for _, k := range r.basis(one) {
		if why := r.beamRisk(t, k); !why.IsZero() {
			return why
		}
	}
	return phrase.Message{}
}

// beamRisk tells what may have moved the beam of a tag before record k: what
// ended the tag and is not known to come after k, a disturbance without a good
// close between it and k, a bad close.
func (r *replay) beamRisk(t *tag, k int) phrase.Message {
	for _, e := range t.ends {
		if !r.s.before(k, e) {
			return r.riskOf(t, e, k)
		}
	}
	var why phrase.Message
	disturbs := func(i int) bool {
		if r.s.before(i, t.at) || t.good.between(i, k) {
			return false
		}
		why = r.riskOf(t, i, k)
		return true
	}
	if t.disturbed.lastNotAfter(k, disturbs) || r.handovers.lastNotAfter(k, disturbs) {
		return why
	}
	return r.badCloseRisk(t, k)
}

// badCloseRisk tells of a bad close that k may rest on. One that stands takes
// everything with it that was not closed well before it; one that was a misread
// only what came between it and the closes that show so.
func (r *replay) badCloseRisk(t *tag, k int) phrase.Message {
	for _, lane := range t.bad.lanes {
		for _, b := range lane.at {
			misread := t.overruled(b, -1) && (r.s.before(k, b) || t.overruled(b, k))
			if !misread && !t.good.between(k, b) {
				return r.riskOf(t, b, k)
			}
		}
	}
	return phrase.Message{}
}

// riskOf is the reason with whether the order is known.
func (r *replay) riskOf(t *tag, i, k int) phrase.Message {
	key := phrase.Key("record.risk_unknown")
	switch {
	case r.s.before(i, k):
		key = "record.risk_after"
	case r.s.before(k, i):
		key = "record.risk_before"
	}
	return phrase.New(key, phrase.With("why", r.reason(t, i)))
}

// closedSince says that a good close is known to come after the reading, its
// correction included.
func (r *replay) closedSince(t *tag, one reading) bool {
	for _, k := range r.basis(one) {
		if !t.good.knowing(k) {
			return false
		}
	}
	return true
}
