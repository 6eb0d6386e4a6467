package guard

import (
	"math"
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/watch"
)

// usualStart is when a day begins where the job tells none (common practice).
const usualStart = 7

// Day is the closes of a day that digs all of the job's digs, from one set-up.
type Day struct {
	Closes []DayClose
	Every  int     // digs between two closes, at most
	AtRisk float64 // digs expected under a bumped beam between two closes, at most
	Enough bool    // the limit of digs at risk is kept
}

// DayClose is one of a day.
type DayClose struct {
	After int         // digs dug by then
	Clock watch.Hours // after midnight
	Break bool
	Point string // to read, "" no benchmark is in reach
}

// CloseDay is the schedule of closes before the first record: the fewest that keep
// the digs at risk within the job's limit, drawn to its breaks, over the points of
// its first set-up in turn for a laser that can lean, on the nearest for one that
// cannot. False where the job has no digs or no laser.
func CloseDay(p *plan.Plan) (Day, bool) {
	if len(p.Digs) == 0 || len(p.Job.Lasers) == 0 {
		return Day{}, false
	}
	b := &builder{p: p}
	s := b.schedule()
	every := s.Digs
	s.Digs = len(p.Digs)
	start := orElse(p.Job.Closes.Start, usualStart)
	for _, at := range p.Job.Closes.Breaks {
		if at > start {
			s.Breaks = append(s.Breaks, watch.Hours(at-start))
		}
	}
	s.Span = every
	closes, enough := s.Schedule()
	out := Day{Enough: enough}
	points := b.dayPoints()
	before := 0
	for i, c := range closes {
		one := DayClose{After: c.After, Clock: watch.Hours(start) + c.At, Break: c.Break}
		if len(points) > 0 {
			one.Point = points[i%len(points)]
		}
		out.Every = max(out.Every, c.After-before)
		before = c.After
		out.Closes = append(out.Closes, one)
	}
	out.AtRisk = watch.AtRisk(out.Every, s.Pace, s.Rate)
	return out, true
}

// dayPoints are the points to close on in turn from the first set-up with a place:
// those that show a lean first, or the nearest alone where none can come.
func (b *builder) dayPoints() []string {
	for _, s := range b.p.Setups {
		var points []watch.Point
		for _, m := range b.p.Job.Benchmarks {
			on := b.p.Job.Closes.On
			if m.Placed && m.At.Distance(s.Plane.At) <= float64(s.Laser.Range) && (len(on) == 0 || slices.Contains(on, m.ID)) {
				points = append(points, watch.Point{ID: m.ID, At: m.At, Known: true})
			}
		}
		if len(points) == 0 {
			continue
		}
		b.plane = s.Plane
		if kindOf(s.Laser, s.Plane.Gradient) == watch.HeightJump {
			return []string{b.nearest(points)}
		}
		return watch.Reveals(watch.Setup{At: s.Plane.At}, points)
	}
	return nil
}

// Text is the day in words.
func (d Day) Text() []phrase.Message {
	var closes []phrase.Message
	for _, c := range d.Closes {
		key := phrase.Key("guard.day_close")
		if c.Break {
			key = "guard.day_break"
		}
		closes = append(closes, phrase.New(key, phrase.With("count", c.After), phrase.With("time", clock(c.Clock)), phrase.With("point", c.Point)))
	}
	out := append([]phrase.Message{phrase.New("guard.day", phrase.With("count", len(d.Closes)))}, closes...)
	if !d.Enough {
		return append(out, phrase.New("guard.next_not_enough"))
	}
	return append(out, phrase.New("guard.next_risk", phrase.With("count", d.Every), phrase.With("every", d.Every),
		phrase.With("risk", math.Round(d.AtRisk*100)/100)))
}

// clock is 09:30 of hours after midnight.
func clock(h watch.Hours) string {
	minutes := int(math.Round(float64(h)*60)) % (24 * 60)
	two := func(n int) string { return string(rune('0'+n/10)) + string(rune('0'+n%10)) }
	return two(minutes/60) + ":" + two(minutes%60)
}
