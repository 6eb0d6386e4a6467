package plan

import (
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// serviceOf is a buried line as the rules see it, without the digs near it.
func serviceOf(u job.Utility) safety.Service {
	s := safety.Service{
		ID: u.ID, Kind: u.Kind, Line: u.Line, Size: known(u.Size),
		Ticket: u.Ticket, MarkedOn: u.MarkedOn, Expires: u.Expires,
	}
	if u.PrivateLocate {
		s.Private = safety.Yes
	}
	if u.Exposed != nil {
		s.Exposed = &safety.Exposed{By: u.Exposed.By, Top: &u.Exposed.Top}
	}
	return s
}

// services are the buried lines with the digs whose top edge comes inside twice
// the distance at which the bucket stops.
func (p *Plan) services() []safety.Service {
	var out []safety.Service
	for i, u := range p.Job.Utilities {
		s := serviceOf(u)
		stop := p.Bounds.Zones[i].Stop
		for _, d := range p.Digs {
			gap := d.fromEdge(d.gap(func(ring geom.Ring) unit.Length { return lineGap(ring, u.Line) }))
			if gap == nil || *gap <= 2*stop {
				s.Near = append(s.Near, safety.Approach{Dig: d.Excavation.ID, Distance: gap, ByHand: handDug(d.source.Conditions)})
			}
		}
		out = append(out, s)
	}
	return out
}

// footings are the neighbours' footings with the digs that come so near, for
// their depth, that a footing at the ground would be under the flattest line.
func (p *Plan) footings() []safety.Footing {
	var out []safety.Footing
	for _, s := range p.Job.Structures {
		for _, d := range p.Digs {
			gap := d.gap(func(ring geom.Ring) unit.Length { return ringGap(ring, s.Outline) })
			if gap > safety.InfluenceReach(p.book, p.drop(d, s.Bearing)) {
				continue
			}
			out = append(out, safety.Footing{
				ID: s.ID, Dig: d.Excavation.ID, Bearing: s.Bearing, Distance: &gap, Adjoining: s.Adjoining == job.Yes,
				Granular: safety.Answer(s.Granular), Supported: safety.Answer(s.Supported), Engineer: s.Engineer,
			})
		}
	}
	return out
}

// drop is how far a dig can go below a footing, nil where it is not known.
func (p *Plan) drop(d Dig, bearing *unit.Elevation) *unit.Length {
	if low := d.lowest(); bearing != nil && low != nil {
		drop := bearing.Above(*low)
		return &drop
	}
	if d.Depth == nil {
		return nil
	}
	return &d.Depth.Max
}

// overheadOf is a power line as the rules see it.
func overheadOf(o job.Overhead) safety.Overhead {
	return safety.Overhead{ID: o.ID, Line: o.Line, Kilovolts: o.Kilovolts, Height: known(o.Height), On: o.On}
}

// reaches are the tall things near each overhead line: machines where they
// stand, or anywhere about a dig where no stand is told; rods at the digs; masts
// at the set-ups; raised truck bodies.
func (p *Plan) reaches() []safety.Reach {
	var out []safety.Reach
	for _, line := range p.Job.Overheads {
		out = append(out, p.machineReaches(line)...)
		out = append(out, p.rodReaches(line)...)
		for i := range p.Setups {
			s := &p.Setups[i]
			gap := unit.Length(lineGap(geom.Ring{s.Plane.At}, line.Line))
			out = append(out, safety.Reach{Line: line.ID, What: safety.Mast, Distance: &gap, Top: p.mast(s), Radius: new(unit.Length)})
		}
		if t := p.Job.Trucks; t.Placed || t.Volume > 0 || t.Raised > 0 {
			r := safety.Reach{Line: line.ID, What: safety.TruckBody, Top: known(t.Raised), Radius: known(t.Radius)}
			if t.Placed {
				gap := lineGap(geom.Ring{t.At}, line.Line)
				r.Distance = &gap
			}
			out = append(out, r)
		}
	}
	return out
}

// mast is the top of a set-up's laser over the ground: as high as its mast goes,
// else as its beam is; nil where neither is known.
func (p *Plan) mast(s *Setup) *unit.Length {
	if top := s.Laser.Heights[1]; top > 0 {
		return &top
	}
	if p.Job.Existing == nil || !s.Known {
		return nil
	}
	z, ok := p.Job.Existing.Height(s.Plane.At)
	if !ok {
		return nil
	}
	top := s.Plane.HI.Above(unit.Elevation(z))
	return &top
}

// machineReaches is how near machines come to a line.
func (p *Plan) machineReaches(line job.Overhead) []safety.Reach {
	var out []safety.Reach
	standing := map[string]bool{}
	for _, at := range p.plant() {
		gap := lineGap(geom.Ring{at.Place.At}, line.Line)
		out = append(out, safety.Reach{
			Line: line.ID, What: safety.Machine, Stand: at.ID, Distance: &gap,
			Top: known(at.Machine.Highest), Radius: known(at.Machine.Envelope.Farthest()),
		})
		for _, id := range at.Digs {
			standing[id] = true
		}
	}
	top, radius := p.tallest()
	for _, d := range p.Digs {
		if standing[d.Excavation.ID] {
			continue
		}
		r := safety.Reach{Line: line.ID, What: safety.Machine, Dig: d.Excavation.ID, Top: top, Radius: radius}
		if radius != nil { // it may stand as far out as it reaches
			gap := max(0, d.gap(func(ring geom.Ring) unit.Length { return lineGap(ring, line.Line) })-*radius)
			r.Distance = &gap
		}
		out = append(out, r)
	}
	return p.nearest(line, out)
}

// tallest is the greatest height and reach of the job's machines, nil where one
// of them does not tell.
func (p *Plan) tallest() (top, radius *unit.Length) {
	var high, far unit.Length
	for _, m := range p.Job.Machines {
		body := m.Body()
		if body.Highest == 0 || body.Envelope.Farthest() == 0 {
			return nil, nil
		}
		high, far = max(high, body.Highest), max(far, body.Envelope.Farthest())
	}
	return known(high), known(far)
}

// rodReaches is how near the longest rod comes to a line at each dig. A rod run
// out can tip: it sweeps its own length.
func (p *Plan) rodReaches(line job.Overhead) []safety.Reach {
	longest := unit.Length(0)
	for _, r := range p.Job.Rods {
		longest = max(longest, unit.Length(r.Longest))
	}
	if longest == 0 {
		return nil
	}
	var out []safety.Reach
	for _, d := range p.Digs {
		gap := d.gap(func(ring geom.Ring) unit.Length { return lineGap(ring, line.Line) })
		out = append(out, safety.Reach{Line: line.ID, What: safety.LongRod, Dig: d.Excavation.ID, Distance: &gap, Top: &longest, Radius: &longest})
	}
	return p.nearest(line, out)
}

// nearest keeps of many places one that stands for those that lie clear of a
// line, the nearest, and every one that does not; places of no known distance
// are all alike, so that the first stands for them.
func (p *Plan) nearest(line job.Overhead, all []safety.Reach) []safety.Reach {
	clear := safety.ClearanceOf(p.book, line.Kilovolts).Distance
	var out []safety.Reach
	var best *safety.Reach
	unknown := false
	for i, r := range all {
		switch {
		case r.Distance == nil:
			if !unknown {
				unknown = true
				out = append(out, r)
			}
		case r.Stand != "" || r.Radius == nil || *r.Distance-*r.Radius < clear:
			out = append(out, r)
		case best == nil || *r.Distance < *best.Distance:
			best = &all[i]
		}
	}
	if best != nil && len(out) == 0 {
		out = append(out, *best)
	}
	return out
}
