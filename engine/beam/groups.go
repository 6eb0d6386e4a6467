package beam

import (
	"math"
	"slices"
	"strings"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Want is one dig as the choice of planes sees it.
type Want struct {
	Run     Run  // only its ID counts where OneRod is false
	OneRod  bool // a sloped trench that is to have one rod for its whole run
	Allowed Band // what one rod may be out by, as a rule ToleranceShare of the tolerance
}

// Group is digs that one dial serves. Why says for each dig of a group after the
// first why the first group's plane does not serve it.
type Group struct {
	Gradient geom.Vector // zero is level
	Digs     []string    // by id
	Why      []Reason    // by dig
}

// Reason is a dig and a word about it.
type Reason struct {
	Dig     string
	Because phrase.Message
}

// Groups sorts digs by the planes that serve them: a level one for all that do
// not ask for one rod along a slope, then dialled ones, each the plane of one
// run or of two together that serves most of those left. It is a greedy choice
// before the dial is rounded, not proven fewest; DialForRun and OneRod have the
// last word. Runs too steep for the laser come back as unserved, with the reason.
func Groups(wants []Want, laser Laser) (groups []Group, unserved []Reason, f *phrase.Fault) {
	level, runs, f := sortWants(wants)
	if f != nil {
		return nil, nil, f
	}
	if len(level.Digs) > 0 {
		groups = append(groups, level)
	}
	var left []sloped
	for _, w := range runs {
		if f := laser.reachesGradient(w.gradient); f != nil {
			unserved = append(unserved, Reason{Dig: w.Run.ID, Because: f.What})
			continue
		}
		left = append(left, w)
	}
	for len(left) > 0 {
		group := Group{}
		var served []bool
		group.Gradient, served = bestGradient(left, laser)
		var rest []sloped
		for i, w := range left {
			if !served[i] {
				rest = append(rest, w)
				continue
			}
			group.Digs = append(group.Digs, w.Run.ID)
			if len(groups) > 0 {
				group.Why = append(group.Why, whyNot(groups[0], w))
			}
		}
		groups, left = append(groups, group), rest
	}
	return groups, unserved, nil
}

// sloped is a run that is to have one rod, with what is asked of it often.
type sloped struct {
	Want
	along    geom.Vector
	gradient geom.Vector
	length   float64
}

// sortWants is the level group and the sloped runs, both by id.
func sortWants(wants []Want) (level Group, runs []sloped, f *phrase.Fault) {
	byID := slices.Clone(wants)
	slices.SortStableFunc(byID, func(a, b Want) int { return strings.Compare(a.Run.ID, b.Run.ID) })
	for _, w := range byID {
		if !w.OneRod {
			level.Digs = append(level.Digs, w.Run.ID)
			continue
		}
		if f := w.Run.check(); f != nil {
			return Group{}, nil, f
		}
		if f := checkPlaneAndBand(Plane{}, w.Allowed); f != nil {
			return Group{}, nil, f
		}
		runs = append(runs, sloped{Want: w, along: w.Run.Direction(), gradient: w.Run.gradient(), length: float64(w.Run.Length())})
	}
	return level, runs, nil
}

// reachesGradient is nil if the laser, aimed straight down or up a gradient,
// takes it.
func (l Laser) reachesGradient(g geom.Vector) *phrase.Fault {
	s := unit.Grade(g.Length())
	down := l.Takes(Dial{Grade: -s})
	if down == nil || l.Takes(Dial{Grade: s}) == nil {
		return nil
	}
	return down
}

// bestGradient is the plane of one run or two that serves most of them; the
// earlier one where two serve as many. Its work grows with the third power of
// the number of runs that are not parallel.
func bestGradient(left []sloped, laser Laser) (best geom.Vector, served []bool) {
	most := 0
	try := func(g geom.Vector) {
		if n := countServed(g, left); n > most && laser.reachesGradient(g) == nil {
			best, most = g, n
		}
	}
	for _, w := range left {
		try(w.gradient)
	}
	for i, a := range left {
		for _, b := range left[i+1:] {
			if math.Abs(a.along.Cross(b.along)) < parallelRuns {
				continue // one plane for both is a's own, tried above
			}
			if g, ok := commonGradient(a.Run, b.Run); ok {
				try(g)
			}
		}
	}
	served = make([]bool, len(left))
	for i, w := range left {
		served[i] = w.servedBy(best)
	}
	return best, served
}

// countServed is how many runs a gradient serves with one rod each.
func countServed(g geom.Vector, wants []sloped) (n int) {
	for _, w := range wants {
		if w.servedBy(g) {
			n++
		}
	}
	return n
}

// spread is how far the exact rods of a run lie apart under a gradient, in
// metres: OneRod without curvature, in closed form.
func (w sloped) spread(g geom.Vector) float64 {
	lengthwise := math.Abs(g.Plus(w.gradient.Scale(-1)).Dot(w.along)) * w.length
	across := math.Abs(g.Dot(w.along.Right())) * float64(w.Run.Width)
	return float64(lengthwise) + float64(across)
}

// servedBy says that one rod serves the run under a gradient.
func (w sloped) servedBy(g geom.Vector) bool {
	return bestRod(0, w.spread(g), w.Allowed).Fits
}

// whyNot says what the plane of a group would do to a run.
func whyNot(first Group, w sloped) Reason {
	c := bestRod(0, w.spread(first.Gradient), w.Allowed)
	args := []phrase.Arg{
		phrase.With("run", w.Run.ID), phrase.With("fall", w.Run.Fall()),
		phrase.With("digs", first.Digs), phrase.With("out", max(c.TooHigh, c.TooLow)),
		phrase.With("above", w.Allowed.Above), phrase.With("below", w.Allowed.Below),
	}
	if first.Gradient == (geom.Vector{}) {
		return Reason{Dig: w.Run.ID, Because: phrase.New("beam.not_under_level", args...)}
	}
	return Reason{Dig: w.Run.ID, Because: phrase.New("beam.not_under_dial", args...)}
}
