package siting

import (
	"math"

	"spadework/engine/reception"
	"spadework/engine/unit"
)

// asked is a cell of which all targets must be received, as far as they have been
// asked for at a place.
type asked struct {
	cell int32
	both span // the heights of all targets so far
}

// askAll finds the heights that serve the cells of which all targets must be
// received: one target of each cell after the other, and none of a cell any more
// once one is hidden or leaves the tripod no height.
func (s *survey) askAll(place int, pl Place, g int, laser reception.Laser) {
	s.alive = s.alive[:0]
	for _, c := range s.whole[g] {
		s.alive = append(s.alive, asked{c, span{math.Inf(-1), math.Inf(1), c}})
	}
	for k := 0; len(s.alive) > 0; k++ {
		s.row = s.row[:0]
		waiting := s.alive[:0]
		for _, a := range s.alive {
			targets := s.p.Cells[a.cell].Targets
			if k == len(targets) {
				s.spans = append(s.spans, span{max(a.both.low, float64(pl.Low)), min(a.both.high, float64(pl.High)), a.cell})
				continue
			}
			waiting = append(waiting, a)
			s.row = append(s.row, targets[k])
		}
		s.alive = s.narrow(place, pl, laser, waiting)
	}
}

// narrow asks for the next target of each cell and keeps the cells that may
// still be served.
func (s *survey) narrow(place int, pl Place, laser reception.Laser, waiting []asked) []asked {
	kept := waiting[:0]
	windows := s.p.Receiver.From(laser, s.row, &s.scratch)
	s.lost = s.lost[:0]
	for i, a := range waiting {
		w := windows[i]
		a.both.low, a.both.high = max(a.both.low, float64(w.Low)), min(a.both.high, float64(w.High))
		if max(a.both.low, float64(pl.Low)) <= min(a.both.high, float64(pl.High)) {
			kept = append(kept, a)
		} else if !s.served[a.cell] && nearer(s.atBest(place, pl, a, w), s.missed[a.cell]) {
			s.lost = append(s.lost, a.cell)
		}
	}
	for _, c := range s.lost { // asked in full: another target may be hidden besides
		targets := s.p.Cells[c].Targets
		windows := s.p.Receiver.From(laser, targets, &s.scratch)
		s.miss(c, missOf(place, pl, windows, serving(s.p.Cells[c], windows)))
	}
	return kept
}

// atBest is the least miss that a cell lost can have.
func (s *survey) atBest(place int, pl Place, a asked, w reception.Window) Miss {
	m := Miss{Why: NotReceived, Place: pl.At, index: place}
	switch {
	case !w.Open():
		m.Reception = w.Why
	case a.both.low > float64(pl.High):
		m.Why, m.By = TripodLow, unit.Length(a.both.low-float64(pl.High))
	case a.both.high < float64(pl.Low):
		m.Why, m.By = TripodHigh, unit.Length(float64(pl.Low)-a.both.high)
	}
	return m
}
