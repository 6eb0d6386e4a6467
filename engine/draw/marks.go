package draw

import (
	"math"
	"strconv"

	"spadework/engine/geom"
	"spadework/engine/plan"
	"spadework/engine/safety"
)

// Marks is what a site plan may show beside the plan's own things.
type Marks struct {
	Bounds  safety.Bounds // zones along services where only hands dig
	Reaches bool          // how far the laser of each set-up is received
	Stands  []Stand       // where the machine stands, in its order
}

// Stand is a place of the machine, in metres of the job's local frame. Toward
// is a place of its work.
type Stand struct {
	Order      int // from 1
	At, Toward geom.Point
	Heaps      []Heap
}

// Heap is a heap of spoil.
type Heap struct {
	At     geom.Point
	Radius float64 // metres
}

// StandsOf are the stands of a plan, nil without any.
func StandsOf(p *plan.Plan) []Stand {
	if p.Stands == nil {
		return nil
	}
	var out []Stand
	for i, row := range p.Stands.Rows {
		stand := Stand{Order: i + 1, At: row.Place.At, Toward: row.Work[0].Outline.Centroid()}
		for _, h := range row.Heaps {
			stand.Heaps = append(stand.Heaps, Heap{h.At, float64(h.Radius)})
		}
		out = append(out, stand)
	}
	return out
}

// zones draws the edges of the zones along services, dashed, and hatches what
// lies between.
func (s *sitePlan) zones() {
	for _, z := range s.more.Bounds.Zones {
		if z.Seen {
			continue
		}
		for _, band := range z.Bands {
			ring := s.all(band)
			s.clipped(Zone, append(ring, ring[0]))
		}
	}
}

// reaches draws the circle round each set-up in which its laser is received, as
// far as the paper shows it.
func (s *sitePlan) reaches() {
	if !s.more.Reaches {
		return
	}
	for _, set := range s.p.Setups {
		if set.Laser.Range > 0 {
			s.clipped(Reach, s.circle(set.Plane.At, float64(set.Laser.Range)))
		}
	}
}

// circle is a circle of a radius in metres, closed.
func (s *sitePlan) circle(c geom.Point, radius float64) []geom.Point {
	const steps = 180 // 2°: under 0.1 mm from the circle at 500 mm
	line := make([]geom.Point, steps+1)
	for i := range line {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%steps) / steps)
		line[i] = s.at(c.Add(geom.Vector{X: cos * radius, Y: sin * radius}))
	}
	return line
}

// heap draws a heap of spoil from above: its foot, and ticks that run down from
// its top.
func (s *sitePlan) heap(h Heap) {
	s.clipped(Earth, s.circle(h.At, h.Radius))
	const ticks = 8
	for i := range ticks {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / ticks)
		v := geom.Vector{X: cos, Y: sin}
		s.clipped(Earth, []geom.Point{s.at(h.At.Add(v.Scale(0.25 * h.Radius))), s.at(h.At.Add(v.Scale(0.8 * h.Radius)))})
	}
}

// stands draws each stand as a numbered square with a tick towards its work; a
// number that has no room is counted.
func (s *sitePlan) stands() {
	for _, stand := range s.more.Stands {
		for _, h := range stand.Heaps {
			s.heap(h)
		}
	}
	for _, stand := range s.more.Stands {
		c, k := s.at(stand.At), 0.75*s.size
		v := s.at(stand.Toward).Sub(c).Unit()
		s.line(Ink, c.Add(v.Scale(k)), c.Add(v.Scale(2.2*k)))
		s.ring(Ink, Hollow, around(c, k, k).Ring()...)
		if !s.free(around(c, k, k)) {
			s.Unplaced++
			continue
		}
		s.write(Ink, Item{Points: []geom.Point{{X: c.X, Y: c.Y + 0.36*s.size}}, Size: s.size, Anchor: Middle, Text: strconv.Itoa(stand.Order)})
	}
}
