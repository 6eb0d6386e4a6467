package record

import (
	"slices"

	"spadework/engine/phrase"
)

// Input is what Replay works on. Records may come in any order and more than
// once.
type Input struct {
	Job     string // id of the job; records of another are quarantined; "" any
	Records []Record
	Revoked []Revocation
	Foremen []string // people whose acceptance counts; nobody else's does
	Offsets []Offset // of the devices' clocks, as the server found them at sync
}

// Revocation is a device that lost its say: its records over Seq are held.
type Revocation struct {
	Device string
	Seq    int64 // of its last record that still counts
	Reason phrase.Message
}

// Status is what became of a record.
type Status string

// The statuses.
const (
	Applied     Status = "applied"
	Waiting     Status = "waiting"     // a record it rests on is not here
	Held        Status = "held"        // until a foreman accepts it
	Quarantined Status = "quarantined" // one id with two contents, or another job
)

// Aside is a record that is not applied, and why.
type Aside struct {
	ID     ID
	Device string
	Seq    int64
	Kind   Kind
	Status Status
	Why    phrase.Message
	Needs  ID // the record it waits for where that has an id
}

// admission decides which entries take part.
type admission struct {
	in      *Input
	entries []entry
	byID    map[ID]int // of entries that are not quarantined
	parent  []int      // the record before, −1 none
	status  []Status
	why     []phrase.Message
	accept  map[ID]bool
}

func admit(in *Input) *admission {
	a := &admission{in: in, entries: gather(in.Records), byID: map[ID]int{}, accept: map[ID]bool{}}
	n := len(a.entries)
	a.parent, a.status, a.why = make([]int, n), make([]Status, n), make([]phrase.Message, n)
	a.quarantine()
	a.hold()
	a.apply()
	return a
}

// set gives an entry a status that it does not have yet.
func (a *admission) set(i int, s Status, why phrase.Message) {
	if a.status[i] == "" {
		a.status[i], a.why[i] = s, why
	}
}

// quarantine sets aside records of another job and ids with two contents. Of
// those the one stays that alone a later record of its device names by hash.
func (a *admission) quarantine() {
	follows := map[Hash]bool{}
	same := map[ID][]int{}
	for i, e := range a.entries {
		if a.in.Job != "" && e.Job != a.in.Job {
			a.set(i, Quarantined, phrase.New("record.other_job", phrase.With("job", e.Job)))
			continue
		}
		same[e.ID] = append(same[e.ID], i)
		if !e.Previous.IsZero() {
			follows[e.Previous] = true
		}
	}
	for i, e := range a.entries {
		if a.status[i] != "" {
			continue
		}
		group := same[e.ID]
		if len(group) > 1 && !a.confirmed(i, group, follows) {
			a.set(i, Quarantined, phrase.New("record.two_contents", phrase.With("count", len(group))))
			continue
		}
		a.byID[e.ID] = i
	}
}

func (a *admission) confirmed(i int, group []int, follows map[Hash]bool) bool {
	named := 0
	for _, j := range group {
		if follows[a.entries[j].hash] {
			named++
		}
	}
	return named == 1 && follows[a.entries[i].hash]
}

// hold holds back what a device wrote after it lost its say, and everything of
// a chain from a fork or a change on.
func (a *admission) hold() {
	revoked := map[string]Revocation{}
	for _, r := range a.in.Revoked {
		if old, twice := revoked[r.Device]; !twice || r.Seq < old.Seq {
			revoked[r.Device] = r
		}
	}
	device, broken := "", phrase.Message{}
	for i, e := range a.entries {
		a.parent[i] = -1
		if e.Device != device {
			device, broken = e.Device, phrase.Message{}
		}
		if a.status[i] != "" {
			continue
		}
		changed, forked := a.link(i)
		switch {
		case broken.IsZero() && forked:
			broken = phrase.New("record.held_fork", phrase.With("device", e.Device), phrase.With("seq", int(e.Seq)))
		case broken.IsZero() && changed:
			broken = phrase.New("record.held_changed", phrase.With("device", e.Device), phrase.With("seq", int(e.Seq)), phrase.With("before", int(e.Seq-1)))
		}
		if r, ok := revoked[e.Device]; ok && e.Seq > r.Seq {
			a.set(i, Held, phrase.New("record.held_revoked", phrase.With("device", e.Device), phrase.With("reason", r.Reason)))
		} else if !broken.IsZero() {
			a.set(i, Held, broken)
		}
	}
}

// link finds the record before, and says whether it is another than the one
// named, or the entry is one of several at its place.
func (a *admission) link(i int) (changed, forked bool) {
	e := a.entries[i]
	from, to := at(a.entries, e.Device, e.Seq)
	for j := from; j < to; j++ {
		forked = forked || j != i && a.status[j] != Quarantined
	}
	if e.Seq == 1 {
		return false, forked
	}
	a.parent[i] = missing
	from, to = at(a.entries, e.Device, e.Seq-1)
	for j := from; j < to; j++ {
		if a.status[j] == Quarantined {
			continue
		}
		if a.entries[j].hash == e.Previous {
			a.parent[i] = j
			return false, forked
		}
		changed = true
	}
	if changed {
		a.parent[i] = -1
	}
	return changed, forked
}

// missing is the parent of an entry whose record before is not here.
const missing = -2

// apply applies every entry whose record before and causes are applied, and
// lets accepted ones in; what is left waits.
func (a *admission) apply() {
	needs := make([]int, len(a.entries))
	waiters := map[int][]int{}
	var ready []int
	for i := range a.entries {
		if a.status[i] == Quarantined {
			continue
		}
		for _, j := range a.restsOn(i) {
			needs[i]++
			waiters[j] = append(waiters[j], i)
		}
		if needs[i] == 0 {
			ready = append(ready, i)
		}
	}
	parked := map[int]bool{} // ready but held
	for len(ready) > 0 {
		i := ready[len(ready)-1]
		ready = ready[:len(ready)-1]
		if a.status[i] == Held && !a.accept[a.entries[i].ID] {
			parked[i] = true
			continue
		}
		a.status[i] = Applied
		for _, w := range waiters[i] {
			if needs[w]--; needs[w] == 0 {
				ready = append(ready, w)
			}
		}
		for _, id := range a.accepts(i) {
			a.accept[id] = true
			if j, ok := a.byID[id]; ok && parked[j] {
				delete(parked, j)
				ready = append(ready, j)
			}
		}
	}
	for i := range a.entries {
		a.set(i, Waiting, phrase.Message{})
	}
}

// restsOn lists what an entry waits for; missing for what is not here.
func (a *admission) restsOn(i int) []int {
	var out []int
	if a.parent[i] != -1 {
		out = append(out, a.parent[i])
	}
	for _, id := range a.entries[i].Causes {
		j, ok := a.byID[id]
		if !ok {
			j = missing
		}
		out = append(out, j)
	}
	return out
}

// accepts lists the records that an applied entry lets in.
func (a *admission) accepts(i int) []ID {
	p, ok := a.entries[i].Payload.(*Accept)
	if !ok || !slices.Contains(a.in.Foremen, a.entries[i].Person) {
		return nil
	}
	return p.Records
}

// asides lists the entries that are not applied, by device, number and id.
func (a *admission) asides() []Aside {
	var out []Aside
	for i, e := range a.entries {
		if a.status[i] == Applied {
			continue
		}
		one := Aside{ID: e.ID, Device: e.Device, Seq: e.Seq, Kind: e.Kind(), Status: a.status[i], Why: a.why[i]}
		if a.status[i] == Waiting {
			one.Why, one.Needs = a.waitsFor(i)
		}
		out = append(out, one)
	}
	return out
}

// waitsFor names what an entry waits for.
func (a *admission) waitsFor(i int) (phrase.Message, ID) {
	e := a.entries[i]
	if p := a.parent[i]; p == missing || p >= 0 && a.status[p] != Applied {
		return phrase.New("record.waits_before", phrase.With("device", e.Device), phrase.With("before", int(e.Seq-1))), ID{}
	}
	for _, id := range e.Causes {
		if j, ok := a.byID[id]; !ok || a.status[j] != Applied {
			return phrase.New("record.waits_cause", phrase.With("id", id.String())), id
		}
	}
	return phrase.New("record.waits_cause", phrase.With("id", "")), ID{}
}
