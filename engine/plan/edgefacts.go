package plan

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/machine"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// Plant is a machine at a place: the stands that the job tells and those that
// are planned.
type Plant struct {
	ID       string
	Machine  machine.Machine
	Place    machine.Place
	Digs     []string
	Retained safety.Answer
	open     map[string][]geom.Ring // of a planned one: the top edges open by then, by dig
}

// plant is where machines stand: as told, and as planned.
func (p *Plan) plant() []Plant { return append(p.toldPlant(), p.planned...) }

// toldPlant is where the job tells that machines stand.
func (p *Plan) toldPlant() []Plant {
	var out []Plant
	for _, s := range p.Job.Stands {
		at := Plant{ID: s.ID, Place: machine.Place{At: s.At, Bearing: s.Bearing}, Digs: s.Digs, Retained: safety.Answer(s.Retained)}
		for _, m := range p.Job.Machines {
			if m.ID == s.Machine {
				at.Machine = m.Body()
			}
		}
		if len(at.Digs) == 0 {
			at.Digs = p.about(at)
		}
		out = append(out, at)
	}
	return out
}

// nearEdge is how near a dig plant and heaps are told of: as far as the deepest
// dig that no engineer has to design, with sides of 1.5:1, reaches out (30 ft).
const nearEdge = 30 * unit.Foot

// about is the digs near plant that names none.
func (p *Plan) about(at Plant) []string {
	var out []string
	for _, d := range p.Digs {
		if d.gap(at.gap) <= nearEdge {
			out = append(out, d.Excavation.ID)
		}
	}
	return out
}

// gap is how far a ring is from what the machine stands on; from its place where
// its footprint is not known.
func (a Plant) gap(ring geom.Ring) unit.Length {
	print := a.Machine.Base.Footprint(a.Place)
	if print == nil {
		return lineGap(ring, []geom.Point{a.Place.At})
	}
	gap := ringGap(ring, print)
	for _, foot := range a.Machine.Base.Feet(a.Place) {
		gap = min(gap, ringGap(ring, foot))
	}
	return gap
}

// stands are the machines near each dig, by the distance from its top edge: nil
// where the machine's footprint or the edge is not known.
func (p *Plan) stands() []safety.Stand {
	var out []safety.Stand
	for _, at := range p.plant() {
		for _, id := range at.Digs {
			d, ok := p.Dig(id)
			if !ok {
				continue
			}
			s := safety.Stand{ID: at.ID, Dig: id, Retained: at.Retained}
			switch {
			case at.open != nil:
				s.Edge = at.toOpen(id)
			case at.Machine.Base.Known():
				s.Edge = d.fromEdge(d.gap(at.gap))
			}
			out = append(out, s)
		}
	}
	return out
}

// toOpen is how far a planned stand is from what is open of a dig by then.
func (a Plant) toOpen(id string) *unit.Length {
	least := unit.Length(math.Inf(1))
	for _, ring := range a.open[id] {
		least = min(least, a.gap(ring))
	}
	return &least
}

// heaps are the heaps near each dig, by the distance from its top edge.
func (p *Plan) heaps() []safety.Heap {
	var out []safety.Heap
	for _, h := range p.Job.Heaps {
		for _, d := range p.Digs {
			gap := d.gap(func(ring geom.Ring) unit.Length { return ringGap(ring, h.Outline) })
			if gap <= nearEdge {
				out = append(out, safety.Heap{ID: h.ID, Dig: d.Excavation.ID, Edge: d.fromEdge(gap), Retained: safety.Answer(h.Retained)})
			}
		}
	}
	return out
}

// crossings are the walkways over digs; one of no told height lies as high as
// its dig is deep.
func (p *Plan) crossings() []safety.Crossing {
	var out []safety.Crossing
	for _, c := range p.Job.Crossings {
		x := safety.Crossing{ID: c.ID, Dig: c.Excavation, Height: c.Height, Rails: safety.Answer(c.Rails)}
		if d, ok := p.Dig(c.Excavation); ok && c.Height == nil && d.Depth != nil {
			x.Height = &d.Depth.Max
		}
		out = append(out, x)
	}
	return out
}

// laserFacts is a set-up as people near it meet its beam.
func (p *Plan) laserFacts(s *Setup) safety.Laser {
	b := p.Job.Site.Beam
	out := safety.Laser{
		Setup: s.ID, Walked: safety.Answer(b.Walked), Signs: safety.Answer(b.Signs), Attended: safety.Answer(b.Attended),
		Trained: safety.Answer(b.Trained), Foul: safety.Answer(b.Foul),
	}
	if b.Walked != job.No {
		out.Lowest, out.Highest = p.overGround(s)
	}
	return out
}

// overGround is how low and how high a beam runs over the ground on the way to
// the digs it gives numbers at; nil where a stretch of it lies outside the survey
// or the beam has no height.
func (p *Plan) overGround(s *Setup) (lowest, highest *unit.Length) {
	if p.Job.Existing == nil || !s.Known {
		return nil, nil
	}
	low, high := math.Inf(1), math.Inf(-1)
	seen := ""
	for _, n := range p.Numbers {
		if n.Setup != s.ID || n.Excavation == seen {
			continue
		}
		seen = n.Excavation
		for _, g := range p.Job.Existing.Profile([]geom.Point{s.Plane.At, n.At}) {
			if !g.Known || g.Gap {
				return nil, nil
			}
			up := float64(s.Plane.Beam(g.At).Above(unit.Elevation(g.Z)))
			low, high = min(low, up), max(high, up)
		}
	}
	if !(low <= high) {
		return nil, nil
	}
	l, h := unit.Length(low), unit.Length(high)
	return &l, &h
}
