package watch

import (
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/real"
)

// What is a thing that may have happened.
type What string

// What may have happened. Nothing is the hypothesis without a cause.
const (
	Nothing  What = "nothing"
	Height   What = "height"
	Twist    What = "twist"
	Tilt     What = "tilt"
	Settling What = "settling"
	Misread  What = "misread"
	Moved    What = "moved"
	Wrong    What = "wrong"
)

// Cause is one thing that may have happened, and when.
type Cause struct {
	What     What
	From, To Hours  // between these, for bumps and moved points; from From on, for settling
	Point    string // of a misread, moved or wrong point
	Reading  int    // index of a misread
}

// OfBeam says that the cause moved the beam, not a rod or a point.
func (c Cause) OfBeam() bool {
	return c.What == Height || c.What == Twist || c.What == Tilt || c.What == Settling
}

// cause is a Cause with its unknowns, each of standard normal size.
type cause struct {
	Cause
	odds    float64      // natural logarithm of the prior odds against nothing
	modes   [][3]float64 // of the beam: what a unit does to height and tilts
	columns [][]float64  // what a unit does to each reading
	first   int          // index of its first unknown
}

// lift is what a state does at a distance from the laser.
func lift(state [3]float64, v geom.Vector) float64 {
	return state[0] + float64(state[1]*v.X) + float64(state[2]*v.Y)
}

// share is how much of a beam's cause is there at a time; a bump is there from
// when on.
func (c *cause) share(at, when Hours) float64 {
	if c.What == Settling {
		return math.Max(float64(at-c.From), 0)
	}
	if at >= when {
		return 1
	}
	return 0
}

// causes are all of a log whose readings came at the given times.
func (s *series) causes() {
	h := s.log.Habits
	for g := 1; g < len(s.times); g++ {
		from, to := s.times[g-1], s.times[g]
		span := float64(to - from)
		for _, b := range h.Bumps {
			s.addBeam(Cause{What: b.what(), From: from, To: to}, b.Rate*s.log.unseen(from, to), b.modes(s.log.Setup.Gradient))
		}
		s.addBeam(Cause{What: Settling, From: from, To: to}, h.SettleRate*span,
			modes(float64(h.SettleBy), float64(h.SettleTilt)))
		for _, p := range s.log.Points {
			if s.read(p.ID, from) {
				s.addPoint(Cause{What: Moved, From: from, To: to, Point: p.ID}, h.Moved*span)
			}
		}
	}
	for _, p := range s.log.Points {
		if p.Known {
			s.addPoint(Cause{What: Wrong, Point: p.ID, To: s.times[0]}, odds(float64(h.Wrong)))
		}
	}
	for i, r := range s.readings {
		column := make([]float64, len(s.readings))
		column[i] = float64(h.MisreadBy)
		s.add(cause{Cause: Cause{What: Misread, From: r.At, To: r.At, Point: r.Point, Reading: s.index[i]}, columns: [][]float64{column}},
			odds(float64(h.Misread)))
	}
}

// unseen is the hours between two times over which bumps go by without an alarm:
// all of them until it is armed, then the share that it does not tell.
func (l Log) unseen(from, to Hours) float64 {
	sees := float64(l.Habits.Sees)
	if !(sees > 0) {
		return float64(to - from)
	}
	deaf := 0.0
	starts := slices.Sorted(slices.Values(l.Starts))
	for i, start := range starts {
		end := start + l.Habits.Arms
		if i+1 < len(starts) {
			end = min(end, starts[i+1])
		}
		deaf += math.Max(float64(min(end, to)-max(start, from)), 0)
	}
	return float64(deaf*sees) + float64(float64(to-from)*(1-sees))
}

func odds(p float64) float64 { return p / (1 - p) }

// read says that a point was read by a time.
func (s *series) read(point string, by Hours) bool {
	for _, r := range s.readings {
		if r.Point == point && r.At <= by {
			return true
		}
	}
	return false
}

func (b Bump) what() What { return [...]What{Height, Twist, Tilt}[b.Kind] }

// modes are height, and tilts as the kind has them. A twist by a small angle
// turns the gradient: (−g_y, g_x) a radian.
func (b Bump) modes(g geom.Vector) [][3]float64 {
	switch b.Kind {
	case TiltJump:
		return modes(float64(b.Height), float64(b.Tilt))
	case TwistJump:
		w := float64(b.Twist)
		return append(modes(float64(b.Height), 0), [3]float64{0, -w * g.Y, w * g.X})
	}
	return modes(float64(b.Height), 0)
}

func modes(height, tilt float64) [][3]float64 {
	var out [][3]float64
	for i, sigma := range []float64{height, tilt, tilt} {
		if sigma > 0 {
			var m [3]float64
			m[i] = sigma
			out = append(out, m)
		}
	}
	return out
}

// addBeam adds a cause of the beam.
func (s *series) addBeam(c Cause, chance float64, modes [][3]float64) {
	out := cause{Cause: c, modes: modes}
	for _, m := range modes {
		column := make([]float64, len(s.readings))
		for i, r := range s.readings {
			column[i] = out.share(r.At, c.To) * lift(m, s.from(s.points[i].At))
		}
		out.columns = append(out.columns, column)
	}
	s.add(out, chance)
}

// addPoint adds a point that is not where it was, or where the job has it.
func (s *series) addPoint(c Cause, chance float64) {
	column := make([]float64, len(s.readings))
	for i, r := range s.readings {
		if r.Point == c.Point && r.At >= c.To {
			column[i] = -float64(s.log.Habits.MovedBy)
		}
	}
	s.add(cause{Cause: c, columns: [][]float64{column}}, chance)
}

// add keeps a cause that can happen.
func (s *series) add(c cause, chance float64) {
	if !(chance > 0) || len(c.columns) == 0 {
		return
	}
	c.odds = real.Log(chance)
	c.first = s.unknowns
	s.unknowns += len(c.columns)
	s.list = append(s.list, c)
}
