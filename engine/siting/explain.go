package siting

import (
	"slices"
	"sync"

	"spadework/engine/reception"
	"spadework/engine/unit"
)

// explainer finds why cells are not served: how the place that comes nearest
// fails. It asks a second time, with reasons, for the few cells left over.
type explainer struct {
	*survey
	cells  []int32
	at     int // place looked at
	missed []Miss
}

// explaining is that of several hands side by side.
type explaining struct {
	hands [hands]explainer
	next  int // place to look at
}

// explain starts on the cells that no candidate serves.
func (s *Solver) explain() *explaining {
	out := new(explaining)
	var cells []int32
	missed := make([]Miss, len(s.p.Cells))
	for c, served := range s.served {
		if !served {
			cells = append(cells, int32(c))
			missed[c] = Miss{Cell: c, Why: NoPlace, index: -1}
		}
	}
	for h := range out.hands {
		out.hands[h] = explainer{survey: s.surveys[0].another(), cells: cells, missed: slices.Clone(missed)}
	}
	return out
}

// look looks at the next places, as far as the last, and tells the work that took.
func (e *explaining) look(places []Place) (work int64) {
	first, end := e.next, min(e.next+batch, len(places))
	var all sync.WaitGroup
	for h := range hands {
		all.Go(func() {
			for i := first + h; i < end; i += hands {
				e.hands[h].look(i, places[i])
			}
		})
	}
	all.Wait()
	e.next = end
	return e.hands[0].lookWork() * int64(end-first)
}

// nearest is the nearest miss of each cell that any hand came upon. It does not
// matter whose was which place: misses of equal size go by the place.
func (e *explaining) nearest() []Miss {
	var out []Miss
	for _, c := range e.hands[0].cells {
		best := e.hands[0].missed[c]
		for h := range e.hands[1:] {
			if m := e.hands[1+h].missed[c]; nearer(m, best) {
				best = m
			}
		}
		out = append(out, best)
	}
	return out
}

// lookAgain looks at some places for what is not served.
func (s *Solver) lookAgain() {
	if e := s.explained; len(e.hands[0].cells) > 0 && e.next < len(s.places) {
		s.work += e.look(s.places)
		return
	}
	s.stage = Finished
}

// lookWork is the work that one place takes.
func (e *explainer) lookWork() (work int64) {
	work = 100
	for _, c := range e.cells {
		cell := &e.p.Cells[c]
		work += targetWork * int64(len(cell.Targets)*len(cell.Gradients))
	}
	return work
}

// look looks at a place.
func (e *explainer) look(i int, pl Place) {
	e.at = i
	for _, c := range e.cells {
		if cell := &e.p.Cells[c]; pl.Low <= pl.High && len(cell.Targets) > 0 {
			for _, g := range cell.Gradients {
				e.fail(pl, c, g)
			}
		}
	}
}

// miss keeps the nearest miss of a cell.
func (e *explainer) miss(cell int32, m Miss) {
	m.Cell, m.index = int(cell), e.at
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
