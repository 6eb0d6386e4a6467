package machine

import (
	"math"
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Sheet is the reach figures that a machine's sheet prints. Zero is not known.
type Sheet struct {
	MaxReach   unit.Length // at the ground, from the swing centre
	MaxDepth   unit.Length
	LevelDepth unit.Length // of a level bottom 2.44 m (8 ft) long
	WallDepth  unit.Length // of a vertical wall
	DumpHeight unit.Length // under the teeth
	DumpReach  unit.Length // at that height, from the swing centre; zero is not known
	Floors     []Floor     // read off the sheet's diagram, by rising depth
}

// Floor is a level floor that a sheet's diagram shows.
type Floor struct {
	Depth unit.Length
	Span
}

// Shares by which a sheet's few figures are read so that the machine itself
// reaches at least as far. Assumed by this program; a property test holds them
// over a family of linkages from mini to large (their limits common practice).
const (
	middleShare = 0.5  // of the reach: where the arm stands at its deepest
	depthShare  = 0.85 // of the greatest depth: floors deeper are not counted on
	heightShare = 0.10 // of the reach: ground this much higher is reached as far
)

// Envelope is the reach by the figures of a sheet. Between the floors of its
// diagram far is taken along straight lines, under which the reach bulges out,
// and near as the worse of the two. Without floors it is Cautious: from half the
// reach to a line from the reach at the ground to half of it at the greatest
// depth, as deep as the level bottom and 85 % of the greatest depth. A
// fault tells the figure that is missing or cannot be; its place is the one of
// the level bottom, else none.
func (s Sheet) Envelope() (Envelope, *phrase.Fault) {
	if len(s.Floors) == 0 && (!(s.MaxReach > 0) || !(s.MaxDepth > 0)) {
		return Envelope{}, phrase.NewFault(phrase.New("machine.sheet_short"), phrase.New("machine.sheet_short.remedy"))
	}
	for i, f := range s.Floors {
		if i > 0 && !(f.Depth > s.Floors[i-1].Depth) {
			return Envelope{}, phrase.NewFault(phrase.New("machine.floor_order"), phrase.New("machine.floor_order.remedy"))
		}
		if !(f.Near >= 0 && f.Near < f.Far) {
			return Envelope{}, phrase.NewFault(
				phrase.New("machine.floor_span", phrase.With("near", f.Near), phrase.With("far", f.Far)),
				phrase.New("machine.floor_span.remedy"))
		}
	}
	if s.LevelDepth > s.MaxDepth && s.MaxDepth > 0 {
		return Envelope{}, phrase.NewFault(
			phrase.New("machine.level_depth", phrase.With("level", s.LevelDepth), phrase.With("deepest", s.MaxDepth)),
			phrase.New("machine.level_depth.remedy")).At(phrase.Place{Path: "level_depth"})
	}
	s.Floors = slices.Clone(s.Floors)
	return Envelope{sheet: &s}, nil
}

// floor is Span of a sheet.
func (s Sheet) floor(depth unit.Length) (Span, bool) {
	if len(s.Floors) > 0 {
		return s.drawn(depth)
	}
	deepest := s.deepest()
	if !(depth <= deepest) || !(depth >= -heightShare*s.MaxReach) {
		return Span{}, false
	}
	near := middleShare * s.MaxReach
	share := unit.Length(max(0, depth) / s.MaxDepth)
	return Span{near, s.MaxReach - (s.MaxReach-near)*share}, true
}

// deepest is the depth down to which floors are counted on.
func (s Sheet) deepest() unit.Length {
	if n := len(s.Floors); n > 0 {
		return s.Floors[n-1].Depth
	}
	if s.LevelDepth > 0 {
		return min(s.LevelDepth, depthShare*s.MaxDepth)
	}
	return depthShare * s.MaxDepth
}

// drawn is floor between the floors of a diagram; none beyond the first and
// last.
func (s Sheet) drawn(depth unit.Length) (Span, bool) {
	i := slices.IndexFunc(s.Floors, func(f Floor) bool { return f.Depth >= depth })
	if i < 0 || math.IsNaN(float64(depth)) {
		return Span{}, false
	}
	under := s.Floors[i]
	if under.Depth == depth {
		return under.Span, true
	}
	if i == 0 {
		return Span{}, false
	}
	over := s.Floors[i-1]
	t := (depth - over.Depth) / (under.Depth - over.Depth)
	out := Span{max(over.Near, under.Near), over.Far + t*(under.Far-over.Far)}
	return out, out.Near < out.Far
}
