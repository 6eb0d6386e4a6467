package record

import (
	"slices"

	"spadework/engine/phrase"
)

// Replay is the state that records come to. The same records give the same
// state in any order of arrival, doubled or not. Meaning follows causes and
// chains alone: a record comes before another only where that is known. Clock,
// device, number and id order the rest for reading; the time that a device
// showed is never looked at. Where it is not known whether a beam was disturbed
// before a dig or after it, the dig is at risk.
func Replay(in Input) *State {
	a := admit(&in)
	r := &replay{a: a, s: a.sequence(), st: &State{Aside: a.asides()}}
	r.st.Doubled, r.st.order = len(in.Records)-len(a.entries), r.s
	r.gather()
	r.judgeTags()
	r.judgeTies()
	r.judgeDirections()
	r.judgeShots()
	r.judgeHolds()
	r.judgeEntries()
	r.write()
	r.findClocks()
	r.listDue()
	return r.st
}

// replay is the work in hand. Indices are places in the sequence.
type replay struct {
	a  *admission
	s  *sequence
	st *State

	corrections map[int][]int // of a record, in order
	tags        []*tag
	tagOf       map[int]*tag
	byLaser     map[string][]*tag
	machines    map[string]*marks // moves and bucket changes
	ties        []int
	tieRisk     map[int]phrase.Message
	handovers   marks
	shifts      marks // handovers that end a shift
	rains       marks
	digs        map[string]*digWork
	digNames    []string
	holds       []int
	entries     []int
	left        int // last handover, −1 none
}

// digWork is one dig in hand.
type digWork struct {
	shots      []int
	directions []int
	overDigs   []int
	poured     []int
	state      DigState
	current    ID
}

func (r *replay) payload(i int) Payload { return r.s.nodes[i].Payload }
func (r *replay) id(i int) ID           { return r.s.nodes[i].ID }

// gather sorts the records by what they are about.
func (r *replay) gather() {
	r.corrections, r.tagOf, r.byLaser = map[int][]int{}, map[int]*tag{}, map[string][]*tag{}
	r.machines, r.digs, r.tieRisk = map[string]*marks{}, map[string]*digWork{}, map[int]phrase.Message{}
	r.handovers.s, r.shifts.s, r.rains.s, r.left = r.s, r.s, r.s, -1
	for i := range r.s.nodes {
		r.gatherOne(i)
	}
	slices.Sort(r.digNames)
}

func (r *replay) gatherOne(i int) {
	switch p := r.payload(i).(type) {
	case *SetupMade:
		r.addTag(i, p)
	case *Tie:
		r.ties = append(r.ties, i)
	case *MachineEvent:
		r.machine(p.Machine).add(i)
	case *CheckShot:
		d := r.dig(p.Excavation)
		d.shots = append(d.shots, i)
	case *Direction:
		d := r.dig(p.Excavation)
		d.directions = append(d.directions, i)
	case *OverDig:
		d := r.dig(p.Excavation)
		d.overDigs = append(d.overDigs, i)
	case *Poured:
		d := r.dig(p.Excavation)
		d.poured = append(d.poured, i)
	case *Handover:
		r.handovers.add(i)
		if p.Ends == EndShift {
			r.shifts.add(i)
		}
		r.left = i
	case *Weather:
		if p.Rain {
			r.rains.add(i)
		}
	case *Hold:
		r.holds = append(r.holds, i)
	case *PersonEntry:
		r.entries = append(r.entries, i)
	case *Correction:
		r.correct(i, p)
	}
}

// correct notes a correction of a record of the kind that it says.
func (r *replay) correct(i int, c *Correction) {
	if of, ok := r.s.index[c.Record]; ok && r.s.nodes[of].Kind() == c.Of {
		r.corrections[of] = append(r.corrections[of], i)
	}
}

// corrected says that a record was corrected, with something instead or not.
func (r *replay) corrected(i int) bool { return len(r.corrections[i]) > 0 }

func (r *replay) machine(id string) *marks {
	if r.machines[id] == nil {
		r.machines[id] = &marks{s: r.s}
	}
	return r.machines[id]
}

func (r *replay) dig(id string) *digWork {
	d := r.digs[id]
	if d == nil {
		d = &digWork{state: DigState{Excavation: id, Verdict: Good}}
		r.digs[id] = d
		r.digNames = append(r.digNames, id)
	}
	return d
}

// latest keeps of some records those that none of the others is known to come
// after.
func (r *replay) latest(some []int) []int {
	newest := map[int]int{} // by lane
	for _, i := range some {
		newest[r.s.nodes[i].lane] = i
	}
	var out []int
	for _, i := range some {
		if newest[r.s.nodes[i].lane] != i {
			continue
		}
		later := false
		for _, j := range newest {
			later = later || r.s.before(i, j)
		}
		if !later {
			out = append(out, i)
		}
	}
	return out
}

// findClocks tells of clocks that are off.
func (r *replay) findClocks() {
	offsets := slices.Clone(r.a.in.Offsets)
	slices.SortFunc(offsets, func(a, b Offset) int {
		if a.Device != b.Device {
			return compareText(a.Device, b.Device)
		}
		return int(max(min(a.Millis-b.Millis, 1), -1))
	})
	for _, o := range slices.Compact(offsets) {
		if f, off := o.finding(); off {
			r.st.Findings = append(r.st.Findings, f)
		}
	}
}
