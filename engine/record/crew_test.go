package record

import (
	"slices"
	"testing"

	"spadework/engine/unit"
)

// phone is a device in tests: it keeps its head, its clock may be off, and it
// sees the records of others only when told.
type phone struct {
	t      testing.TB
	name   string
	person string
	head   Head
	off    int64            // its clock against the true time, milliseconds
	seen   map[string]ID    // newest record of each other device
	heads  map[string]int64 // and its number
	made   []Record
}

// site is a crew with a true time.
type site struct {
	t      testing.TB
	now    int64
	phones []*phone
}

const testDay = 1_777_881_600_000 // 2026-05-04T08:00:00Z

func newSite(t testing.TB, names ...string) *site {
	s := &site{t: t, now: testDay}
	for _, n := range names {
		s.phones = append(s.phones, &phone{t: t, name: n, person: "P-" + n, seen: map[string]ID{}, heads: map[string]int64{}})
	}
	return s
}

// add makes a record on a phone.
func (s *site) add(p *phone, payload Payload) Record {
	s.t.Helper()
	s.now += 60_000
	d := Draft{Job: "yard", Device: p.name, Person: p.person, Revision: "A", Payload: payload,
		Time: Stamp{Millis: s.now + p.off, Offset: -240}}
	for _, id := range p.seen {
		d.Seen = append(d.Seen, id)
	}
	p.seen = map[string]ID{}
	var random [10]byte
	for i := range random {
		random[i] = byte(s.now>>(i%4*8)) + byte(i*len(p.name)) + p.name[0] + byte(len(p.made)*7)
	}
	r, head, f := p.head.Next(d, s.now+p.off, random)
	if f != nil {
		s.t.Fatalf("%s cannot write %s: %v", p.name, payload.Kind(), f)
	}
	p.head = head
	p.made = append(p.made, r)
	return r
}

// sync tells every phone all that the others made.
func (s *site) sync() {
	for _, p := range s.phones {
		for _, o := range s.phones {
			p.hear(o)
		}
	}
}

// hear tells a phone all that another made.
func (p *phone) hear(o *phone) {
	if o == p || len(o.made) == 0 {
		return
	}
	last := o.made[len(o.made)-1]
	if p.heads[o.name] < last.Seq {
		p.seen[o.name], p.heads[o.name] = last.ID, last.Seq
		p.head = p.head.Saw(last)
	}
}

func (s *site) records() []Record {
	var out []Record
	for _, p := range s.phones {
		out = append(out, p.made...)
	}
	return out
}

func (s *site) state() *State { return Replay(Input{Records: s.records()}) }

func ptr[T any](v T) *T { return &v }

func setup(tag string) *SetupMade {
	return &SetupMade{Tag: tag, Laser: "L1", Rod: "R", At: &[2]unit.Length{1, 2}, HI: ptr(unit.Elevation(100)),
		Sights: []BacksightReading{{"BM1", 98.5, 1.5}}}
}

// shotAt is a shot in tolerance, off metres over the bottom.
func shotAt(setup Record, dig string, off unit.Length) *CheckShot {
	return &CheckShot{Setup: setup.ID, Excavation: dig, From: FromEdge, Bottom: 97, Above: ptr(unit.Length(0.012)), Below: ptr(unit.Length(0.012)),
		Beam: ptr(unit.Elevation(100)), Reading: ptr(unit.Reading(3 - off))}
}

func closeOf(setup Record, point string, off unit.Length) *Close {
	return &Close{Setup: setup.ID, On: OnBenchmark, Point: point, ProofReading: ProofReading{unit.Reading(1.5 + off), 1.5, 0.005}}
}

func happened(k Kind) *LaserEvent { return &LaserEvent{What: k, Laser: "L1"} }

// verdictOf is the verdict of a dig of the state.
func verdictOf(st *State, dig string) Verdict {
	i := slices.IndexFunc(st.Digs, func(d DigState) bool { return d.Excavation == dig })
	if i < 0 {
		return ""
	}
	return st.Digs[i].Verdict
}

// tagOf is a tag of the state.
func tagNamed(st *State, name string) Tag {
	i := slices.IndexFunc(st.Tags, func(t Tag) bool { return t.Tag == name })
	if i < 0 {
		return Tag{}
	}
	return st.Tags[i]
}

// oneOfEach is a record of every kind.
func oneOfEach(t testing.TB) []Record {
	s := newSite(t, "a", "b")
	a := s.phones[0]
	one := s.add(a, setup("A1"))
	tie := s.add(a, &Tie{Setup: one.ID, Machine: "M1", Elevation: ptr(unit.Elevation(100))})
	s.add(a, &Tie{Machine: "M1", Point: "BM1"})
	shot := s.add(a, shotAt(one, "P1", 0.001))
	direction := s.add(a, &Direction{Excavation: "P2", By: "engineer", Words: "down to rock", Bottom: ptr(unit.Elevation(96)), Drawing: "SK-1"})
	called := &CheckShot{Tie: tie.ID, Excavation: "SD1", Part: "1", Station: ptr(unit.Station(15.24)), At: &[2]unit.Length{-3.5, 1e-7}, From: FromBucket,
		Direction: direction.ID, Bottom: 96, Call: High, Amount: 0.01}
	s.add(a, called)
	for _, p := range []Payload{
		&DialProof{Setup: one.ID, Point: "BM2", ProofReading: ProofReading{1.2, 1.201, 0.003}},
		&BeamMark{Setup: one.ID, Mark: "post 3", Elevation: ptr(unit.Elevation(100)), Words: "on the gate post"},
		closeOf(one, "BM1", 0.002),
		happened(KindStopped), happened(KindAlarm), happened(KindRestarted), happened(KindDropped), happened(KindBattery),
		&MachineEvent{What: KindMoved, Machine: "M1"}, &MachineEvent{What: KindBucket, Machine: "M1", Words: "24 in for 36"},
		&MachineEvent{What: KindLifted, Machine: "M1"}, &MachineEvent{What: KindSunk, Machine: "M1", Words: "left track"},
		&Poured{Excavation: "P1", Words: "to the top of the form"},
		&Exposed{Utility: "W", Excavation: "P1", Top: ptr(unit.Elevation(99.1)), Words: "copper, \"as marked\""},
		&GroundMet{What: KindRock, Excavation: "P1", Elevation: ptr(unit.Elevation(97.2))},
		&GroundMet{What: KindWater, Excavation: "SD1", Station: ptr(unit.Station(3))},
		&GroundMet{What: KindUnsuitable, Excavation: "P1", Words: "turba\nnegra – ñ 🪨"},
		&Direction{Excavation: "P2", By: "engineer", Words: "stop", Replaces: direction.ID},
		&OverDig{Excavation: "P1", Point: "corner-1", Depth: 0.05, Remedy: "lean concrete", Done: true},
		&PersonEntry{Excavation: "P1", At: Stamp{testDay, -240}, Saw: "dry, 1:1, no cracks"},
		&Hold{Excavation: "P1", Hold: "bearing", By: "the inspector", Agency: "the town", Passed: true},
		&Ticket{For: "rock", Excavation: "P1", Hours: ptr(2.5), Before: ptr(unit.Volume(3)), After: ptr(unit.Volume(4.5)), Words: "ledge"},
		&Note{Words: "gate locked"},
		&Photo{Of: shot.ID, Digest: shot.Hash(), Size: 1234, Media: "image/jpeg"},
		&Weather{Rain: true, Temperature: ptr(-3.5), Words: "sleet"},
		&SignOff{Role: "foreman", Words: "all but P2"},
		&Handover{Ends: EndShift, To: "the night crew", Words: "P2 open, fenced"},
		&Correction{Record: shot.ID, Of: KindShot, Instead: shotAt(one, "P1", 0.004), Reason: "read 3.0 for 3.1"},
		&Correction{Record: direction.ID, Of: KindDirection, Reason: "wrong dig"},
		&Accept{Records: []ID{shot.ID}, Reason: "phone found again"},
	} {
		s.add(a, p)
	}
	s.sync()
	s.add(s.phones[1], &Note{Words: "heard"})
	return s.records()
}
