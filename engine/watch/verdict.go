package watch

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/real"
	"spadework/engine/unit"
)

// State is what the crew may do.
type State string

// The states. Only Holds leaves the numbers on the screen.
const (
	Holds     State = "holds"
	Unclosed  State = "unclosed"   // stopped since the last close, or never read
	ReadAgain State = "read_again" // first bad close: the same point once more
	ReadNext  State = "read_next"  // then another point
	PointOff  State = "point_off"  // a benchmark or mark is not where it was
	BeamMoved State = "beam_moved" // a new set-up
)

// Numbers says that numbers may be shown.
func (s State) Numbers() bool { return s == Holds }

// Odd is the chance of a hypothesis; no causes: nothing happened.
type Odd struct {
	Causes []Cause
	Chance unit.Chance
}

// Verdict is what the watch makes of a log.
type Verdict struct {
	State State
	Odds  []Odd // the likeliest first; adding up to 1
	Left  int   // hypotheses left out because less likely than 1e-6

	Out  unit.Chance // that some closed dig is out because of the beam
	Next unit.Chance // that the beam as last read would put one of the digs out

	Moved  unit.Chance // that the beam moved at all, by bump or settling
	Before unit.Chance // the same before any reading

	LastGood Hours  // reading up to which the beam stood, by more than the limit; −∞ where none
	Risks    []Risk // of all digs, in the log's order
	Shoot    []Risk // closed digs since LastGood, to be shot again in this order; no concrete in
	Foreman  []Risk // likewise, concrete in
	Open     []string
	Shift    Shift
	Point    string           // to be read, or that is off; "" where none
	Do       []phrase.Message // what to do now, in order
}

// Judge weighs a log. The limit is the chance of a dig out because of the beam from
// which numbers go (DefaultLimit where a job has none of its own). Check shots by
// the machine can raise chances and never lower them: everything is judged with
// and without them, and the worse is told. A log with a figure that is none, an
// unknown point or a reading without an error is a fault.
func Judge(l Log, limit unit.Chance) (Verdict, *phrase.Fault) {
	if f := l.check(); f != nil {
		return Verdict{}, f
	}
	last := l.lastClose()
	hands := newSeries(l, func(r Reading) bool { return !r.Machine })
	all := newSeries(l, func(Reading) bool { return true })
	if len(all.readings) == 0 {
		return l.unread(), nil
	}
	v := all.verdict(last, limit)
	if n := len(hands.readings); n > 0 && n < len(all.readings) {
		v = worse(v, hands.verdict(last, limit), limit)
	}
	v.advise(l, limit)
	return v, nil
}

// DefaultLimit is the limit of a job that sets none. What it does on the reference
// scenario is told in docs/trust.md; a job's own is set by rehearsal.
const DefaultLimit unit.Chance = 0.1

// lastClose is the latest reading that can clear: by hand, on a benchmark or on a
// point read before.
func (l Log) lastClose() Hours {
	last := Hours(math.Inf(-1))
	for _, r := range l.Readings {
		if !r.Machine && r.At > last && (l.known(r.Point) || l.before(r)) {
			last = r.At
		}
	}
	return last
}

func (l Log) known(id string) bool {
	return slices.ContainsFunc(l.Points, func(p Point) bool { return p.ID == id && p.Known })
}

func (l Log) before(r Reading) bool {
	return slices.ContainsFunc(l.Readings, func(q Reading) bool { return q.Point == r.Point && q.At < r.At })
}

// unread is the verdict of a log without a reading.
func (l Log) unread() Verdict {
	v := Verdict{State: Unclosed, Out: 1, Next: 1, Moved: 1, Before: 1, LastGood: Hours(math.Inf(-1))}
	for _, d := range l.Digs {
		v.Risks = append(v.Risks, sums{}.risk(d, false))
		v.open(d.ID)
	}
	v.Do = []phrase.Message{phrase.New("watch.never_read")}
	return v
}

// verdict is what one series says, without advice.
func (s *series) verdict(last Hours, limit unit.Chance) Verdict {
	j := s.judge(last)
	v := Verdict{Left: j.left, Out: probability(j.some), Next: probability(j.next), Moved: probability(j.stateMoved), Before: s.before(), Risks: j.risks}
	for _, h := range j.hypotheses {
		o := Odd{Chance: probability(h.weight)}
		for _, c := range h.causes {
			o.Causes = append(o.Causes, s.list[c].Cause)
		}
		v.Odds = append(v.Odds, o)
	}
	v.LastGood = s.lastGood(v.Odds, limit)
	v.Shift = s.shift(j, v)
	v.Point = s.worst(v.LastGood)
	return v
}

// lastGood is the latest reading before which the beam moved with less than the
// limit.
func (s *series) lastGood(odds []Odd, limit unit.Chance) Hours {
	good := Hours(math.Inf(-1))
	for _, t := range s.times {
		moved := 0.0
		for _, o := range odds {
			if slices.ContainsFunc(o.Causes, func(c Cause) bool { return c.movedBy(t) }) {
				moved += float64(o.Chance)
			}
		}
		if moved >= float64(limit) {
			return good
		}
		good = t
	}
	return good
}

func (c Cause) movedBy(t Hours) bool { return c.OfBeam() && c.To <= t }

// worst is the point whose reading since a time agrees least with all others.
func (s *series) worst(since Hours) string {
	most, id := -1.0, ""
	for i, r := range s.readings {
		if r.At <= since {
			continue
		}
		unit := make([]float64, len(s.readings))
		unit[i] = 1
		if own := s.project(unit)[i]; own > 0 {
			if z := math.Abs(s.py[i]) / math.Sqrt(own); z > most {
				most, id = z, r.Point
			}
		}
	}
	return id
}

// worse joins what all readings and those by hand say: of each dig the greater
// risk; odds, shift and point of those by hand, unless all together accuse the beam.
func worse(all, hands Verdict, limit unit.Chance) Verdict {
	out := hands
	if all.accuses(limit) && !hands.accuses(limit) {
		out = all
	}
	a, b := all, hands
	out.Out, out.Next = max(a.Out, b.Out), max(a.Next, b.Next)
	out.Moved, out.Before = max(a.Moved, b.Moved), min(a.Before, b.Before)
	out.LastGood = min(a.LastGood, b.LastGood)
	out.Risks = slices.Clone(out.Risks)
	for i := range out.Risks {
		if other := a.Risks[i]; other.Out > out.Risks[i].Out {
			out.Risks[i] = other
		}
		if other := b.Risks[i]; other.Out > out.Risks[i].Out {
			out.Risks[i] = other
		}
	}
	return out
}

// accuses says that readings speak against the beam: they make it likelier to have
// moved than before, and a dig may be out by it, or it surely moved, if by little.
func (v Verdict) accuses(limit unit.Chance) bool {
	return v.Moved > v.Before && v.doubts(limit) || v.Moved > max(sure, v.Before)
}

// doubts says that a dig may be out, whether readings say so or only cannot see it.
func (v Verdict) doubts(limit unit.Chance) bool { return max(v.Out, v.Next) >= limit }

// before is the chance that the beam moved where nothing was read: of its single
// causes alone.
func (s *series) before() unit.Chance {
	moved, all := 0.0, 1.0
	for _, c := range s.list {
		odds := real.Exp(c.odds)
		all += odds
		if c.OfBeam() {
			moved += odds
		}
	}
	return probability(moved / all)
}

// Alarm is the odds that some closed dig is out because of the beam against the
// beam not having moved: 0 and more, infinite where it moved for certain. Of all
// alarms with the same false alarms it lets the fewest days with a bad bottom
// through (J. Neyman and E. S. Pearson 1933: the likelihood ratio of the two).
func (v Verdict) Alarm() float64 {
	if v.Out == 0 {
		return 0
	}
	return float64(v.Out) / math.Max(1-float64(v.Moved), 0)
}

// sorted is what to shoot first: the likeliest out, then the farthest off; of a dig
// of several points the one that comes first.
func sorted(risks []Risk) []Risk {
	slices.SortStableFunc(risks, func(a, b Risk) int {
		return cmp.Or(cmp.Compare(b.Out, a.Out), cmp.Compare(math.Abs(float64(b.By)), math.Abs(float64(a.By))), cmp.Compare(a.Dig, b.Dig))
	})
	var out []Risk
	for _, r := range risks {
		if !slices.ContainsFunc(out, func(o Risk) bool { return o.Dig == r.Dig }) {
			out = append(out, r)
		}
	}
	return out
}
