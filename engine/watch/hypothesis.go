package watch

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/real"
)

// leastChance is under what a hypothesis is left out.
const leastChance = 1e-6

// maxUnknowns is those of a pair of tilts with height.
const maxUnknowns = 6

// hypothesis is that none, one or two causes happened.
type hypothesis struct {
	causes []int // of the series' list
	weight float64
	unknowns
}

// unknowns are those of a hypothesis given all readings: mean and the triangle of
// I + A'PA, whose inverse is their covariance.
type unknowns struct {
	n     int
	at    [maxUnknowns]int
	lower [maxUnknowns][maxUnknowns]float64
	mean  [maxUnknowns]float64
}

// weigh is every hypothesis that has at least leastChance, their chances adding
// up to 1, and how many have less. The likeliest come first.
func (s *series) weigh() (kept []hypothesis, left int) {
	all := []hypothesis{{}}
	for i, c := range s.list {
		all = append(all, s.hypothesis(c.odds, i))
		for j := range i {
			if !s.same(i, j) {
				all = append(all, s.hypothesis(c.odds+s.list[j].odds, j, i))
			}
		}
	}
	top, sum := 0.0, 0.0
	for _, h := range all {
		top = math.Max(top, h.weight)
	}
	for i := range all {
		all[i].weight = real.Exp(all[i].weight - top)
		sum += all[i].weight
	}
	total := 0.0
	for _, h := range all {
		if h.weight >= leastChance*sum {
			kept = append(kept, h)
			total += h.weight
		}
	}
	for i := range kept {
		kept[i].weight /= total
	}
	slices.SortStableFunc(kept, func(a, b hypothesis) int {
		return cmp.Or(cmp.Compare(b.weight, a.weight), slices.Compare(a.causes, b.causes))
	})
	return kept, len(all) - len(kept)
}

// same says that two causes are one: bumps between the same two readings, which
// readings cannot tell from one.
func (s *series) same(i, j int) bool {
	a, b := s.list[i], s.list[j]
	return a.OfBeam() && b.OfBeam() && a.From == b.From
}

// hypothesis weighs causes: the logarithm of prior odds times likelihood.
func (s *series) hypothesis(odds float64, causes ...int) hypothesis {
	h := hypothesis{causes: causes}
	for _, c := range causes {
		for k := range s.list[c].columns {
			h.at[h.n] = s.list[c].first + k
			h.n++
		}
	}
	half := 0.0 // of log |I + A'PA|
	for i := range h.n {
		for j := range i + 1 {
			v := s.gram[h.at[i]][h.at[j]]
			if i == j {
				v++
			}
			for k := range j {
				v -= float64(h.lower[i][k] * h.lower[j][k])
			}
			if i == j {
				h.lower[i][i] = math.Sqrt(v)
				half += real.Log(h.lower[i][i])
			} else {
				h.lower[i][j] = v / h.lower[j][j]
			}
		}
		h.mean[i] = s.right[h.at[i]]
		for k := range i {
			h.mean[i] -= float64(h.lower[i][k] * h.mean[k])
		}
		h.mean[i] /= h.lower[i][i]
		h.weight += sq(h.mean[i]) / 2
	}
	h.back(&h.mean)
	h.weight += odds - half
	return h
}

// back solves L'x = v in place.
func (u *unknowns) back(v *[maxUnknowns]float64) {
	for i := u.n - 1; i >= 0; i-- {
		for k := i + 1; k < u.n; k++ {
			v[i] -= float64(u.lower[k][i] * v[k])
		}
		v[i] /= u.lower[i][i]
	}
}
