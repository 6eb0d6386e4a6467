package dig

import (
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Part is a piece of a dig with one plane for its bottom.
type Part struct {
	ID      string     // "1", "2" …; "2.1" in a field; "slab", "edge-1"; a structure's own id
	Outline geom.Ring  // dug, at the bottom, counter-clockwise
	Neat    geom.Ring  // concrete or pipe zone, counter-clockwise, inside Outline
	Bottom  geom.Plane // through Trace.Sum at the part's start
	Trace   Trace      // at the part's start
	outer   []int      // for each side of Outline the side of the dig it is, −1 across it; nil: itself

	// Runs only.
	Line     []geom.Point // from its first to its last point
	From, To unit.Station
	Grade    unit.Grade // rise from From onward
	run      int        // which trench of a field, from 0
}

// Run says that the part is a piece of a run with stations.
func (p Part) Run() bool { return len(p.Line) > 0 }

// BottomAt is the elevation of the part's bottom over at.
func (p Part) BottomAt(at geom.Point) unit.Elevation { return unit.Elevation(p.Bottom.At(at)) }

// PointAt is the place of a station on the part's line; of no run the zero
// point.
func (p Part) PointAt(s unit.Station) geom.Point {
	if !p.Run() {
		return geom.Point{}
	}
	last := p.Line[len(p.Line)-1]
	return p.Line[0].Toward(last, float64(s-p.From)/float64(p.To-p.From))
}

// TraceAt is the trace at a station of the part; of no run the part's own.
func (p Part) TraceAt(s unit.Station) Trace {
	t := p.Trace.copied()
	addFall(&t, p.Grade, p.From, s)
	return t
}

// bottomAtStation is TraceAt(s).Sum.
func (p Part) bottomAtStation(s unit.Station) unit.Elevation {
	return p.Trace.Sum.Plus(p.Grade.Over(unit.Length(s - p.From)))
}

// Dig is an excavation resolved.
type Dig struct {
	Excavation Excavation // as given
	Parts      []Part
	Turned     bool             // the outline was given clockwise: its side i is side n−1−i of the parts
	Notes      []phrase.Message // findings that are no faults
}

// Part is the part called id.
func (d Dig) Part(id string) (Part, bool) {
	for _, p := range d.Parts {
		if p.ID == id {
			return p, true
		}
	}
	return Part{}, false
}

// OuterSides are the sides of the dug outline, by their number, each as the
// stretches that the parts have of it; structures of a run are left out.
func (d Dig) OuterSides() [][][2]geom.Point {
	var out [][][2]geom.Point
	for i := range d.Parts {
		p := &d.Parts[i]
		if d.Excavation.Kind.Run() && !p.Run() {
			continue
		}
		for k := range p.Outline {
			label := k
			if p.outer != nil {
				label = p.outer[k]
			}
			for label >= len(out) {
				out = append(out, nil)
			}
			if label >= 0 {
				from, to := p.Outline.Side(k)
				out[label] = append(out[label], [2]geom.Point{from, to})
			}
		}
	}
	return out
}
