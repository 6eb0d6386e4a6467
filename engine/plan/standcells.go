package plan

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/stands"
	"spadework/engine/unit"
)

const (
	// cellShare is how long a cell is at most, as a share of the column of reach at
	// its depth: so short that two lie in it one behind the other.
	cellShare = 0.5
	// leastCut and mostCut bound that length, in metres.
	leastCut, mostCut = 1.0, 4.0
)

// dig lists the digs and their cells.
func (s *standing) dig() {
	p, q := s.p, &s.out.problem
	index := map[string]int{}
	for i, d := range p.Digs {
		index[d.Excavation.ID] = i
	}
	for i := range p.Digs {
		d := &p.Digs[i]
		asked := stands.Dig{InOrder: d.source.Carries.Purpose.Drains() && d.Excavation.Kind.Run()}
		for _, id := range d.Excavation.Before {
			asked.Before = append(asked.Before, index[id])
		}
		q.Digs = append(q.Digs, asked)
		if d.Depth == nil || d.Earth == nil {
			s.out.Missed = append(s.out.Missed, Unserved{Excavation: d.Excavation.ID, Reason: standNoDepth})
			continue
		}
		s.cells(i, d, q.Machine)
	}
	q.Repose = s.repose()
}

// cells cuts a dig into cells, a run in its order from its low end.
func (s *standing) cells(index int, d *Dig, m machine.Machine) {
	length := cellLength(m, d.Depth.Max)
	first := len(s.work)
	for _, c := range s.p.Cells(d.Excavation.ID) {
		part := partOf(d, c.Part)
		for _, ring := range cutLong(c.Outline, part, length) {
			s.cell(index, d, part, c.Hand, ring)
		}
	}
	work, cells := s.work[first:], s.out.problem.Cells[first:]
	weigh(s.p.loose(d), cells)
	if len(d.Parts) > 0 && d.Parts[0].Run() {
		orderAlong(d, work, cells)
	}
	whole := len(work) == 1 && !work[0].Hand
	for i := range work {
		work[i].whole = whole
	}
}

// cell adds one cell, if its ground is known.
func (s *standing) cell(index int, d *Dig, part *dig.Part, hand bool, ring geom.Ring) {
	c := stands.Cell{Ring: ring, Dig: index, Hand: hand, Crossing: hand}
	c.Daylight = d.daylight(part, ring)
	edge := c.Daylight
	if edge == nil {
		edge = ring
	}
	top, known := s.p.peak(edge)
	if !known {
		s.out.Missed = append(s.out.Missed, Unserved{Excavation: d.Excavation.ID, Part: part.ID, Reason: standNoDepth})
		return
	}
	bottom := math.Inf(1)
	for _, at := range ring {
		bottom = min(bottom, float64(part.BottomAt(at)))
	}
	c.Top, c.Bottom = top, unit.Elevation(bottom)
	if c.Depth = c.Top.Above(c.Bottom); !(c.Depth > 0) { // nothing to dig here
		return
	}
	w := Work{Excavation: d.Excavation.ID, Part: part.ID, Outline: ring, Hand: hand, Stages: s.p.stages(d, hand)}
	if part.Run() {
		w.Run, w.From, w.To = true, unit.Station(math.Inf(1)), unit.Station(math.Inf(-1))
		for _, at := range ring {
			along := stationBeside(part, at)
			w.From, w.To = min(w.From, along), max(w.To, along)
		}
	}
	s.work = append(s.work, w)
	s.out.problem.Cells = append(s.out.problem.Cells, c)
}

// cellLength is how long a cell may be at a depth.
func cellLength(m machine.Machine, depth unit.Length) float64 {
	column, ok := m.Envelope.Column(depth)
	if !ok {
		return leastCut
	}
	return min(mostCut, max(leastCut, cellShare*float64(column.Far-column.Near)))
}

// cutLong cuts a convex ring across its length and its width into pieces no
// longer than most; of a run its length is along the line.
func cutLong(ring geom.Ring, part *dig.Part, most float64) []geom.Ring {
	along := longest(ring)
	if part.Run() {
		along = part.Line[len(part.Line)-1].Sub(part.Line[0]).Unit()
	}
	out := []geom.Ring{ring}
	for _, axis := range []geom.Vector{along, along.Right()} {
		var next []geom.Ring
		for _, r := range out {
			next = append(next, slices.Collect(slicesOf(r, axis, most))...)
		}
		out = next
	}
	return out
}

// longest is the direction of a ring's longest side.
func longest(ring geom.Ring) geom.Vector {
	var best geom.Vector
	for i := range ring {
		a, b := ring.Side(i)
		if v := b.Sub(a); v.Length() > best.Length()+1e-9 {
			best = v
		}
	}
	return best.Unit()
}

// slicesOf cuts a convex ring across an axis into pieces of equal length along
// it, none longer than most.
func slicesOf(r geom.Ring, axis geom.Vector, most float64) func(yield func(geom.Ring) bool) {
	return func(yield func(geom.Ring) bool) {
		origin := r[0]
		low, high := math.Inf(1), math.Inf(-1)
		for _, at := range r {
			t := at.Sub(origin).Dot(axis)
			low, high = min(low, t), max(high, t)
		}
		n := max(1, int(math.Ceil((high-low)/most-1e-9)))
		rest := r
		for i := 1; i < n; i++ {
			at := origin.Add(axis.Scale(low + (high-low)*float64(i)/float64(n)))
			side := at.Add(axis.Right())
			if piece := clip(rest, side, at); piece.Area() > leastCell && !yield(piece) {
				return
			}
			rest = clip(rest, at, side)
		}
		if rest.Area() > leastCell {
			yield(rest)
		}
	}
}

// daylight is the top edge of a cell, nil for vertical sides: sides that are the
// dig's own lie as far out as its flattest does at its deepest, sides towards
// the rest of the dig not at all.
func (d *Dig) daylight(part *dig.Part, ring geom.Ring) geom.Ring {
	flare, _ := d.flare()
	if !(flare > 0) {
		return nil
	}
	out := make([]float64, len(ring))
	for i := range ring {
		a, b := ring.Side(i)
		if onBorder(part.Outline, a.Toward(b, 0.5)) {
			out[i] = float64(flare)
		}
	}
	if edge, err := geom.OffsetOutward(ring, out); err == nil && edge.Convex() {
		return edge
	}
	for i := range out {
		out[i] = float64(flare)
	}
	edge, err := geom.OffsetOutward(ring, out)
	if err != nil {
		return ring.Bounds().Grown(float64(flare)).Ring()
	}
	return edge
}

// onBorder says that a point lies on a side of a ring, to a tenth of a
// millimetre.
func onBorder(ring geom.Ring, at geom.Point) bool {
	for i := range ring {
		if a, b := ring.Side(i); geom.PointGap(at, a, b) < 1e-4 {
			return true
		}
	}
	return false
}

// peak is the highest ground inside a ring; ok is false where it leaves the
// survey.
func (p *Plan) peak(ring geom.Ring) (unit.Elevation, bool) {
	high := math.Inf(-1)
	for _, g := range p.Job.Existing.Profile(append(ring[:len(ring):len(ring)], ring[0])) {
		if !g.Known || g.Gap {
			return 0, false
		}
		high = max(high, g.Z)
	}
	p.Job.Existing.Facets(ring.Bounds(), func(a, b, c geom.Point3) bool {
		for _, v := range [3]geom.Point3{a, b, c} {
			if ring.Contains(v.Plan()) == geom.Inside {
				high = max(high, v.Z)
			}
		}
		return true
	})
	return unit.Elevation(high), !math.IsInf(high, 0)
}

// weigh gives every cell its part of a dig's loose volume, by its area and depth.
func weigh(loose unit.Volume, cells []stands.Cell) {
	sum := 0.0
	for _, c := range cells {
		sum += c.Ring.Area() * float64(c.Depth)
	}
	for i, c := range cells {
		cells[i].Spoil = unit.Volume(float64(loose) * c.Ring.Area() * float64(c.Depth) / sum)
	}
}

// loose is the volume of a dig's spoil: of one that tells no material as loose
// as that of any.
func (p *Plan) loose(d *Dig) unit.Volume {
	if d.Earth.Loose != nil {
		return *d.Earth.Loose
	}
	out := d.Earth.Share
	for _, m := range p.Job.Materials {
		out = max(out, m.Loose(d.Earth.Share))
	}
	return out
}

// partOf is a part of a dig by its id.
func partOf(d *Dig, id string) *dig.Part {
	i := slices.IndexFunc(d.Parts, func(part dig.Part) bool { return part.ID == id })
	return &d.Parts[i]
}

// stationBeside is the station of a place beside a run.
func stationBeside(part *dig.Part, at geom.Point) unit.Station {
	a, b := part.Line[0], part.Line[len(part.Line)-1]
	t := at.Sub(a).Dot(b.Sub(a).Unit())
	return part.From + unit.Station(min(float64(part.To-part.From), max(0, t)))
}

// orderAlong sorts the cells of a run, and what they are, from its low end.
func orderAlong(d *Dig, work []Work, cells []stands.Cell) {
	first, last := &d.Parts[0], &d.Parts[len(d.Parts)-1]
	up := float64(last.BottomAt(last.PointAt(last.To))) >= float64(first.BottomAt(first.PointAt(first.From)))
	index := make([]int, len(work))
	for i := range index {
		index[i] = i
	}
	slices.SortStableFunc(index, func(a, b int) int {
		c := cmp.Or(cmp.Compare(work[a].From+work[a].To, work[b].From+work[b].To), cmp.Compare(a, b))
		if !up {
			return -c
		}
		return c
	})
	w, c := slices.Clone(work), slices.Clone(cells)
	for to, from := range index {
		work[to], cells[to] = w[from], c[from]
	}
}

// repose is the flattest slope that the materials of the digs lie at, 0 where
// none tells it.
func (s *standing) repose() unit.Grade {
	least := math.Inf(1)
	for i := range s.p.Digs {
		if e := s.p.Digs[i].Earth; e != nil && e.Material != nil && e.Material.Repose > 0 {
			least = min(least, math.Tan(e.Material.Repose))
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return unit.Grade(least)
}
