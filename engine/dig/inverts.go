package dig

import (
	"math"
	"sort"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// knot is an invert of a run: what the pipe has just before the station and
// just after it, seen from the line's first point onward.
type knot struct {
	station       float64
	before, after unit.Elevation
}

// flowline is the invert all along a run: straight from knot to knot, beyond the
// first and last by the fall of the piece next to them.
type flowline struct {
	knots  []knot
	single unit.Grade // the rise where there is one knot
}

// noFall is the largest difference of two inverts that counts as none: the
// micrometre that elevations are rounded to.
const noFall = 1e-6

// newFlowline sorts out which way the water runs and judges the inverts.
func (r *run) newFlowline() (flowline, error) {
	list, err := r.gatherInverts()
	if err != nil {
		return flowline{}, err
	}
	onward, err := flowsOnward(list, r.x.Fall)
	if err != nil {
		return flowline{}, err
	}
	f := flowline{single: r.x.rise()}
	for _, v := range list {
		k := knot{float64(v.Station), v.In, v.Out}
		if !onward {
			k.before, k.after = k.after, k.before
		}
		f.knots = append(f.knots, k)
	}
	if r.x.Tolerance != nil && r.x.Tolerance.NoReverse {
		err = f.reverses(onward)
	}
	return f, err
}

// gatherInverts joins the run's inverts with those its structures give.
func (r *run) gatherInverts() ([]Invert, error) {
	list := make([]Invert, 0, len(r.x.Inverts)+len(r.x.Structures))
	for i, v := range r.x.Inverts {
		if err := r.checkInvert(&v, i); err != nil {
			return nil, err
		}
		if i > 0 && !(v.Station > list[i-1].Station) {
			return nil, fault(item("inverts", i, "station"), "dig.station_order",
				phrase.With("value", v.Station), phrase.With("last", list[i-1].Station))
		}
		list = append(list, v)
	}
	for i, s := range r.x.Structures {
		in, out, ok := s.inverts()
		if !ok {
			continue
		}
		v := Invert{s.Station, in, out}
		if err := r.checkInvert(&v, -1); err != nil {
			return nil, inside(item("structures", i, ""), err.(*phrase.Fault))
		}
		at := sort.Search(len(list), func(k int) bool { return list[k].Station >= v.Station })
		if at < len(list) && list[at].Station == v.Station {
			if differ(list[at].In, in) || differ(list[at].Out, out) {
				return nil, conflict(item("structures", i, ""), "dig.invert_twice", phrase.With("station", v.Station))
			}
			continue
		}
		list = append(list, Invert{})
		copy(list[at+1:], list[at:])
		list[at] = v
	}
	return list, nil
}

// checkInvert judges one invert and snaps its station; i < 0 is one of a
// structure.
func (r *run) checkInvert(v *Invert, i int) error {
	path := func(field string) string {
		if i < 0 {
			return field
		}
		return item("inverts", i, field)
	}
	if err := known(path("in"), float64(v.In)); err != nil {
		return err
	}
	if err := known(path("out"), float64(v.Out)); err != nil {
		return err
	}
	s, err := r.line.inside(v.Station, path("station"))
	v.Station = unit.Station(s)
	return err
}

// inverts are those a structure gives; one alone stands for both.
func (s Structure) inverts() (in, out unit.Elevation, ok bool) {
	switch {
	case s.InvertIn != nil && s.InvertOut != nil:
		return *s.InvertIn, *s.InvertOut, true
	case s.InvertIn != nil:
		return *s.InvertIn, *s.InvertIn, true
	case s.InvertOut != nil:
		return *s.InvertOut, *s.InvertOut, true
	}
	return 0, 0, false
}

// differ says that two elevations are apart by more than their rounding.
func differ(a, b unit.Elevation) bool { return math.Abs(float64(a-b)) > noFall }

// flowsOnward says that water runs from the first station to the last. It is a
// fault if neither the ends nor the fall tell and some station has two inverts,
// whose sides then stay unknown.
func flowsOnward(list []Invert, fall unit.Grade) (bool, error) {
	first, last := list[0], list[len(list)-1]
	onward, back := first.Out > last.In, last.Out > first.In
	if len(list) == 1 {
		onward, back = fall > 0, fall < 0
	}
	if onward != back {
		return onward, nil
	}
	for i, v := range list {
		if differ(v.In, v.Out) {
			return false, fault(item("inverts", i, ""), "dig.flow_unknown", phrase.With("station", v.Station))
		}
	}
	return true, nil
}

// reverses is a fault if some piece or structure rises the way the water runs.
func (f flowline) reverses(onward bool) error {
	sign := unit.Length(1)
	if !onward {
		sign = -1
	}
	for i, k := range f.knots {
		if rise := sign * k.after.Above(k.before); rise > noFall {
			return conflict(item("inverts", i, ""), "dig.reverse_in_structure",
				phrase.With("station", unit.Station(k.station)), phrase.With("rise", rise))
		}
		if i == 0 {
			continue
		}
		last := f.knots[i-1]
		if rise := sign * k.before.Above(last.after); rise > noFall {
			return conflict(item("inverts", i, ""), "dig.reverse",
				phrase.With("from", unit.Station(last.station)), phrase.With("to", unit.Station(k.station)),
				phrase.With("rise", rise))
		}
	}
	return nil
}

// after is the knot that a piece which starts at s counts from, the elevation
// there and the rise onward.
func (f flowline) after(s float64) (k knot, z unit.Elevation, g unit.Grade) {
	n := len(f.knots)
	if n == 1 {
		k = f.knots[0]
		if s < k.station {
			return k, k.before, f.single
		}
		return k, k.after, f.single
	}
	if s < f.knots[0].station {
		return f.knots[0], f.knots[0].before, f.grade(0)
	}
	i := sort.Search(n, func(i int) bool { return f.knots[i].station > s }) - 1
	if i == n-1 {
		return f.knots[i], f.knots[i].after, f.grade(n - 2)
	}
	return f.knots[i], f.knots[i].after, f.grade(i)
}

// sides are the invert just before and just after a station.
func (f flowline) sides(s float64) [2]unit.Elevation {
	k, z, g := f.after(s)
	after := z.Plus(g.Over(unit.Length(s - k.station)))
	for _, k := range f.knots {
		if k.station == s {
			return [2]unit.Elevation{k.before, k.after}
		}
	}
	return [2]unit.Elevation{after, after}
}

// grade is the rise from knot i to the next.
func (f flowline) grade(i int) unit.Grade {
	a, b := f.knots[i], f.knots[i+1]
	return unit.Grade(float64(b.before.Above(a.after)) / (b.station - a.station))
}

// extended is how far the line runs beyond the first and last invert, together.
func (f flowline) extended(length float64) float64 {
	return f.knots[0].station + length - f.knots[len(f.knots)-1].station
}

// rise is what the pipes alone rise from the first knot to the last, without
// drops in structures.
func (f flowline) rise() unit.Length {
	var sum unit.Length
	for i := 1; i < len(f.knots); i++ {
		sum += f.knots[i].before.Above(f.knots[i-1].after)
	}
	return sum
}
