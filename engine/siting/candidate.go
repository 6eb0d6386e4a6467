package siting

import (
	"math"
	"slices"

	"spadework/engine/geom"
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

// survey finds the candidates of places, one place at a time. It does not change
// what it shares with others: several may work at once.
type survey struct {
	p       *Problem
	suiting []*index // by gradient: the cells that it suits
	marked  *index   // the benchmarks
	scratch reception.Scratch
	near    []int32
	digs    []reception.Dig
	spans   []span
	room    []span
	asked   int // targets
}

func newSurvey(p *Problem) *survey {
	s := &survey{p: p}
	for g := range p.Gradients {
		places := make([][]geom.Point, len(p.Cells))
		for c, cell := range p.Cells {
			if cell.suits(g) {
				places[c] = cell.places()
			}
		}
		s.suiting = append(s.suiting, newIndex(places, float64(p.Range)))
	}
	marks := make([][]geom.Point, len(p.Benchmarks))
	for i, b := range p.Benchmarks {
		marks[i] = []geom.Point{b.At}
	}
	s.marked = newIndex(marks, float64(p.Range))
	return s
}

// another is a survey of the same problem with a scratch of its own.
func (s *survey) another() *survey {
	return &survey{p: s.p, suiting: s.suiting, marked: s.marked}
}

// places are those of a cell's targets of which one must be in range: the first
// where all must be.
func (c Cell) places() []geom.Point {
	var out []geom.Point
	for _, t := range c.Targets {
		out = append(out, t.At)
	}
	if !c.Any && len(out) > 1 {
		out = out[:1]
	}
	return out
}

// at lists the candidates of a place.
func (s *survey) at(place int, pl Place) []candidate {
	var out []candidate
	s.asked = 0
	for g := range s.p.Gradients {
		if pl.Low <= pl.High {
			out = append(out, s.dialled(place, pl, g)...)
		}
	}
	return out
}

// dialled lists the candidates of a place and gradient.
func (s *survey) dialled(place int, pl Place, g int) []candidate {
	laser := reception.Laser{At: pl.At, Gradient: s.p.Gradients[g]}
	marks := s.marks(pl, laser)
	read := enough(reaches(marks, float64(pl.Low), float64(pl.High)), s.p.Need)
	if len(read) == 0 {
		return nil
	}
	s.ask(laser, g, span{low: read[0].low, high: read[len(read)-1].high})
	if len(s.spans) == 0 {
		return nil
	}
	var out []candidate
	for _, r := range read {
		out = append(out, s.judged(place, pl, g, r)...)
	}
	return inNoOther(out)
}

// ask finds the heights of a band that serve the cells in range.
func (s *survey) ask(laser reception.Laser, g int, band span) {
	s.spans = s.spans[:0]
	s.near = s.suiting[g].near(laser.At, s.near[:0])
	s.digs = s.digs[:0]
	s.near = slices.DeleteFunc(s.near, func(c int32) bool { return s.p.beyond(&s.p.Cells[c], laser.At) > 0 })
	for _, c := range s.near {
		cell := &s.p.Cells[c]
		s.asked += len(cell.Targets)
		if !cell.Any {
			s.digs = append(s.digs, reception.Dig{Targets: cell.Targets})
			continue
		}
		for k := range cell.Targets {
			s.digs = append(s.digs, reception.Dig{Targets: cell.Targets[k : k+1]})
		}
	}
	windows := s.p.Receiver.Within(laser, unit.Elevation(band.low), unit.Elevation(band.high), s.digs, &s.scratch)
	next := 0
	for _, c := range s.near {
		n := 1
		if s.p.Cells[c].Any {
			n = len(s.p.Cells[c].Targets)
		}
		s.addSpans(c, windows[next:next+n])
		next += n
	}
}

// addSpans adds the heights of a cell, of which any window serves.
func (s *survey) addSpans(c int32, windows []reception.Window) {
	if len(windows) == 1 {
		if w := windows[0]; w.Open() {
			s.spans = append(s.spans, span{float64(w.Low), float64(w.High), c})
		}
		return
	}
	for _, sp := range serving(Cell{Any: true}, windows) {
		s.spans = append(s.spans, span{sp.low, sp.high, c})
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

// marks are the heights of the tripod at which benchmarks are received, the
// nearest to the place first.
func (s *survey) marks(pl Place, laser reception.Laser) []span {
	s.near = s.marked.near(pl.At, s.near[:0])
	s.asked += len(s.near)
	s.digs = s.digs[:0]
	for _, b := range s.near {
		s.digs = append(s.digs, reception.Dig{Targets: s.p.Benchmarks[b : b+1]})
	}
	var marks []span
	for i, w := range s.p.Receiver.Within(laser, pl.Low, pl.High, s.digs, &s.scratch) {
		if w.Open() {
			marks = append(marks, span{float64(w.Low), float64(w.High), s.near[i]})
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
			if sigma, ok := outlook.Error(int(sp.item)); ok {
				errors[sp.item] = steps(sigma)
				kept = append(kept, sp)
			}
		}
		s.room = kept
	}
	var out []candidate
	for _, q := range cliques(s.room) {
		c := candidate{place: int32(place), gradient: int32(g), low: q.low, high: q.high,
			cells: q.items, benchmarks: r.benchmarks, errors: make([]int32, len(q.items))}
		for i, item := range q.items {
			c.errors[i] = errors[item]
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
