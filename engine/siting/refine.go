package siting

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/geom"
)

// goodPlaces is how many of the places that serve most are refined besides the
// chosen ones.
const goodPlaces = 24

// around are the eight directions in which places are added.
var around = [...]geom.Vector{{X: 1}, {X: 1, Y: 1}, {Y: 1}, {X: -1, Y: 1}, {X: -1}, {X: -1, Y: -1}, {Y: -1}, {X: 1, Y: -1}}

// refine adds places near the chosen ones, near others that serve much, and
// round cells that nothing serves yet, and goes back to surveying.
func (s *Solver) refine() {
	s.round++
	step := float64(s.p.Spacing)
	for range s.round {
		step /= 2
	}
	known := make(map[[2]int64]bool, len(s.places))
	for _, pl := range s.places {
		known[micrometres(pl.At)] = true
	}
	for _, at := range s.worthRefining() {
		for _, d := range around {
			s.addPlace(at.Add(d.Scale(step)), known)
		}
	}
	for c, served := range s.served {
		if !served && len(s.p.Cells[c].Targets) > 0 {
			s.ring(s.p.Cells[c].Targets[0].At, step, known)
		}
	}
	s.stage, s.bound = Surveying, 0
}

// rings is how many rings of places are tried round a cell that nothing
// serves.
const rings = 4

func (s *Solver) ring(at geom.Point, step float64, known map[[2]int64]bool) {
	for i := 1; i <= rings; i++ {
		for _, d := range around {
			s.addPlace(at.Add(d.Scale(step*float64(i))), known)
		}
	}
}

// micrometres name a place: two ways to the same one may end a rounding apart.
func micrometres(at geom.Point) [2]int64 {
	return [2]int64{int64(math.Round(at.X * 1e6)), int64(math.Round(at.Y * 1e6))}
}

func (s *Solver) addPlace(at geom.Point, known map[[2]int64]bool) {
	if known[micrometres(at)] {
		return
	}
	known[micrometres(at)] = true
	if pl, ok := s.p.Ground(at); ok {
		s.places = append(s.places, pl)
	}
}

// worthRefining lists the chosen places, then those that serve most.
func (s *Solver) worthRefining() []geom.Point {
	var list []int32
	for _, c := range s.chosen {
		list = append(list, s.candidates[c].place)
	}
	most := make([]int, len(s.places))
	all := make([]int32, len(s.places))
	for i := range all {
		all[i] = int32(i)
	}
	for i := range s.candidates {
		c := &s.candidates[i]
		most[c.place] = max(most[c.place], len(c.cells))
	}
	slices.SortStableFunc(all, func(a, b int32) int { return cmp.Compare(most[b], most[a]) })
	for _, place := range all[:min(goodPlaces, len(all))] {
		if most[place] > 0 && !slices.Contains(list, place) {
			list = append(list, place)
		}
	}
	var out []geom.Point
	for _, place := range list {
		out = append(out, s.places[place].At)
	}
	return out
}
