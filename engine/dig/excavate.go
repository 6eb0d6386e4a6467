package dig

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Excavated is what a cut takes out of the ground.
type Excavated struct {
	Bank    unit.Volume // in the ground, of what the survey covers
	Share   unit.Volume // Bank without what a deeper dig takes; of equal ones the earlier has it
	Bound   unit.Volume // most that Bank and Share are off
	Area    unit.Area   // in plan
	Missing unit.Area   // of the cut in plan that has no survey, at most; over 0 Bank is not all
	Top     []geom.Ring // the top edge (daylight line): outer rings counter-clockwise, holes clockwise; nil if not known
	Bounds  geom.Box    // of what is dug
}

// Known says that the survey covers the whole cut.
func (e Excavated) Known() bool { return e.Missing == 0 }

// facet is a triangle of the ground in the frame of a cut.
type facet struct {
	at    [3]geom.Point
	sides [3]linear // positive inside
	plane linear
	box   geom.Box
	top   float64
}

// daylight is the depth in metres under which ground counts as not dug: a tenth
// of the micrometre that elevations are snapped to, so that ground at the very
// level of a bench or bottom has a clear edge.
const daylight = 1e-7

// roundingShare is the share of box area times depth that an exact sum may lose: the
// lines are cut out of squares up to farOut times as large as their patches, so
// that a corner is off by some 2^10 units of 2^-53.
const roundingShare = 1.0 / (1 << 38)

// margin is what the highest ground is raised by before the reach of the cut is
// laid out, so that ground little higher further out costs no second round.
const margin = 0.1

// digging is the work of one cut.
type digging struct {
	cut   *CutSurface
	cells []cell
	top   float64
	buffers
}

// buffers are what one cut leaves for the next to fill again.
type buffers struct {
	facets []facet
	rims   []segment
	a, b   patch
}

// Excavate cuts the surface out of the ground. Fill is not counted: where the
// ground lies under the cut nothing is dug. The volume is exact but for
// rounding, with rounded corners within Bound.
func (c CutSurface) Excavate(ground Facets) Excavated {
	d := digging{cut: &c}
	return d.run(ground)
}

// run lays out the cells and sums what is dug of them.
func (d *digging) run(ground Facets) Excavated {
	out := Excavated{Bounds: geom.EmptyBox()}
	d.layOut(ground)
	d.rims = d.rims[:0]
	sum := summing{out: &out, rims: &d.rims, all: d.cut.uneven(), a: d.a, b: d.b}
	open := 0.0
	for i := range d.cells {
		c := &d.cells[i]
		left := c.area() - sum.cell(c, d.facets)
		if left > coverage*(1+c.area()) {
			open += left
			sum.open = sum.open || c.floor
		}
	}
	d.a, d.b = sum.a, sum.b
	out.Share = out.Bank
	if open > 0 && (sum.open || d.touchesBorder()) {
		out.Missing = unit.Area(open)
	}
	if out.Area > 0 && out.Known() {
		out.Top = d.cut.chained(d.rims)
	}
	for i := range d.cut.pieces {
		out.Bound += unit.Volume(d.cut.pieces[i].roundBound(d.top))
	}
	if !out.Bounds.Empty() {
		o := d.cut.origin.Sub(geom.Point{})
		out.Bounds = geom.Box{Min: out.Bounds.Min.Add(o), Max: out.Bounds.Max.Add(o)}
	}
	return out
}

// uneven says that a crease of one cell may lie along a wall of another.
func (c *CutSurface) uneven() bool {
	return len(c.pieces) > 1 || len(c.pieces) == 1 && c.pieces[0].rounded
}

// coverage is the share of a cell's area that clipping may lose to rounding.
const coverage = 1e-9

// layOut gathers the ground about the cut and makes the cells that reach up to
// it. Ground further out may be higher and reach further; the rounds end when
// it does not, or with the survey.
func (d *digging) layOut(ground Facets) {
	box := geom.EmptyBox()
	for i := range d.cut.pieces {
		box = box.Union(geom.BoxOf(d.cut.pieces[i].ring...))
	}
	d.top = d.gather(ground, box) + margin
	for range 60 {
		d.cells = d.cut.cells(d.top)
		wider := box
		for i := range d.cells {
			wider = wider.Union(d.cells[i].bounds())
		}
		if wider == box {
			return
		}
		box = wider
		top := d.gather(ground, box)
		if top <= d.top {
			return
		}
		d.top = top + margin
	}
}

// gather takes the triangles about a box and tells the highest corner.
func (d *digging) gather(ground Facets, box geom.Box) float64 {
	d.facets = d.facets[:0]
	top := math.Inf(-1)
	o := d.cut.origin.Sub(geom.Point{})
	at := geom.Box{Min: box.Min.Add(o), Max: box.Max.Add(o)}.Grown(1)
	ground.Facets(at, func(a, b, c geom.Point3) bool {
		if f, ok := d.cut.facet(a, b, c); ok {
			d.facets = append(d.facets, f)
			top = max(top, f.top)
		}
		return true
	})
	if math.IsInf(top, -1) {
		return 0
	}
	return top
}

// facet turns a triangle into the frame of the cut; false for one without area.
func (c *CutSurface) facet(p, q, r geom.Point3) (facet, bool) {
	local := func(p geom.Point3) geom.Point3 {
		return geom.Point3{X: p.X - c.origin.X, Y: p.Y - c.origin.Y, Z: p.Z - c.z0}
	}
	p, q, r = local(p), local(q), local(r)
	plane, ok := planeOver(p, q, r)
	f := facet{at: [3]geom.Point{p.Plan(), q.Plan(), r.Plan()}, plane: plane, top: max(p.Z, q.Z, r.Z)}
	for i := range f.at {
		f.sides[i] = leftOf(f.at[i], f.at[(i+1)%3])
	}
	f.box = geom.BoxOf(f.at[:]...)
	return f, ok
}

// summing sums what is dug of cells.
type summing struct {
	out  *Excavated
	rims *[]segment
	a, b patch
	open bool // some bottom has no survey
	all  bool // creases may run along walls of other pieces
}

// cell adds what the facets lie over a cell, and tells the area they cover.
func (s *summing) cell(c *cell, facets []facet) float64 {
	box := c.bounds()
	covered := 0.0
	for i := range facets {
		f := &facets[i]
		if !f.box.Meets(box) {
			continue
		}
		here := s.over(&c.patch, f)
		if here.empty() {
			continue
		}
		covered += here.area()
		s.dug(here, f.plane.minus(c.plane))
	}
	return covered
}

// over is the part of a patch under a facet.
func (s *summing) over(p *patch, f *facet) *patch {
	here, next := p, &s.a
	for k := range f.sides {
		if least, _ := here.span(f.sides[k]); least >= 0 {
			continue
		}
		here.keep(next, f.sides[k], net)
		here = next
		if next = &s.a; here == next {
			next = &s.b
		}
	}
	return here
}

// dug adds the part of a patch where the ground lies over the cut.
func (s *summing) dug(here *patch, depth linear) {
	least, most := here.span(depth)
	if most <= daylight {
		return
	}
	if least < daylight {
		next := &s.a
		if here == next {
			next = &s.b
		}
		here.keep(next, depth.raised(-daylight), brink)
		if here = next; here.empty() {
			return
		}
	}
	volume, area := integral(here.at, depth)
	box := here.bounds()
	s.out.Bank += unit.Volume(volume)
	s.out.Area += unit.Area(area)
	s.out.Bound += unit.Volume(roundingShare * box.Width() * box.Height() * (most + 1))
	s.out.Bounds = s.out.Bounds.Union(box)
	if s.rims != nil {
		s.edges(here)
	}
}

// edges keeps the sides of a dug patch that may lie on the top edge.
func (s *summing) edges(p *patch) {
	for i, b := range p.across {
		if b == brink || b == wall || s.all && b == crease {
			*s.rims = append(*s.rims, segment{p.at[i], p.at[(i+1)%len(p.at)]})
		}
	}
}

// integral is that of a linear depth over a convex ring, and the ring's area.
func integral(at []geom.Point, depth linear) (volume, area float64) {
	d0, last := depth.at(at[0]), 0.0
	for i := 1; i < len(at); i++ {
		d := depth.at(at[i])
		if i > 1 {
			a := at[i-1].Sub(at[0]).Cross(at[i].Sub(at[0])) / 2
			area += a
			volume += float64(a*(d0+last+d)) / 3
		}
		last = d
	}
	return volume, area
}

// touchesBorder says that something is dug up to where the survey ends: to a
// side of a triangle that no other shares.
func (d *digging) touchesBorder() bool {
	shared := map[[2]geom.Point]int{}
	key := func(a, b geom.Point) [2]geom.Point {
		if b.X < a.X || b.X == a.X && b.Y < a.Y {
			a, b = b, a
		}
		return [2]geom.Point{a, b}
	}
	for i := range d.facets {
		for k, at := range d.facets[i].at {
			shared[key(at, d.facets[i].at[(k+1)%3])]++
		}
	}
	for i := range d.facets {
		f := &d.facets[i]
		for k, at := range f.at {
			if shared[key(at, f.at[(k+1)%3])] == 1 && d.dugAlong(f, k) {
				return true
			}
		}
	}
	return false
}

// dugAlong says that something is dug along side k of a facet.
func (d *digging) dugAlong(f *facet, k int) bool {
	s := summing{out: &Excavated{}}
	for i := range d.cells {
		c := &d.cells[i]
		if !f.box.Meets(c.bounds()) {
			continue
		}
		here := s.over(&c.patch, f)
		for j, at := range here.at {
			next := here.at[(j+1)%len(here.at)]
			if onLine(f.distance(k, at)) && onLine(f.distance(k, next)) && at.Distance(next) > snap {
				depth := f.plane.minus(c.plane)
				if depth.at(at.Toward(next, 0.5)) > daylight {
					return true
				}
			}
		}
	}
	return false
}

// distance is how far a point lies inside of side k.
func (f *facet) distance(k int, p geom.Point) float64 {
	l := f.sides[k]
	return l.at(p) / geom.Vector{X: l.x, Y: l.y}.Length()
}
