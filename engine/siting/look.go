package siting

import "sync"

// batch is how many places are surveyed at once, and hands how many of them go on
// side by side: more than one machine's worth of hands gains nothing, and where
// there is one only they take turns.
const (
	batch = 16
	hands = 4
)

// targetWork is about how many operations a target's window takes.
const targetWork = 200

// look surveys some places. What they find is added in the order of the places,
// so that it does not matter which was done first.
func (s *Solver) look() {
	if s.next == len(s.places) {
		s.beginCount()
		return
	}
	var found [batch]finding
	n := min(batch, len(s.places)-s.next)
	var all sync.WaitGroup
	for h := range hands {
		all.Go(func() {
			for i := h; i < n; i += hands {
				found[i].candidates = s.surveys[h].at(s.next+i, s.places[s.next+i])
				found[i].asked = s.surveys[h].asked
			}
		})
	}
	all.Wait()
	for i := range n {
		s.add(found[i].candidates)
		s.work += 1000 + targetWork*int64(found[i].asked)
	}
	s.next += n
}

// finding is what a place gives.
type finding struct {
	candidates []candidate
	asked      int // targets
}

// add enters candidates.
func (s *Solver) add(found []candidate) {
	for i := range found {
		for _, c := range found[i].cells {
			s.served[c] = true
			s.serving[c] = append(s.serving[c], int32(len(s.candidates)+i))
		}
	}
	s.candidates = append(s.candidates, found...)
}
