package siting

import (
	"math"
	"slices"

	"spadework/engine/reception"
	"spadework/engine/unit"
)

// candidate is one set-up that could be.
type candidate struct {
	place, gradient int32
	low, high       float64
	cells           []int32
	errors          []int32 // of each cell, in errorStep, rounded up; 0 unknown
	benchmarks      []int
}

// errorStep is how finely errors are told apart: what is a hundredth of a
// millimetre better is no reason to walk.
const errorStep = 1e-5

// survey finds the candidates of places, one place at a time.
type survey struct {
	p       *Problem
	scratch reception.Scratch
	targets [][]reception.Target // by gradient: the targets of part, then the benchmarks
	part    [][]int32            // by gradient: the cells that it suits of which one target is enough
	whole   [][]int32            // by gradient: those that need all of theirs
	missed  []Miss               // by cell: how the best place fails
	served  []bool               // by cell: some candidate does
	spans   []span
	room    []span
	alive   []asked
	row     []reception.Target
	lost    []int32
}

func newSurvey(p *Problem) *survey {
	s := &survey{p: p, missed: make([]Miss, len(p.Cells)), served: make([]bool, len(p.Cells))}
	for c := range s.missed {
		s.missed[c] = Miss{Cell: c, Why: NoPlace, index: -1}
	}
	for g := range p.Gradients {
		var targets []reception.Target
		var part, whole []int32
		for c, cell := range p.Cells {
			switch {
			case !cell.suits(g) || len(cell.Targets) == 0:
			case cell.Any:
				targets = append(targets, cell.Targets...)
				part = append(part, int32(c))
			default:
				whole = append(whole, int32(c))
			}
		}
		s.targets = append(s.targets, append(targets, p.Benchmarks...))
		s.part, s.whole = append(s.part, part), append(s.whole, whole)
	}
	return s
}

// at lists the candidates of a place.
func (s *survey) at(place int, pl Place) []candidate {
	var out []candidate
	for g := range s.p.Gradients {
		if len(s.part[g])+len(s.whole[g]) > 0 && pl.Low <= pl.High {
			out = append(out, s.dialled(place, pl, g)...)
		}
	}
	return out
}

// dialled lists the candidates of a place and gradient.
func (s *survey) dialled(place int, pl Place, g int) []candidate {
	laser := reception.Laser{At: pl.At, Gradient: s.p.Gradients[g]}
	s.spans = s.spans[:0]
	s.askAll(place, pl, g, laser)
	windows := s.p.Receiver.From(laser, s.targets[g], &s.scratch)
	low, high := float64(pl.Low), float64(pl.High)
	next := 0
	for _, c := range s.part[g] {
		n := len(s.p.Cells[c].Targets)
		s.cellSpans(place, pl, c, windows[next:next+n])
		next += n
	}
	if len(s.spans) == 0 {
		return nil
	}
	for _, sp := range s.spans { // a nearer miss or being served replaces it
		s.miss(sp.item, Miss{Why: NoBenchmark, Place: pl.At, index: place})
	}
	marks := s.benchmarkSpans(pl, windows[next:])
	var out []candidate
	for _, r := range enough(reaches(marks, low, high), s.p.Need) {
		out = append(out, s.judged(place, pl, g, r)...)
	}
	return inNoOther(out)
}

// cellSpans adds the heights within the tripod's range that serve a cell.
func (s *survey) cellSpans(place int, pl Place, c int32, windows []reception.Window) {
	heights := serving(s.p.Cells[c], windows)
	for i := range heights {
		heights[i].item = c
	}
	before := len(s.spans)
	s.spans = clipped(heights, float64(pl.Low), float64(pl.High), s.spans)
	if len(s.spans) == before {
		s.miss(c, missOf(place, pl, windows, heights))
	}
}

// serving is the heights at which a cell is served, disjoint and rising.
func serving(cell Cell, windows []reception.Window) []span {
	if !cell.Any {
		if both, ok := common(windows); ok {
			return []span{both}
		}
		return nil
	}
	var out []span
	for _, w := range windows {
		if w.Open() {
			out = append(out, span{float64(w.Low), float64(w.High), 0})
		}
	}
	return joined(out)
}

// common is the heights that all windows hold.
func common(windows []reception.Window) (span, bool) {
	both := span{low: math.Inf(-1), high: math.Inf(1)}
	for _, w := range windows {
		both.low, both.high = max(both.low, float64(w.Low)), min(both.high, float64(w.High))
	}
	return both, both.low <= both.high && len(windows) > 0
}

// benchmarkSpans are the heights at which benchmarks are received, the nearest
// to the place first.
func (s *survey) benchmarkSpans(pl Place, windows []reception.Window) []span {
	var marks []span
	for i, w := range windows {
		if w.Open() {
			marks = append(marks, span{float64(w.Low), float64(w.High), int32(i)})
		}
	}
	far := func(b span) float64 { return paces(s.p.Benchmarks[b.item].At, pl.At) }
	slices.SortFunc(marks, func(a, b span) int { return order(far(a), far(b), a.item, b.item) })
	return marks
}

// judged lists the candidates within a stretch of heights of one choice of
// benchmarks, without the cells that would be dug too badly.
func (s *survey) judged(place int, pl Place, g int, r reach) []candidate {
	s.room = clipped(s.spans, r.low, r.high, s.room[:0])
	errors := make(map[int32]int32, len(s.room))
	if s.p.Judge != nil && len(s.room) > 0 {
		outlook := s.p.Judge.Setup(pl.At, g, r.benchmarks)
		kept := s.room[:0]
		for _, sp := range s.room {
			sigma, ok := outlook.Error(int(sp.item))
			if !ok {
				s.miss(sp.item, Miss{Why: NotTrusted, By: sigma, Place: pl.At, index: place})
				continue
			}
			errors[sp.item] = steps(sigma)
			kept = append(kept, sp)
		}
		s.room = kept
	}
	var out []candidate
	for _, q := range cliques(s.room) {
		c := candidate{place: int32(place), gradient: int32(g), low: q.low, high: q.high,
			cells: q.items, benchmarks: r.benchmarks, errors: make([]int32, len(q.items))}
		for i, item := range q.items {
			c.errors[i] = errors[item]
			s.served[item] = true
		}
		out = append(out, c)
	}
	return out
}

// unknownError is worse than every known error; being none at all is worse
// still.
const unknownError = math.MaxInt32 - 1

// steps is an error in whole errorSteps, rounded up but for a millionth of one,
// so that rounding far from the origin decides nothing. One that is not known,
// NaN or infinite, is the worst.
func steps(sigma unit.Length) int32 {
	n := math.Ceil(float64(sigma)/errorStep - 1e-6)
	if n < unknownError {
		return int32(max(n, 0))
	}
	return unknownError
}

// lengthOf is an error in metres again, NaN where it is not known.
func lengthOf(steps int32) unit.Length {
	if steps >= unknownError {
		return unit.Length(math.NaN())
	}
	return unit.Length(float64(steps) * errorStep)
}

// inNoOther leaves out candidates whose cells another of the list serves at
// least as well; of equals the first stays.
func inNoOther(list []candidate) []candidate {
	var out []candidate
	for i := range list {
		beaten := false
		for j := range list {
			if i != j && within(&list[i], &list[j]) && (j < i || !within(&list[j], &list[i])) {
				beaten = true
				break
			}
		}
		if !beaten {
			out = append(out, list[i])
		}
	}
	return out
}

// within says that b serves every cell of a, none worse.
func within(a, b *candidate) bool {
	if len(a.cells) > len(b.cells) {
		return false
	}
	j := 0
	for i, c := range a.cells {
		for j < len(b.cells) && b.cells[j] < c {
			j++
		}
		if j == len(b.cells) || b.cells[j] != c || b.errors[j] > a.errors[i] {
			return false
		}
	}
	return true
}
