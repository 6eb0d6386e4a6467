package reception

import (
	"math"
	"math/big"
	"slices"
)

// reallySpeaks is covered, where the target stands on the survey at all.
func (a *stand) reallySpeaks(r *ray, s *Scratch) bool {
	_, ok := a.asked.Height(r.to)
	return ok && a.covered(r, s)
}

// covered says exactly whether there is ground all along the ray: the parts of it
// over the facets near, closed, leave nothing out. It is slow and asked only
// where the surface itself finds a gap, which may be one of no length.
func (a *stand) covered(r *ray, s *Scratch) bool {
	w := a.laid(r, s)
	own := len(s.cands)
	s.mark++
	floor := s.floor
	s.floor, s.all = math.Inf(-1), true
	a.ground.collect(r, s)
	s.floor, s.all = floor, false
	var parts [][2]*big.Rat
	for _, c := range s.cands[own:] {
		if w.clip(a.ground.corners(c.facet, r)) {
			parts = append(parts, [2]*big.Rat{w.t0.rat(), w.t1.rat()})
		}
	}
	s.cands = s.cands[:own]
	slices.SortFunc(parts, func(p, q [2]*big.Rat) int { return p[0].Cmp(q[0]) })
	end := new(big.Rat)
	if len(parts) == 0 {
		return false
	}
	for _, p := range parts {
		if p[0].Cmp(end) > 0 {
			return false
		}
		if p[1].Cmp(end) > 0 {
			end = p[1]
		}
	}
	return end.Cmp(big.NewRat(1, 1)) >= 0
}

func (t *share) rat() *big.Rat { return new(big.Rat).SetFrac(&t.num, &t.den) }
