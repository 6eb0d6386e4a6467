package siting

import (
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/route"
)

// walk exchanges a set-up for another that serves what only it serves, no worse
// than the worst, with less walking; where none does, all is done.
func (s *Solver) walk() {
	if s.swaps == 0 {
		s.inOrder(walkWork)
	}
	s.swaps++
	if s.swaps > exchanges || !s.exchange() {
		s.inOrder(walkWork)
		s.stage, s.explained = Explaining, s.explain()
		return
	}
	s.inOrder(walkWork / 20)
}

// exchanges bounds how often set-ups are exchanged.
const exchanges = 64

// exchange makes the one exchange that saves most. A set-up that the others have
// no need of, as a cover not proven may hold, is left out.
func (s *Solver) exchange() bool {
	best, at, by := float64(leastSaving), -1, int32(-1)
	worst := s.worstOf(s.chosen)
	for i := range s.chosen {
		needed := s.needed(i, worst)
		rest := slices.Delete(slices.Clone(s.chosen), i, i+1)
		if len(needed) == 0 {
			s.chosen = rest
			return true
		}
		stops := s.stops(rest)
		now := s.extra(stops, s.chosen[i])
		able := s.able(needed)
		for _, j := range able {
			if !serves(&s.candidates[j], needed, worst) {
				continue
			}
			s.work += int64(len(rest) + 1)
			if saving := now - s.extra(stops, j); saving > best {
				best, at, by = saving, i, j
			}
		}
		s.work += 8 * int64(len(able))
	}
	if at < 0 {
		return false
	}
	s.chosen[at] = by
	return true
}

// leastSaving in micrometres is worth an exchange.
const leastSaving = 1

// paces is a distance in whole micrometres: sums of them are exact, and
// distances that are equal on paper are equal far from the origin too.
func paces(a, b geom.Point) float64 { return math.Round(a.Distance(b) * 1e6) }

// needed lists the cells that only the i-th set-up serves within an error.
func (s *Solver) needed(i int, limit int32) []int32 {
	others := slices.Delete(slices.Clone(s.chosen), i, i+1)
	var out []int32
	for c, by := range s.assign(others) {
		if s.served[c] && (by.candidate < 0 || by.error > limit) {
			out = append(out, int32(c))
		}
	}
	return out
}

// serves says that a candidate serves all cells within an error.
func serves(c *candidate, cells []int32, limit int32) bool {
	k := 0
	for _, cell := range cells {
		for k < len(c.cells) && c.cells[k] < cell {
			k++
		}
		if k == len(c.cells) || c.cells[k] != cell || c.errors[k] > limit {
			return false
		}
	}
	return true
}

// extra is the walking that a set-up adds to stops in their order: the least
// detour to it, and there and back to its nearest benchmark.
func (s *Solver) extra(stops []geom.Point, c int32) float64 {
	at := s.spot(c)
	least := 0.0
	if len(stops) > 0 {
		least = paces(stops[len(stops)-1], at)
	}
	for i := 1; i < len(stops); i++ {
		least = min(least, paces(stops[i-1], at)+paces(at, stops[i])-paces(stops[i-1], stops[i]))
	}
	return least + 2*s.toBenchmark(c)
}

func (s *Solver) spot(c int32) geom.Point { return s.places[s.candidates[c].place].At }

func (s *Solver) toBenchmark(c int32) float64 {
	if b := s.candidates[c].benchmarks; len(b) > 0 {
		return paces(s.p.Benchmarks[b[0]].At, s.spot(c))
	}
	return 0
}

// stops are where walking leads: from the first benchmark by the set-ups that
// stand already, then the planned ones in their order.
func (s *Solver) stops(chosen []int32) []geom.Point {
	var out []geom.Point
	if len(s.p.Benchmarks) > 0 {
		out = append(out, s.p.Benchmarks[0].At)
	}
	out = append(out, s.p.Kept...)
	for _, c := range chosen {
		out = append(out, s.spot(c))
	}
	return out
}

// walkWork is the kicks that the order of set-ups is looked for with: there are
// seldom more than a dozen.
const walkWork = 2000

// inOrder puts the chosen set-ups in the order of least walking.
func (s *Solver) inOrder(kicks int) {
	slices.Sort(s.chosen)
	stops := s.stops(s.chosen)
	first := len(stops) - len(s.chosen) - 1
	if first < 0 { // nothing to start from: the first set-up is as good as any
		first = 0
	} else {
		stops = stops[first:]
	}
	cost := make([][]float64, len(stops))
	for i := range cost {
		cost[i] = make([]float64, len(stops))
		for j := range stops {
			cost[i][j] = paces(stops[i], stops[j])
		}
	}
	r := route.New(cost, 0)
	r.Step(kicks)
	s.work += 1000 * int64(kicks)
	ahead := len(stops) - len(s.chosen)
	ordered := make([]int32, 0, len(s.chosen))
	for _, stop := range r.Best() {
		if stop >= ahead {
			ordered = append(ordered, s.chosen[stop-ahead])
		}
	}
	s.chosen = ordered
}

// Walk is the walking of a plan in metres: between set-ups from the first
// benchmark on, and to each one's nearest benchmark and back.
func (s *Solver) Walk() float64 { return s.walking(s.current()) / 1e6 }

func (s *Solver) walking(chosen []int32) float64 {
	sum := 0.0
	stops := s.stops(chosen)
	for i := 1; i < len(stops); i++ {
		sum += paces(stops[i-1], stops[i])
	}
	for _, c := range chosen {
		sum += 2 * s.toBenchmark(c)
	}
	if math.IsNaN(sum) {
		return 0
	}
	return sum
}
