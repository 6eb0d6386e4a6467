package plan

import (
	"math"

	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// defaultSetback is how far spoil stays from the top edge: 29 CFR
// 1926.651(j)(2), as quoted by others.
const defaultSetback = 2 * unit.Foot

// Heap is the spoil beside a dig, on the side with the most room: a ridge along
// it, or, where that would be wider than long, a round heap as long as wide.
type Heap struct {
	dig.Heap
	Length  unit.Length
	Side    int          // of the outline, from 0; of a run 0 right, 1 far end, 2 left, 3 near end
	Setback unit.Length  // kept from the top edge
	Room    *unit.Length // for its base beyond the set-back; nil: nothing the job tells of is in the way
	Fits    bool
	places  []geom.Ring // that it takes, where it fits
}

// placeHeaps looks for the room of every dig whose spoil and angle of repose are
// known, dig by dig: where one heap fits there is no room for the next. Once
// machines have places it is to be asked again.
func (p *Plan) placeHeaps() {
	if p.Job.Existing == nil {
		return
	}
	var blocks []block
	for i := range p.Digs {
		e := p.Digs[i].Earth
		if e.Loose == nil || !(e.Material.Repose > 0) || len(e.Top) == 0 {
			continue
		}
		if blocks == nil { // nobody asks in a job that tells no material
			blocks = p.blocks()
		}
		e.Heap = p.heap(i, blocks)
		for _, r := range e.Heap.places {
			blocks = append(blocks, block{ring: r, box: r.Bounds(), dig: -1})
		}
	}
}

// blocks are all that heaps must keep off.
func (p *Plan) blocks() []block {
	var out []block
	for i := range p.Digs {
		for _, r := range p.Digs[i].Earth.Top {
			out = append(out, block{ring: r, box: r.Bounds(), dig: i})
		}
	}
	for _, r := range p.closedGround() {
		out = append(out, block{ring: r, box: r.Bounds(), dig: -1})
	}
	return out
}

// spoilSetback is how far heaps stay from top edges.
func (p *Plan) spoilSetback() unit.Length {
	s := max(p.Job.Spoil.Setback, p.Bounds.SpoilSetback.Distance)
	if s == 0 { // a rule set that tells none
		s = defaultSetback
	}
	return s
}

// closedGround is where no heap may stand: what the job closes, what stands there,
// the marks of services, which must stay to be seen, as near to power lines as no
// machine may come, and where machines stand.
func (p *Plan) closedGround() []geom.Ring {
	var out []geom.Ring
	for _, k := range p.Job.Keepouts {
		out = append(out, k.Outline)
	}
	for _, s := range p.Job.Structures {
		out = append(out, s.Outline)
	}
	for _, o := range p.Job.Obstacles {
		out = append(out, o.Outline)
	}
	for _, h := range p.Job.Heaps {
		out = append(out, h.Outline)
	}
	for _, z := range p.Bounds.Zones {
		out = append(out, z.Bands...)
	}
	for i, c := range p.Bounds.Clearances { // in the order of the lines
		out = append(out, bandsAbout(p.Job.Overheads[i].Line, float64(c.Distance))...)
	}
	for _, at := range p.plant() {
		if r := at.Machine.Base.Footprint(at.Place); len(r) > 2 {
			out = append(out, r)
		}
	}
	return out
}

// bandsAbout are rectangles about the legs of a line, a distance beyond it on every
// side.
func bandsAbout(line []geom.Point, far float64) []geom.Ring {
	var out []geom.Ring
	for i := 1; i < len(line); i++ {
		along := line[i].Sub(line[i-1])
		out = append(out, geom.Rectangle(line[i-1].Toward(line[i], 0.5), along, along.Length()+2*far, 2*far))
	}
	return out
}

// block is something a heap must keep off: the top edge of dig, or closed ground
// (−1).
type block struct {
	ring geom.Ring
	box  geom.Box
	dig  int
}

// heap is the ridge on the best side: of those that fit the narrowest, else that
// with the least too little room.
func (p *Plan) heap(i int, blocks []block) *Heap {
	var best *Heap
	for label, sides := range p.Digs[i].OuterSides() {
		if len(sides) == 0 {
			continue
		}
		if h := p.ridge(i, label, sides, blocks); best == nil || h.better(best) {
			best = h
		}
	}
	return best
}

// better says that a heap is to be preferred.
func (h *Heap) better(o *Heap) bool {
	switch {
	case h.Fits != o.Fits:
		return h.Fits
	case h.Fits:
		return h.Base < o.Base
	}
	return *h.Room-h.Base > *o.Room-o.Base
}

// ridge is the heap along one side of a dig and its room.
func (p *Plan) ridge(i, label int, sides [][2]geom.Point, blocks []block) *Heap {
	e := p.Digs[i].Earth
	h := &Heap{Side: label, Setback: p.spoilSetback()}
	for _, s := range sides {
		h.Length += unit.Length(s[0].Distance(s[1]))
	}
	h.Heap = dig.Ridge(*e.Loose, h.Length, e.Material.Repose)
	if h.Base > h.Length { // a ridge wider than long does not stand: it is round
		h.Heap = dig.Cone(*e.Loose, e.Material.Repose)
		h.Length = h.Base
		sides = [][2]geom.Point{roundAbout(sides, float64(h.Base))}
	}
	room := math.Inf(1)
	for _, s := range sides {
		from, free := p.room(i, s, float64(h.Setback), blocks)
		room = min(room, free)
		out := s[1].Sub(s[0]).Unit().Right()
		near, far := out.Scale(from), out.Scale(from+float64(h.Base))
		h.places = append(h.places, geom.Ring{s[0].Add(far), s[1].Add(far), s[1].Add(near), s[0].Add(near)})
	}
	if !math.IsInf(room, 1) {
		r := unit.Length(room)
		h.Room = &r
	}
	if h.Fits = room >= float64(h.Base); !h.Fits {
		h.places = nil
	}
	return h
}

// roundAbout is a stretch of a length about the middle of the longest of sides: what
// a round heap there takes along the dig.
func roundAbout(sides [][2]geom.Point, length float64) [2]geom.Point {
	longest := sides[0]
	for _, s := range sides[1:] {
		if s[0].Distance(s[1]) > longest[0].Distance(longest[1]) {
			longest = s
		}
	}
	middle, half := longest[0].Toward(longest[1], 0.5), longest[1].Sub(longest[0]).Unit().Scale(length/2)
	return [2]geom.Point{middle.Add(half.Scale(-1)), middle.Add(half)}
}

// room is where the ground is free straight out from a side of a dig and how wide:
// from the set-back to the first block or the end of the allowed ground.
func (p *Plan) room(i int, side [2]geom.Point, setback float64, blocks []block) (from, free float64) {
	edge := 0.0
	for _, r := range p.Digs[i].Earth.Top {
		_, most := outFrom(r, side)
		edge = max(edge, most)
	}
	first := math.Inf(1)
	for _, b := range blocks {
		if b.dig == i {
			continue
		}
		if least, most := outFrom(b.ring, side); most > 0 {
			if b.dig >= 0 { // it has a set-back of its own; the ends of a heap give way to one beside them
				least -= setback
			}
			first = min(first, max(least, 0))
		}
	}
	if site := p.Job.Allowed.Machine; len(site) > 0 {
		_, most := outFrom(site, side)
		first = min(first, most)
	}
	return edge + setback, max(0, first-edge-setback)
}

// outFrom is how far a ring reaches straight out from a side, nearest and
// farthest, within the side's length; −Inf where it does not.
func outFrom(r geom.Ring, side [2]geom.Point) (least, most float64) {
	along := side[1].Sub(side[0]).Unit()
	out := along.Right()
	r = clip(r, side[0], side[0].Add(out))           // ahead of the start
	r = clip(r, side[1], side[1].Add(out.Scale(-1))) // behind the end
	least, most = math.Inf(1), math.Inf(-1)
	for _, p := range r {
		d := p.Sub(side[0]).Dot(out)
		least, most = min(least, d), max(most, d)
	}
	return least, most
}
