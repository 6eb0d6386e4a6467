package watch

import (
	"math"
	"slices"

	"spadework/engine/real"
	"spadework/engine/unit"
)

// AtRisk is how many of n digs, dug evenly pace an hour after a close, are
// expected to lie under a beam that was bumped since it, for bumps at a rate an
// hour: Σ 1 − exp(−rate·i/pace). NaN where pace is not over 0.
func AtRisk(n int, pace, rate float64) float64 {
	if !(pace > 0) {
		return math.NaN()
	}
	sum := 0.0
	for i := 1; i <= n; i++ {
		sum -= real.Expm1(-float64(rate*float64(i)) / pace)
	}
	return sum
}

// Closes is when to close over a day.
type Closes struct {
	Pace   float64 // digs an hour
	Rate   float64 // bumps an hour
	Most   float64 // digs expected at risk between two closes, at most
	Digs   int     // of the day
	Span   int     // digs between two closes at most, whatever is at risk; 0 not told
	Breaks []Hours // natural ones, when the walk costs nothing
}

// Close is one of a schedule.
type Close struct {
	After int // digs dug by then
	At    Hours
	Break bool // falls on a natural break
}

// Schedule is the fewest closes that keep the expected digs at risk under the
// limit; each is put off as long as the limit allows, and drawn forward to the last
// natural break since half of that span. The last close follows the last dig. Where
// even one dig is over the limit every dig is closed, and enough is false.
func (c Closes) Schedule() (closes []Close, enough bool) {
	span := 0
	for span < c.Digs && AtRisk(span+1, c.Pace, c.Rate) <= c.Most {
		span++
	}
	enough = span > 0
	if c.Span > 0 {
		span = min(span, c.Span)
	}
	span = max(span, 1)
	for done := 0; done < c.Digs; {
		next := Close{After: min(done+span, c.Digs)}
		next.At = Hours(float64(next.After) / c.Pace)
		if next.After < c.Digs {
			next = c.onBreak(next, done+(span+1)/2)
		}
		done = next.After
		closes = append(closes, next)
	}
	return closes, enough
}

// Cheapest is how many digs between two closes cost least a dig: the walk shared by
// them, and the digs at risk done again. 0 where either has no price.
func (c Closes) Cheapest(walk, redo float64) int {
	if !(walk > 0) || !(redo > 0) {
		return 0
	}
	best, least := 0, math.Inf(1)
	for n := 1; n <= c.Digs; n++ {
		if cost := (walk + float64(redo*AtRisk(n, c.Pace, c.Rate))) / float64(n); cost < least {
			best, least = n, cost
		}
	}
	return best
}

// onBreak is the close drawn forward to the last break not before from digs.
func (c Closes) onBreak(n Close, from int) Close {
	for _, b := range slices.Backward(slices.Sorted(slices.Values(c.Breaks))) {
		digs := int(math.Floor(float64(b) * c.Pace))
		if b <= n.At && digs >= from {
			return Close{After: digs, At: b, Break: true}
		}
	}
	return n
}

// Reveals orders points by how much a reading on each tells of a tilt: the
// farthest from the laser first, then those that add another direction.
func Reveals(s Setup, points []Point) []string {
	left := slices.Clone(points)
	var read []Point
	var out []string
	for len(left) > 0 {
		best, most := 0, unit.Length(-1)
		for i, p := range left {
			if d := lever(s, p, read); d > most {
				best, most = i, d
			}
		}
		read = append(read, left[best])
		out = append(out, left[best].ID)
		left = slices.Delete(left, best, best+1)
	}
	return out
}

// lever is a point's distance from the laser and from every point read before,
// whichever is least.
func lever(s Setup, p Point, read []Point) unit.Length {
	d := p.At.Distance(s.At)
	for _, q := range read {
		d = math.Min(d, p.At.Distance(q.At))
	}
	return unit.Length(d)
}
