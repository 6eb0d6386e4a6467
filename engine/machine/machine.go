package machine

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Machine is one excavator, as its owner describes it.
type Machine struct {
	ID         string
	Type       Type
	Base       Base
	Swing      Swing
	BoomOffset unit.Length // of the arm's plane from the swing centre, + to the right
	Envelope   Envelope
	Highest    unit.Length // of any part over the ground, 0 not known
	Steepest   unit.Grade  // ground it works on, 0 not known
	Buckets    []Bucket
}

// Bucket is one bucket.
type Bucket struct {
	ID     string
	Width  unit.Length
	Volume unit.Volume // heaped 1:1 (ISO 7451, SAE J296), 0 not known
}

// Plan is a span turned to distances in plan from the swing centre: an arm
// beside the centre reaches a little farther than its own plane tells.
func (m Machine) Plan(s Span) Span {
	beside := func(l unit.Length) unit.Length {
		return unit.Length(math.Sqrt(float64(l*l) + float64(m.BoomOffset*m.BoomOffset)))
	}
	return Span{beside(s.Near), beside(s.Far)}
}

// Covers says that a floor with the corners of a ring can be cut from a place,
// at a depth under the ground the machine stands on there: all of it between the
// near and far of every floor down to it, and inside the swing. A ring that is
// not convex counts with its hull's far corners; false for a ring of no corners
// and a depth out of reach.
func (m Machine) Covers(p Place, ring geom.Ring, depth unit.Length) bool {
	s, ok := m.Envelope.Column(depth)
	return ok && m.Within(p, ring, m.Plan(s))
}

// Within says that a ring lies between near and far of the swing centre and
// inside the swing.
func (m Machine) Within(p Place, ring geom.Ring, s Span) bool {
	if len(ring) == 0 || ring.Contains(p.At) != geom.Outside && len(ring) > 2 {
		return false
	}
	for i := range ring {
		from, to := ring.Side(i)
		if !(from.Distance(p.At) <= float64(s.Far)) || !(geom.PointGap(p.At, from, to) >= float64(s.Near)) ||
			!m.Swing.Turns(p, from) {
			return false
		}
	}
	return m.Swing.AllRound() || m.Swing.EachWay <= math.Pi/2 || !behind(p, ring, m.Swing)
}

// behind says that a ring reaches into the sector that the arm cannot turn to
// although its corners do not.
func behind(p Place, ring geom.Ring, s Swing) bool {
	back := Place{p.At, p.Bearing + s.Middle + math.Pi}.forward()
	end := p.At.Add(back.Scale(farAway))
	for i := range ring {
		from, to := ring.Side(i)
		if geom.Orient(p.At, end, from) != geom.Orient(p.At, end, to) && geom.Orient(from, to, p.At) != geom.Orient(from, to, end) {
			return true
		}
	}
	return false
}

// farAway is longer than any arm, in metres.
const farAway = 1000
