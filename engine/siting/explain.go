package siting

import (
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// explainer finds why cells are not served: how the place that comes nearest
// fails. It asks a second time, with reasons, for the few cells left over.
type explainer struct {
	*survey
	cells  []int32
	next   int // place to look at
	missed []Miss
}

// explain starts on the cells that no candidate serves.
func (s *Solver) explain() *explainer {
	out := &explainer{survey: s.surveys[0].another(), missed: make([]Miss, len(s.p.Cells))}
	for c, served := range s.served {
		if !served {
			out.cells = append(out.cells, int32(c))
			out.missed[c] = Miss{Cell: c, Why: NoPlace, index: -1}
		}
	}
	return out
}

// look looks at the next place and tells the work that took.
func (e *explainer) look(pl Place) (work int64) {
	work = 100
	for _, c := range e.cells {
		if cell := &e.p.Cells[c]; pl.Low <= pl.High && len(cell.Targets) > 0 {
			for _, g := range cell.Gradients {
				work += targetWork * int64(len(cell.Targets))
				e.fail(pl, c, g)
			}
		}
	}
	e.next++
	return work
}

// lookAgain looks at one place for what is not served.
func (s *Solver) lookAgain() {
	if e := s.explained; len(e.cells) > 0 && e.next < len(s.places) {
		s.work += e.look(s.places[e.next])
		return
	}
	s.stage = Finished
}

// miss keeps the nearest miss of a cell.
func (e *explainer) miss(cell int32, m Miss) {
	m.Cell, m.index = int(cell), e.next
	if nearer(m, e.missed[cell]) {
		e.missed[cell] = m
	}
}

// fail notes how a cell misses from a place under a gradient.
func (e *explainer) fail(pl Place, c int32, g int) {
	cell := e.p.Cells[c]
	laser := reception.Laser{At: pl.At, Gradient: e.p.Gradients[g]}
	if e.missed[c].Why <= NoBenchmark && !cell.Any && !e.received(pl, laser, cell) {
		return // a worse miss, whatever the reason
	}
	if far := e.p.beyond(&cell, pl.At); far > 0 {
		why := reception.Reason{Kind: reception.TooFar, By: unit.Length(far), Guidance: cell.Targets[0].Guidance}
		e.miss(c, Miss{Why: NotReceived, Place: pl.At, Reception: why})
		return
	}
	windows := e.p.Receiver.From(laser, cell.Targets, &e.scratch)
	heights := serving(cell, windows)
	for i := range heights {
		heights[i].item = c
	}
	e.spans = clipped(heights, float64(pl.Low), float64(pl.High), e.spans[:0])
	if len(e.spans) == 0 {
		e.miss(c, missOf(pl, windows, heights))
		return
	}
	e.miss(c, Miss{Why: NoBenchmark, Place: pl.At})
	marks := e.marks(pl, laser)
	for _, r := range enough(reaches(marks, float64(pl.Low), float64(pl.High)), e.p.Need) {
		if e.p.Judge == nil || len(clipped(e.spans, r.low, r.high, nil)) == 0 {
			continue
		}
		if sigma, ok := e.p.Judge.Setup(pl.At, g, r.benchmarks).Error(int(c)); !ok {
			e.miss(c, Miss{Why: NotTrusted, By: sigma, Place: pl.At})
		}
	}
}

// received says that some height of the tripod serves all of a cell.
func (e *explainer) received(pl Place, laser reception.Laser, cell Cell) bool {
	e.digs = append(e.digs[:0], reception.Dig{Targets: cell.Targets})
	return e.p.Receiver.Within(laser, pl.Low, pl.High, e.digs, &e.scratch)[0].Open()
}
