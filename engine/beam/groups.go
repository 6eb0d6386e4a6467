package beam

import (
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
	level, sloped, f := sortWants(wants)
	if f != nil {
		return nil, nil, f
	}
	if len(level.Digs) > 0 {
		groups = append(groups, level)
	}
	var left []Want
	for _, w := range sloped {
		if f := laser.reachesSlope(w.Run); f != nil {
			unserved = append(unserved, Reason{Dig: w.Run.ID, Because: f.What})
			continue
		}
		left = append(left, w)
	}
	for len(left) > 0 {
		g, served := bestGradient(left, laser)
		group := Group{Gradient: g}
		var rest []Want
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

// sortWants is the level group and the sloped runs, both by id.
func sortWants(wants []Want) (level Group, sloped []Want, f *phrase.Fault) {
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
		sloped = append(sloped, w)
	}
	return level, sloped, nil
}

// reachesSlope is nil if the laser can be dialled to the run's slope from one
// side or the other.
func (l Laser) reachesSlope(r Run) *phrase.Fault {
	return l.reachesGradient(r.gradient())
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
// earlier one where two serve as many.
func bestGradient(left []Want, laser Laser) (geom.Vector, []bool) {
	var best geom.Vector
	var served []bool
	most := 0
	try := func(g geom.Vector) {
		if s, n := servedBy(g, left); n > most && laser.reachesGradient(g) == nil {
			best, served, most = g, s, n
		}
	}
	for _, w := range left {
		try(w.Run.gradient())
	}
	for i, a := range left {
		for _, b := range left[i+1:] {
			if g, ok := commonGradient(a.Run, b.Run); ok {
				try(g)
			}
		}
	}
	return best, served
}

// servedBy says which wants a gradient serves with one rod each.
func servedBy(g geom.Vector, wants []Want) (served []bool, n int) {
	served = make([]bool, len(wants))
	for i, w := range wants {
		if underGradient(g, w).Fits {
			served[i] = true
			n++
		}
	}
	return served, n
}

// underGradient is the one rod of a run under a plane of this gradient.
func underGradient(g geom.Vector, w Want) OneRodCheck {
	low, high := planeOf(g, w.Run.From).rodRange(w.Run)
	return bestRod(low, high, w.Allowed)
}

// whyNot says what the plane of a group would do to a run.
func whyNot(first Group, w Want) Reason {
	c := underGradient(first.Gradient, w)
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
