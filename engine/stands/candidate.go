package stands

import (
	"encoding/binary"
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/unit"
)

// candidate is a place to stand, the cells it can dig, and the cells that leave
// no ground for it once they are open. Both rise.
type candidate struct {
	place         machine.Place
	reach, blocks []int32
}

// survey looks at the places of a lattice.
type survey struct {
	p        *Problem
	ground   *ground
	good     []bool // by cell, it can be asked for
	spans    []machine.Span
	reached  []bool // by cell, some place reaches it, allowed or not
	lattice  *lattice
	far      float64
	bottoms  *shapes
	seen     map[string]int
	found    []candidate
	bearings int
}

func newSurvey(p *Problem, g *ground, l *lattice) *survey {
	s := &survey{p: p, ground: g, lattice: l, seen: map[string]int{}, bearings: Bearings}
	n := len(p.Cells)
	s.good, s.spans, s.reached = make([]bool, n), make([]machine.Span, n), make([]bool, n)
	rings := make([]geom.Ring, n)
	known := map[unit.Length]machine.Span{}
	for i, c := range p.Cells {
		rings[i] = c.Ring
		if c.Hand || !wellFormed(c) {
			continue
		}
		span, ok := known[c.Depth]
		if !ok {
			if at, deep := p.Machine.Envelope.Column(c.Depth); deep {
				span = p.Machine.Plan(at)
			}
			known[c.Depth] = span
		}
		s.spans[i], s.good[i] = span, span.Far > 0
		s.far = max(s.far, float64(span.Far))
	}
	s.bottoms = newShapes(rings)
	return s
}

// wellFormed says that a cell is convex both ways and has a depth.
func wellFormed(c Cell) bool {
	for _, r := range []geom.Ring{c.Ring, c.open()} {
		if len(r) < 3 || !(r.Area() > 0) || !r.Convex() {
			return false
		}
	}
	return c.Depth > 0 && !math.IsInf(float64(c.Depth), 0)
}

// row looks at a row of the lattice.
func (s *survey) row(y int) {
	if !s.p.Machine.Base.Known() {
		return
	}
	for x := range s.lattice.nx {
		s.look(s.lattice.at(y*s.lattice.nx + x))
	}
}

// look adds the candidates at a point.
func (s *survey) look(at geom.Point) {
	near := s.within(machine.Place{At: at})
	if len(near) == 0 {
		return
	}
	for b := range s.bearings {
		place := machine.Place{At: at, Bearing: unit.Angle(2 * math.Pi * float64(b) / float64(s.bearings))}
		reach := near
		if !s.p.Machine.Swing.AllRound() {
			reach = slices.DeleteFunc(slices.Clone(near), func(c int32) bool {
				return !s.p.Machine.Within(place, s.p.Cells[c].Ring, s.spans[c])
			})
		}
		for _, c := range reach {
			s.reached[c] = true
		}
		s.stand(place, reach)
	}
}

// within lists the cells a stand reaches whatever it faces, rising.
func (s *survey) within(p machine.Place) (near []int32) {
	all := s.p.Machine
	all.Swing = machine.Swing{EachWay: math.Pi}
	s.bottoms.every(geom.BoxOf(p.At).Grown(s.far), func(c int32) bool {
		if s.good[c] && all.Within(p, s.p.Cells[c].Ring, s.spans[c]) {
			near = append(near, c)
		}
		return true
	})
	slices.Sort(near)
	return near
}

// stand adds a candidate if it has ground, unless one like it was found before.
func (s *survey) stand(place machine.Place, reach []int32) {
	if len(reach) == 0 {
		return
	}
	foot := s.ground.body.at(place, 0)
	var blocks []int32
	g := s.ground
	g.cells.every(foot.Bounds().Grown(g.setback), func(c int32) bool {
		if !apart(foot, g.cells.rings[c], g.setback) {
			blocks = append(blocks, c)
		}
		return true
	})
	slices.Sort(blocks)
	free := make([]int32, 0, len(reach))
	for _, c := range reach {
		if _, is := slices.BinarySearch(blocks, c); !is {
			free = append(free, c)
		}
	}
	if len(free) == 0 {
		return
	}
	key := keyOf(free, blocks)
	if _, known := s.seen[key]; known || !g.firm(foot) {
		return
	}
	s.seen[key] = len(s.found)
	s.found = append(s.found, candidate{place, free, blocks})
}

// keyOf tells two lists of cells from any others.
func keyOf(a, b []int32) string {
	out := binary.AppendUvarint(nil, uint64(len(a)))
	for _, list := range [][]int32{a, b} {
		for _, c := range list {
			out = binary.AppendUvarint(out, uint64(c))
		}
	}
	return string(out)
}
