package watch

import (
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Shift is how the beam stands over the beam as set up, if it moved: for judging
// digs again, never for correcting numbers.
type Shift struct {
	Height unit.Length // at the laser, up positive
	Lean   bool        // that a direction may be told
	Falls  unit.Angle  // bearing towards which it leans down, where Lean
	Grade  unit.Grade  // steepest, over 0, where Lean
}

// wellSpread is the least height of a triangle of points over its longest side
// for a direction of lean to be told: a right triangle of sides 1 : 4 just has it.
const wellSpread = 0.24

// shift is the mean over what may have happened to the beam. A direction is told
// only if tilting is more likely than not and three well-spread points were read
// since the last good close.
func (s *series) shift(j judged, v Verdict) Shift {
	out := Shift{Height: unit.Length(j.state[0])}
	tilted := 0.0
	for _, h := range j.hypotheses {
		if s.tilts(h) {
			tilted += h.weight
		}
	}
	if !(tilted > j.stateMoved/2) || !spread(s.since(v.LastGood)) {
		return out
	}
	tilt := geom.Vector{X: j.state[1], Y: j.state[2]}
	out.Lean, out.Grade = true, unit.Grade(tilt.Length())
	bearing := math.Atan2(-tilt.X, -tilt.Y)
	if bearing < 0 {
		bearing += 2 * math.Pi
	}
	out.Falls = unit.Angle(bearing)
	return out
}

func (s *series) tilts(h hypothesis) bool {
	return slices.ContainsFunc(h.causes, func(c int) bool {
		return slices.ContainsFunc(s.list[c].modes, func(m [3]float64) bool { return m[1] != 0 || m[2] != 0 })
	})
}

// since is the points read after a time, each once.
func (s *series) since(t Hours) []geom.Point {
	var out []geom.Point
	for i, r := range s.readings {
		if p := s.points[i].At; r.At > t && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}

// spread says that some three of the points are well spread.
func spread(points []geom.Point) bool {
	for i, a := range points {
		for j, b := range points[:i] {
			for _, c := range points[:j] {
				longest := max(a.Distance(b), b.Distance(c), c.Distance(a))
				if math.Abs(b.Sub(a).Cross(c.Sub(a))) >= wellSpread*longest*longest {
					return true
				}
			}
		}
	}
	return false
}
