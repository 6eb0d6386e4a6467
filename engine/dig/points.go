package dig

import (
	"math"
	"slices"
	"strconv"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// PointKind is what a point of a dig is.
type PointKind string

// The kinds of points. Centre and Corner are of areas: a plan takes Centre
// where its beam is parallel to the bottom, else the corners. The others are of
// runs; Before and After are the two sides of a step or of two inverts at one
// station. Outlet is an outlet of a box, whose Bottom is its invert.
const (
	Centre PointKind = "centre"
	Corner PointKind = "corner"
	Start  PointKind = "start"
	End    PointKind = "end"
	Bend   PointKind = "bend"
	Break  PointKind = "break" // an invert, or a point of the line without a bend
	Before PointKind = "before"
	After  PointKind = "after"
	Along  PointKind = "along" // at the interval
	Outlet PointKind = "outlet"
)

// NumberPoint is a point of a dig where a number is wanted.
type NumberPoint struct {
	Name    string // the kind, with a number where there are several: "bend-2"; once in its part
	Kind    PointKind
	Part    string
	Station unit.Station // of runs
	At      geom.Point
	Bottom  unit.Elevation
}

// Points are the points of all parts where numbers are wanted, part by part: of
// an area its centre and the corners of its dug outline, of a run along its
// line its ends, bends, steps, inverts and every full interval from its first
// point. An interval under a centimetre asks for none.
func (d Dig) Points(interval unit.Length) []NumberPoint {
	var out []NumberPoint
	for i := 0; i < len(d.Parts); {
		if !d.Parts[i].Run() {
			out = d.Parts[i].areaPoints(out)
			i++
			continue
		}
		end := i + 1
		for end < len(d.Parts) && d.Parts[end].Run() && d.Parts[end].run == d.Parts[i].run {
			end++
		}
		s := stake{parts: d.Parts[i:end], counts: map[PointKind]int{}, out: out}
		s.walk(float64(interval))
		out = s.out
		i = end
	}
	return d.outletPoints(out)
}

// areaPoints adds a part's centre and corners.
func (p *Part) areaPoints(out []NumberPoint) []NumberPoint {
	add := func(name string, kind PointKind, at geom.Point) {
		out = append(out, NumberPoint{Name: name, Kind: kind, Part: p.ID, At: at, Bottom: p.BottomAt(at)})
	}
	out = slices.Grow(out, 1+len(p.Outline))
	add(string(Centre), Centre, middle(p.Outline))
	for i, at := range p.Outline {
		add(string(Corner)+"-"+strconv.Itoa(i+1), Corner, at)
	}
	return out
}

// middle is the centroid of a ring, or where that lies outside, the middle of
// the widest stretch inside on the east–west line through it.
func middle(r geom.Ring) geom.Point {
	c := r.Centroid()
	if r.Contains(c) == geom.Inside {
		return c
	}
	best, width := c, 0.0
	xs := crossings(r, c.Y)
	for i := 1; i < len(xs); i += 2 {
		if w := xs[i] - xs[i-1]; w > width {
			best, width = geom.Point{X: (xs[i] + xs[i-1]) / 2, Y: c.Y}, w
		}
	}
	return best
}

// outletPoints adds the outlets of a box, evenly along its far side: their
// places in plan are not known better, their level is.
func (d Dig) outletPoints(out []NumberPoint) []NumberPoint {
	o := d.Excavation.Outlets
	if o == nil || len(d.Parts) == 0 {
		return out
	}
	from, to := d.Parts[0].Neat.Side(1)
	for i := 1; i <= o.Count; i++ {
		out = append(out, NumberPoint{
			Name: string(Outlet) + "-" + strconv.Itoa(i), Kind: Outlet, Part: d.Parts[0].ID,
			At: from.Toward(to, float64(i)/float64(o.Count+1)), Bottom: o.Level,
		})
	}
	return out
}

// stake walks along the parts of one run and gathers its points.
type stake struct {
	parts  []Part
	counts map[PointKind]int
	out    []NumberPoint
}

// walk adds the points of the run in the order of their stations.
func (s *stake) walk(interval float64) {
	n := len(s.parts)
	s.add(Start, 0, s.parts[0].From)
	for i := range s.parts {
		s.along(i, interval)
		if i+1 < n {
			s.joint(i)
		}
	}
	s.add(End, n-1, s.parts[n-1].To)
}

// add is a point of part i.
func (s *stake) add(kind PointKind, i int, at unit.Station) {
	p := &s.parts[i]
	name := string(kind)
	if kind != Start && kind != End {
		s.counts[kind]++
		name += "-" + strconv.Itoa(s.counts[kind])
	}
	s.out = append(s.out, NumberPoint{
		Name: name, Kind: kind, Part: p.ID, Station: at, At: p.PointAt(at), Bottom: p.bottomAtStation(at),
	})
}

// along adds the full intervals within part i, not its ends.
func (s *stake) along(i int, interval float64) {
	if !(interval >= 0.01) {
		return
	}
	from, to := float64(s.parts[i].From), float64(s.parts[i].To)
	for k := math.Floor(from / interval); ; k++ {
		at := k * interval
		if at >= to-snap {
			return
		}
		if at > from+snap {
			s.add(Along, i, unit.Station(at))
		}
	}
}

// joint adds what lies between part i and the next: both sides of a step, a
// bend, or a break.
func (s *stake) joint(i int) {
	a, b := &s.parts[i], &s.parts[i+1]
	drop := math.Abs(float64(a.bottomAtStation(a.To) - b.Trace.Sum))
	switch {
	case drop > noFall:
		s.add(Before, i, a.To)
		s.add(After, i+1, b.From)
	case math.Abs(a.heading().Cross(b.heading())) > 1e-9:
		s.add(Bend, i+1, b.From)
	default:
		s.add(Break, i+1, b.From)
	}
}

// heading is the direction of a run's part.
func (p *Part) heading() geom.Vector { return p.Line[1].Sub(p.Line[0]).Unit() }

// crossings are where the east–west line at y crosses the ring, from west.
func crossings(r geom.Ring, y float64) []float64 {
	var xs []float64
	for i := range r {
		a, b := r.Side(i)
		if (a.Y > y) != (b.Y > y) {
			xs = append(xs, a.X+float64((y-a.Y)/(b.Y-a.Y)*(b.X-a.X)))
		}
	}
	slices.Sort(xs)
	return xs
}
