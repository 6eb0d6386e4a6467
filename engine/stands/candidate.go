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
	good     []bool         // by cell, it can be asked for
	spans    []machine.Span // by cell, on level ground
	columns  map[[2]unit.Length]machine.Span
	reached  []bool // by cell, some place reaches it, allowed or not
	beamless []bool // by cell, some place reaches it on firm ground without the beam
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
	s.columns = map[[2]unit.Length]machine.Span{}
	s.good, s.spans, s.reached, s.beamless = make([]bool, n), make([]machine.Span, n), make([]bool, n), make([]bool, n)
	rings := make([]geom.Ring, n)
	for i, c := range p.Cells {
		rings[i] = c.Ring
		if c.Hand || !wellFormed(c) {
			continue
		}
		if p.Ground != nil {
			s.good[i], s.far = true, float64(p.Machine.Plan(machine.Span{Far: p.Machine.Envelope.Farthest()}).Far)
			continue
		}
		s.spans[i] = s.column(0, c.Depth)
		s.good[i] = s.spans[i].Far > 0
		s.far = max(s.far, float64(s.spans[i].Far))
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

// layer is to what a depth under uneven ground is rounded up: as Column's.
const layer = 50 * unit.Millimetre

// column is where a hole can be dug to a depth whose ground lies up to rise over
// the machine; zero where it cannot.
func (s *survey) column(rise, depth unit.Length) machine.Span {
	key := [2]unit.Length{rise, depth}
	span, known := s.columns[key]
	if known {
		return span
	}
	if at, ok := columnOf(s.p.Machine.Envelope, rise, depth); ok {
		span = s.p.Machine.Plan(at)
	}
	s.columns[key] = span
	return span
}

// columnOf is Envelope.Column for ground that lies up to rise over the machine.
func columnOf(e machine.Envelope, rise, depth unit.Length) (machine.Span, bool) {
	out, ok := e.Column(depth)
	for up := rise; ok && up > 0; up -= layer {
		var s machine.Span
		s, ok = e.Span(-up)
		out = machine.Span{Near: max(out.Near, s.Near), Far: min(out.Far, s.Far)}
		ok = ok && out.Near < out.Far
	}
	return out, ok
}

// reachOf is where a cell can be dug from ground at z.
func (s *survey) reachOf(c int32, z float64) machine.Span {
	if s.p.Ground == nil {
		return s.spans[c]
	}
	up := func(l unit.Length) unit.Length { return unit.Length(math.Ceil(float64(l/layer))) * layer }
	cell := s.p.Cells[c]
	rise, depth := cell.Top.Above(unit.Elevation(z)), unit.Elevation(z).Above(cell.Bottom)
	return s.column(max(0, up(rise)), up(depth))
}

// row looks at a row of the lattice.
func (s *survey) row(y int) {
	if !s.p.Machine.Base.Known() {
		return
	}
	for x := range s.lattice.nx {
		if node := y*s.lattice.nx + x; s.lattice.level[node] {
			s.look(s.lattice.at(node))
		}
	}
}

// look adds the candidates at a point.
func (s *survey) look(at geom.Point) {
	near, z := s.within(machine.Place{At: at})
	for _, c := range near {
		s.reached[c] = true
	}
	if len(near) == 0 || !s.ground.swings(at) {
		return
	}
	for b := range s.bearings {
		place := machine.Place{At: at, Bearing: unit.Angle(2 * math.Pi * float64(b) / float64(s.bearings))}
		reach := near
		if !s.p.Machine.Swing.AllRound() {
			reach = slices.DeleteFunc(slices.Clone(near), func(c int32) bool {
				return !s.p.Machine.Within(place, s.p.Cells[c].Ring, s.reachOf(c, z))
			})
		}
		s.stand(place, reach)
	}
}

// within lists the cells a stand reaches whatever it faces, rising, and the
// height of its ground.
func (s *survey) within(p machine.Place) (near []int32, z float64) {
	z, _ = s.ground.height(p.At)
	all := s.p.Machine
	all.Swing = machine.Swing{EachWay: math.Pi}
	s.bottoms.every(geom.BoxOf(p.At).Grown(s.far), func(c int32) bool {
		if s.good[c] && all.Within(p, s.p.Cells[c].Ring, s.reachOf(c, z)) {
			near = append(near, c)
		}
		return true
	})
	slices.Sort(near)
	return near, z
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
	if s.p.Tied != nil && g.firm(foot) {
		free = slices.DeleteFunc(free, func(c int32) bool { return !s.tied(place.At, c) })
	}
	key := keyOf(free, blocks)
	if _, known := s.seen[key]; known || len(free) == 0 || !g.firm(foot) {
		return
	}
	s.seen[key] = len(s.found)
	s.found = append(s.found, candidate{place, free, blocks})
}

// tied says that a place has the beam for a cell, and notes where it has not.
func (s *survey) tied(at geom.Point, c int32) bool {
	ok := s.p.Tied(at, int(c))
	s.beamless[c] = s.beamless[c] || !ok
	return ok
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
