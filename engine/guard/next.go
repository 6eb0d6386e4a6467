package guard

import (
	"math"
	"slices"

	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// Next is the close of a tag that is due next.
type Next struct {
	Now     bool // before any further dig
	Point   string
	Every   int // digs between two closes
	Since   int // digs dug since the last good close
	More    int // that may be dug until it
	By      record.Stamp
	Timed   bool        // By is told: the last close was good
	OnBreak bool        // By is a natural break
	AtRisk  float64     // digs expected under a bumped beam by then
	Enough  bool        // the limit of digs at risk can be kept at all
	Walk    unit.Length // from the laser to the point and back
	Minutes float64     // of walk and reading
	Price   float64     // of the close, 0 not told
	Reveals []string    // points, the ones that show a lean first
	Last    record.ID   // close that it counts from, zero the set-up
}

// Walking and reading: 3.5 ft/s is what signals for people on foot are timed by
// (MUTCD 2009, 4E.06, from memory); a rod is carried, held plumb and written down in
// three minutes (common practice).
const (
	walkSpeed   = 3.5 * float64(unit.Foot)
	readMinutes = 3.0
)

// usualAtRisk is how many digs may be expected at risk between two closes where the
// job tells none: half a dig, so that of two closes one finds nothing to do again.
const usualAtRisk = 0.5

// next is the close that is due.
func (b *builder) next(o Beam) *Next {
	c := b.p.Job.Closes
	n := &Next{Now: !o.Numbers, Since: b.since(), Price: c.Walk}
	last, at := b.lastGood()
	n.Last = last
	s := b.schedule()
	closes, enough := s.Schedule()
	n.Enough = enough
	n.Every = s.Digs
	span := watch.Hours(float64(s.Digs) / s.Pace)
	if len(closes) > 0 {
		n.Every, span = closes[0].After, closes[0].At
	}
	if n.Every == 0 { // a break comes before the first dig
		n.Every = 1
	}
	if c.EveryMinutes > 0 {
		span = min(span, watch.Hours(c.EveryMinutes/60))
	}
	n.More = max(n.Every-n.Since, 0)
	n.Now = n.Now || n.More == 0
	n.AtRisk = watch.AtRisk(max(n.Since, n.Every), s.Pace, s.Rate)
	if o.Numbers && b.t.line[at] != nil {
		from := b.t.line[at].Time
		n.By, n.Timed = record.Stamp{Millis: from.Millis + int64(math.Round(float64(span)*3_600_000)), Offset: from.Offset}, true
		n.toBreak(c.Breaks, from)
	}
	b.where(o, n)
	return n
}

// lastGood is the last close that counts and is good, and the record from which
// time runs: it, or the set-up.
func (b *builder) lastGood() (last, from record.ID) {
	from = b.tag.Setup
	for _, c := range b.tag.Readings {
		if c.Counts && c.Good {
			last, from = c.Record, c.Record
		}
	}
	return last, from
}

// since counts the digs of which no good close is known to come after.
func (b *builder) since() int {
	var ids []string
	for _, d := range b.digs {
		if !d.point.Closed && !slices.Contains(ids, d.dig) {
			ids = append(ids, d.dig)
		}
	}
	return len(ids)
}

// schedule is the watch's for digs from now on: not more between two closes than
// the job says, nor than is cheapest where it prices walk and work.
func (b *builder) schedule() watch.Closes {
	c, day := b.p.Job.Closes, hoursOfDay(b.p)
	s := watch.Closes{
		Pace: orElse(c.DigsPerHour, math.Max(float64(len(b.p.Digs)), 1)/day), Rate: orElse(b.p.Job.Risk.BumpsPerDay, usualBumps) / day,
		Most: orElse(c.AtRisk, usualAtRisk), Digs: max(len(b.p.Digs), 1),
	}
	if c.EveryDigs > 0 {
		s.Digs = min(s.Digs, c.EveryDigs)
	}
	if c.EveryMinutes > 0 {
		s.Digs = min(s.Digs, max(int(c.EveryMinutes/60*s.Pace), 1))
	}
	if cheapest := s.Cheapest(c.Walk, c.Redo); cheapest > 0 {
		s.Digs = min(s.Digs, cheapest)
	}
	return s
}

// toBreak draws the time forward to the last natural break in the second half of
// the span, when the walk costs nothing.
func (n *Next) toBreak(breaks []float64, from record.Stamp) {
	const hour = 3_600_000
	local := func(s record.Stamp) float64 { return float64(s.Millis)/hour + float64(s.Offset)/60 }
	start, end := local(from), local(n.By)
	midnight := math.Floor(start/24) * 24
	for _, b := range slices.Backward(breaks) {
		if at := midnight + b; at >= (start+end)/2 && at <= end {
			n.By.Millis = from.Millis + int64(math.Round((at-start)*hour))
			n.OnBreak = true
			return
		}
	}
}

// where picks the point: after a bad close the one that the watch asks for; else of
// a beam that can lean the one read longest ago, of several the one that reveals
// most, and of one that cannot the nearest.
func (b *builder) where(o Beam, n *Next) {
	points := b.closingPoints()
	if len(points) == 0 {
		return
	}
	n.Reveals = watch.Reveals(b.log.Setup, points)
	n.Point = n.Reveals[0]
	switch {
	case o.Verdict.Point != "" && o.State != watch.PointOff:
		n.Point = o.Verdict.Point
	case b.leans():
		for _, id := range n.Reveals {
			if b.lastRead(id) < b.lastRead(n.Point) {
				n.Point = id
			}
		}
	default:
		n.Point = b.nearest(points)
	}
	i := slices.IndexFunc(b.log.Points, func(p watch.Point) bool { return p.ID == n.Point })
	n.Walk = unit.Length(2 * b.log.Points[i].At.Distance(b.plane.At))
	n.Minutes = float64(n.Walk)/walkSpeed/60 + readMinutes
}

// closingPoints are benchmarks and beam marks, but one that is off.
func (b *builder) closingPoints() []watch.Point {
	var out []watch.Point
	for _, p := range b.log.Points {
		mark := slices.ContainsFunc(b.st.Log, func(l record.Line) bool {
			m, ok := l.Payload.(*record.BeamMark)
			return ok && m.Setup == b.tag.Setup && m.Mark == p.ID
		})
		if p.Known || mark {
			out = append(out, p)
		}
	}
	return out
}

// leans says that a bump may leave the beam other than level as set up.
func (b *builder) leans() bool {
	return slices.ContainsFunc(b.log.Habits.Bumps, func(x watch.Bump) bool { return x.Kind != watch.HeightJump })
}

func (b *builder) lastRead(point string) watch.Hours {
	last := watch.Hours(-1)
	for _, r := range b.log.Readings {
		if r.Point == point {
			last = max(last, r.At)
		}
	}
	return last
}

func (b *builder) nearest(points []watch.Point) string {
	best := points[0]
	for _, p := range points[1:] {
		if p.At.Distance(b.plane.At) < best.At.Distance(b.plane.At) {
			best = p
		}
	}
	return best.ID
}
