package plan

import (
	"spadework/engine/dig"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Quantities are what is moved and filled on the whole site.
type Quantities struct {
	Bank      unit.Volume // the sum of the known shares, in the order of the digs
	Bound     unit.Volume // most that Bank is off
	Missing   unit.Area   // of cuts that the survey does not cover
	Unknown   []string    // digs whose volume is not known
	Loose     *unit.Volume
	Backfill  *unit.Volume // compacted
	Surplus   *unit.Volume // in the bank: what is left after the backfill, − to be brought in
	SurplusAs Moved
	Concrete  unit.Volume // of the digs with a known thickness
	Bedding   unit.Volume
	Blinding  unit.Volume
	Subbase   unit.Volume
	Hours     dig.Hours
}

// Moved is a surplus as it is hauled.
type Moved struct {
	Loose unit.Volume
	Mass  float64 // kilograms, 0 not known
	Loads dig.Loads
}

// Earth is what is moved and filled of one dig.
type Earth struct {
	dig.Excavated
	Bill     dig.Bill
	ByHand   *dig.ByHand   // nil: not told
	Material *dig.Material // nil: not told
	Loose    *unit.Volume  // of Share; nil unknown
	Surplus  *unit.Volume  // in the bank: Share less what the backfill takes
	Hauled   Moved         // the surplus, if it is over 0
	Heap     *Heap
	Hours    dig.Hours
}

// excavate measures what is dug and filled.
func (p *Plan) excavate() *phrase.Fault {
	if p.Job.Existing == nil {
		return nil
	}
	cuts := make([]dig.CutSurface, len(p.Digs))
	for i := range p.Digs {
		cuts[i] = p.Digs[i].CutSurface()
	}
	for i, e := range dig.ExcavateAll(cuts, p.Job.Existing) {
		p.Digs[i].Earth = p.earth(&p.Digs[i], cuts[i], e)
	}
	p.Quantities = p.sumUp()
	return nil
}

// earth is what follows from what is dug of one dig.
func (p *Plan) earth(d *Dig, c dig.CutSurface, e dig.Excavated) *Earth {
	out := &Earth{Excavated: e, Material: p.material(d)}
	if v, ok := d.ByHand(c, p.Job.Existing, p.Job.Interval); ok {
		v = v.Times(d.Overlap(p.Job.Existing, e.Bank))
		out.ByHand = &v
	}
	dug := dig.Dug{Bank: e.Share, Known: e.Known()}
	if core, ok := d.Core(); ok && dug.Known {
		dug.Core = min(e.Share, core.Excavate(p.Job.Existing).Bank)
	}
	out.Bill = d.Bill(c, dug)
	m := out.Material
	if m == nil || !e.Known() {
		return out
	}
	loose := m.Loose(e.Share)
	out.Loose = &loose
	if out.Bill.Backfill != nil {
		left := e.Share - m.BankFor(*out.Bill.Backfill)
		out.Surplus = &left
		out.Hauled = p.hauled(max(0, left), m)
	}
	out.Hours = dig.HoursOf(e.Share, p.Bucket(), *m)
	return out
}

// hauled is a volume in the bank as trucks take it.
func (p *Plan) hauled(bank unit.Volume, m *dig.Material) Moved {
	out := Moved{Loose: m.Loose(bank), Mass: m.Mass(bank)}
	out.Loads = truckOf(p.Job.Trucks).Loads(out.Loose, out.Mass)
	return out
}

// material is what a dig is dug in, nil if nobody tells.
func (p *Plan) material(d *Dig) *dig.Material {
	id := d.Excavation.Material
	if id == "" {
		id = p.Job.Spoil.Material
	}
	for i := range p.Job.Materials {
		if m := &p.Job.Materials[i]; m.ID == id {
			return m
		}
	}
	return nil
}

// Materials are those that something is dug in, in the order of the digs.
func (p *Plan) Materials() []dig.Material {
	var out []dig.Material
	seen := map[string]bool{}
	for i := range p.Digs {
		if e := p.Digs[i].Earth; e != nil && e.Material != nil && !seen[e.Material.ID] {
			seen[e.Material.ID] = true
			out = append(out, *e.Material)
		}
	}
	return out
}

// Bucket is the first bucket of the job with a volume, by which digging time is told; 0
// for none.
func (p *Plan) Bucket() unit.Volume {
	for _, m := range p.Job.Machines {
		for _, b := range m.Buckets {
			if b.Volume > 0 {
				return b.Volume
			}
		}
	}
	return 0
}

// sumUp adds the digs up in their order.
func (p *Plan) sumUp() *Quantities {
	q := &Quantities{}
	var loose, fill, left, mass unit.Volume
	known := [3]bool{true, true, true}
	for i := range p.Digs {
		e := p.Digs[i].Earth
		q.Bedding += e.Bill.Bedding
		q.Blinding += e.Bill.Blinding
		q.Subbase += e.Bill.Subbase
		if e.Bill.Concrete != nil {
			q.Concrete += *e.Bill.Concrete
		}
		q.Hours.Least += e.Hours.Least
		q.Hours.Most += e.Hours.Most
		q.Hours.Untrimmed += e.Hours.Untrimmed
		if !e.Known() {
			q.Missing += e.Missing
			q.Unknown = append(q.Unknown, p.Digs[i].Excavation.ID)
			known = [3]bool{}
			continue
		}
		q.Bank += e.Share
		q.Bound += e.Bound
		add(&loose, e.Loose, &known[0])
		add(&fill, e.Bill.Backfill, &known[1])
		add(&left, e.Surplus, &known[2])
		if e.Surplus != nil {
			q.SurplusAs.Loose += e.Material.Loose(*e.Surplus)
			mass += unit.Volume(e.Material.Mass(*e.Surplus))
		}
	}
	q.Loose, q.Backfill, q.Surplus = told(loose, known[0]), told(fill, known[1]), told(left, known[2])
	if q.Surplus == nil || left < 0 {
		q.SurplusAs = Moved{}
		return q
	}
	q.SurplusAs.Mass = float64(mass)
	q.SurplusAs.Loads = truckOf(p.Job.Trucks).Loads(q.SurplusAs.Loose, q.SurplusAs.Mass)
	return q
}

// truckOf is the truck of a job.
func truckOf(t job.Trucks) dig.Truck { return dig.Truck{Volume: t.Volume, Payload: t.Payload} }

// add adds a figure that may not be known.
func add(sum, v *unit.Volume, known *bool) {
	if v == nil {
		*known = false
		return
	}
	*sum += *v
}

// told is a sum that is known, or nil.
func told(v unit.Volume, known bool) *unit.Volume {
	if !known {
		return nil
	}
	return &v
}
