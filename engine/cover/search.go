package cover

import "slices"

// search is a local search that weighs the rows which stay uncovered: it drops
// columns from a cover until rows open, then swaps, always adding a column for
// an open row. Rows that stay open grow in weight, so the search leaves every
// valley. The method follows C. Gao and others, "An efficient local search
// heuristic with row weighting for the unicost set covering problem", European
// Journal of Operational Research 246 (2015), here with costs: a column is
// judged by its weight over its cost. Chance is a fixed sequence.
type search struct {
	m      *matrix
	in     []bool
	chosen []int32 // columns in the trial, in any order
	place  []int32 // of each column in chosen
	count  []int32 // chosen columns that hold each row
	names  []int32 // sum of the numbers of these columns: the column itself if there is one
	weight []int64 // of each row
	score  []int64 // weight that adding the column would cover, or dropping it open
	when   []int64 // tick of the column's last move
	ready  []bool  // something changed near the column since it was dropped
	open   []int32 // rows not covered
	slot   []int32 // of each row in open
	cost   int64   // of the trial
	tick   int64
	added  int32 // column added last, not to be dropped at once
	chance uint64

	best     []int32
	bestCost int64
	work     int64
}

// newSearch starts with a greedy cover of m, every row of which some column
// holds.
func newSearch(m *matrix) *search {
	n, rows := len(m.sets), len(m.rows)
	s := &search{m: m, in: make([]bool, n), place: make([]int32, n), count: make([]int32, rows), names: make([]int32, rows),
		weight: make([]int64, rows), score: make([]int64, n), when: make([]int64, n), ready: make([]bool, n),
		slot: make([]int32, rows), added: -1, chance: 0x9e3779b97f4a7c15}
	for i := range m.rows {
		s.weight[i] = 1
		s.slot[i] = int32(len(s.open))
		s.open = append(s.open, int32(i))
	}
	for j, set := range m.sets {
		s.score[j] = int64(len(set))
		s.ready[j] = true
	}
	for len(s.open) > 0 {
		s.add(s.greediest())
	}
	s.bestCost = s.cost + 1
	s.keep()
	return s
}

// greediest column: most weight for its cost, ties to the smaller.
func (s *search) greediest() int32 {
	best := int32(-1)
	for j := range s.m.sets {
		if !s.in[j] && s.score[j] > 0 && (best < 0 || s.beats(int32(j), best)) {
			best = int32(j)
		}
	}
	s.work += int64(len(s.m.sets))
	return best
}

// ratio compares score over cost of columns a and b: positive if a's is larger.
func (s *search) ratio(a, b int32) float64 {
	return float64(float64(s.score[a])*float64(s.m.cost[b])) - float64(float64(s.score[b])*float64(s.m.cost[a]))
}

func (s *search) beats(a, b int32) bool { return s.ratio(a, b) > 0 }

// add puts column j into the trial.
func (s *search) add(j int32) {
	s.in[j] = true
	s.place[j] = int32(len(s.chosen))
	s.chosen = append(s.chosen, j)
	s.cost += s.m.cost[j]
	s.when[j] = s.tick
	loss := int64(0)
	for _, i := range s.m.sets[j] {
		s.count[i]++
		s.names[i] += j
		switch s.count[i] {
		case 1:
			loss += s.weight[i]
			s.close(i)
			s.lower(i, j)
		case 2:
			s.score[s.names[i]-j] -= s.weight[i] // the other no longer holds i alone
		}
	}
	s.score[j] = loss
}

// drop takes column j out of the trial.
func (s *search) drop(j int32) {
	s.in[j] = false
	last := s.chosen[len(s.chosen)-1]
	s.chosen[s.place[j]] = last
	s.place[last] = s.place[j]
	s.chosen = s.chosen[:len(s.chosen)-1]
	s.cost -= s.m.cost[j]
	s.when[j] = s.tick
	gain := int64(0)
	for _, i := range s.m.sets[j] {
		s.count[i]--
		s.names[i] -= j
		switch s.count[i] {
		case 0:
			gain += s.weight[i]
			s.slot[i] = int32(len(s.open))
			s.open = append(s.open, i)
			s.raise(i, j)
		case 1:
			s.score[s.names[i]] += s.weight[i] // the one left holds i alone
		}
	}
	s.score[j] = gain
	s.ready[j] = false
}

// close takes row i off the open rows.
func (s *search) close(i int32) {
	last := s.open[len(s.open)-1]
	s.open[s.slot[i]] = last
	s.slot[last] = s.slot[i]
	s.open = s.open[:len(s.open)-1]
}

// lower takes row i, just covered by column j, from the gains of the others.
func (s *search) lower(i, j int32) {
	for _, k := range s.m.rows[i] {
		if k != j {
			s.score[k] -= s.weight[i]
			s.ready[k] = true
		}
	}
	s.work += int64(len(s.m.rows[i]))
}

// raise adds row i, opened by dropping column j, to the gains of the others.
func (s *search) raise(i, j int32) {
	for _, k := range s.m.rows[i] {
		if k != j {
			s.score[k] += s.weight[i]
			s.ready[k] = true
		}
	}
	s.work += int64(len(s.m.rows[i]))
}

// keep stores the trial if it is a cheaper cover.
func (s *search) keep() {
	if s.cost < s.bestCost {
		s.best = append(s.best[:0], s.chosen...)
		slices.Sort(s.best)
		s.bestCost = s.cost
	}
}

// step makes one move.
func (s *search) step() {
	s.tick++
	for len(s.open) == 0 {
		s.keep()
		j := s.cheapest(-1)
		if j < 0 {
			return
		}
		s.drop(j)
	}
	if j := s.cheapest(s.added); j >= 0 {
		s.drop(j)
	}
	s.chance = s.chance*6364136223846793005 + 1442695040888963407
	i := s.open[(s.chance>>33)%uint64(len(s.open))]
	if j := s.helper(i); j >= 0 {
		s.add(j)
		s.added = j
	}
	for _, i := range s.open {
		s.weight[i]++
		for _, k := range s.m.rows[i] {
			s.score[k]++
		}
		s.work += int64(len(s.m.rows[i]))
	}
	s.work += int64(len(s.chosen)) + 8
}

// cheapest is the chosen column whose loss is least for its cost, ties to the
// one that has stayed longest, then to the smaller; never column not. It is −1
// if there is none.
func (s *search) cheapest(not int32) int32 {
	best := int32(-1)
	for _, j := range s.chosen {
		if j == not {
			continue
		}
		if best < 0 {
			best = j
			continue
		}
		if r := s.ratio(best, j); r > 0 || r == 0 && s.older(j, best) {
			best = j
		}
	}
	return best
}

// helper is the column for row i that gains most for its cost, among those
// ready, cheap enough for a better cover; −1 if there is none.
func (s *search) helper(i int32) int32 {
	best := int32(-1)
	for _, j := range s.m.rows[i] {
		if !s.ready[j] || s.cost+s.m.cost[j] >= s.bestCost {
			continue
		}
		if best < 0 {
			best = j
			continue
		}
		if r := s.ratio(j, best); r > 0 || r == 0 && s.older(j, best) {
			best = j
		}
	}
	return best
}

// older says whether column a moved before b, or at the same time and is the
// smaller.
func (s *search) older(a, b int32) bool {
	return s.when[a] < s.when[b] || s.when[a] == s.when[b] && a < b
}
