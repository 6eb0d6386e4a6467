package machine

import (
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Span is the horizontal distances, from the swing centre in the plane of the
// arm, between which something can be done; 0 ≤ Near < Far. An arm that reaches
// under the machine and behind the centre counts from 0.
type Span struct{ Near, Far unit.Length }

// Envelope is where the teeth reach. The zero Envelope is not known and reaches
// nowhere.
type Envelope struct {
	linkage *Linkage
	sheet   *Sheet
}

// Known says that anything is known of the reach.
func (e Envelope) Known() bool { return e.linkage != nil || e.sheet != nil }

// Cautious says that the reach comes from the few figures of a sheet, taken so
// that the machine itself reaches farther.
func (e Envelope) Cautious() bool {
	return e.linkage == nil && e.sheet != nil && len(e.sheet.Floors) == 0
}

// Span is where a level floor can be cut at a depth below the ground the machine
// stands on (negative above it): every distance between near and far can be
// reached with the teeth no higher than the bucket's pin. ok is false where no
// floor can be cut, for an unknown envelope, and for NaN.
func (e Envelope) Span(depth unit.Length) (s Span, ok bool) {
	switch {
	case e.linkage != nil:
		return e.linkage.floor(depth)
	case e.sheet != nil:
		return e.sheet.floor(depth)
	}
	return Span{}, false
}

// columnStep is the distance between the floors that Column looks at: a thin
// layer of a hoe (common practice 5 to 15 cm); between two of them the reach
// turns by millimetres.
const columnStep = 50 * unit.Millimetre

// Column is where a hole can be dug down from the ground to a depth: the
// distances at which every floor on the way can be cut, looked at each 50 mm and
// at the depth. For a depth that is not positive it is Span.
func (e Envelope) Column(depth unit.Length) (s Span, ok bool) {
	s, ok = e.Span(depth)
	for d := unit.Length(0); ok && d < depth; d += columnStep {
		var above Span
		above, ok = e.Span(d)
		s = Span{max(s.Near, above.Near), min(s.Far, above.Far)}
		ok = ok && s.Near < s.Far
	}
	if !ok {
		return Span{}, false
	}
	return s, true
}

// Cutting is the bucket's angle from horizontal, pin to teeth, while it cuts a
// floor: with the pin below the teeth its back would be in the floor.
var cutting = Range{-math.Pi, 0}

// arm is the linkage with the bucket's angle from horizontal in a range.
func (l Linkage) arm(cut Range) arm {
	return arm{l1: float64(l.Boom), l2: float64(l.Stick), l3: float64(l.Bucket), limits: l, cut: cut}
}

// floor is Span of a linkage.
func (l Linkage) floor(depth unit.Length) (Span, bool) {
	return l.across(l.arm(cutting), float64(-depth-l.FootHeight))
}

// across is the farthest stretch of distances that an arm reaches at a height
// over its foot pin.
func (l Linkage) across(m arm, y float64) (Span, bool) {
	var xs []float64
	for _, p := range m.ends(y) {
		xs = append(xs, p.X)
	}
	if len(xs) == 0 {
		return Span{}, false
	}
	slices.Sort(xs)
	far := xs[len(xs)-1]
	near := far
	for i := len(xs) - 2; i >= 0; i-- {
		if xs[i+1]-xs[i] > angleSlack && !m.reaches(geom.Vector{X: (xs[i] + xs[i+1]) / 2, Y: y}) {
			break
		}
		near = xs[i]
	}
	out := Span{max(0, unit.Length(near)+l.FootForward), unit.Length(far) + l.FootForward}
	return out, out.Near < out.Far
}

// Envelope is the reach of a linkage; a fault names what of it cannot be.
func (l Linkage) Envelope() (Envelope, *phrase.Fault) {
	if f := l.check(); f != nil {
		return Envelope{}, f
	}
	return Envelope{linkage: &l}, nil
}

// check finds a length that is not positive and an angle that cannot be.
func (l Linkage) check() *phrase.Fault {
	for _, v := range []struct {
		name string
		l    unit.Length
	}{{"boom", l.Boom}, {"stick", l.Stick}, {"bucket", l.Bucket}} {
		if !(v.l > 0) || math.IsInf(float64(v.l), 0) {
			return linkageFault("machine.link_length", v.name)
		}
	}
	for _, v := range []struct {
		name string
		r    Range
	}{{"boom", l.BoomAngles}, {"stick", l.StickAngles}, {"bucket", l.BucketAngles}} {
		if !(v.r.Low < v.r.High) || !(v.r.Low >= -2*math.Pi) || !(v.r.High <= 2*math.Pi) {
			return linkageFault("machine.link_angles", v.name)
		}
	}
	if !(l.StickAngles.Low > -math.Pi && l.StickAngles.High < 0) {
		return linkageFault("machine.stick_angles", "stick")
	}
	return nil
}

// linkageFault is a fault of one part of a linkage.
func linkageFault(key phrase.Key, part string) *phrase.Fault {
	return phrase.NewFault(phrase.New(key, phrase.With("part", phrase.New(phrase.Key("machine.part_"+part)))),
		phrase.New(key+".remedy")).At(phrase.Place{Path: part})
}
