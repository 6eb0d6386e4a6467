package record

import (
	"spadework/engine/dig"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// AsDug is a hole as its shots found it.
type AsDug struct {
	Excavation string
	Shots      int
	High       int         // shots that lie over the tolerance, which are dug away first
	Over       unit.Length // mean of what the shots lie too deep; what lies too high takes nothing off
	Volume     unit.Volume // of the over-dig: Over times the area of the concrete, of a trench the dug area
	Stone      bool        // it is filled with stone, not concrete: a trench
	Design     *unit.Volume
	Order      *unit.Volume // Design and Volume; nil where the thickness is not known
	Cost       *float64     // of Volume and of trimming what is high, in the job's money; nil: no price
}

// Order is what is to be ordered in all.
type Order struct {
	Concrete, OverConcrete, OverStone unit.Volume
	Over                              []string // digs that are over-dug
	Unshot                            []string // digs of known concrete without a shot: as designed
	Cost                              *float64
}

// HolesAsDug turns judged shots into over-dig and what is to be ordered, dig by
// dig in the order of the plan.
func HolesAsDug(p *plan.Plan, shots []AsBuilt) ([]AsDug, Order) {
	var out []AsDug
	var order Order
	priced := p.Job.Risk.CostOver > 0 || p.Job.Risk.CostTrim > 0
	total := 0.0
	for i := range p.Digs {
		d := &p.Digs[i]
		var bill dig.Bill
		if d.Earth != nil {
			bill = d.Earth.Bill
		} else {
			bill = d.Bill(d.CutSurface(), dig.Dug{})
		}
		one := AsDug{Excavation: d.Excavation.ID, Design: bill.Concrete, Stone: bill.Concrete == nil && d.Excavation.Kind.Run()}
		for _, s := range shots {
			if s.Excavation == d.Excavation.ID {
				one.take(s)
			}
		}
		if one.Shots == 0 {
			if bill.Concrete != nil {
				order.Concrete += *bill.Concrete
				order.Unshot = append(order.Unshot, d.Excavation.ID)
			}
			continue
		}
		one.close(d)
		if priced {
			cost := p.Job.Risk.CostOver*float64(one.Volume) + p.Job.Risk.CostTrim*float64(one.High)
			one.Cost = &cost
			total += cost
		}
		order.add(one)
		out = append(out, one)
	}
	if priced {
		order.Cost = &total
	}
	return out, order
}

// readTo is how close a rod is read (common practice): less is no over-dig to
// speak of.
const readTo = unit.Millimetre

// take counts one shot.
func (a *AsDug) take(s AsBuilt) {
	a.Shots++
	if s.Deviation < 0 {
		a.Over -= s.Deviation
	} else if !s.Within {
		a.High++
	}
}

// Spoken says that the hole is over-dug by what a rod can tell.
func (a AsDug) Spoken() bool { return a.Over >= readTo }

// close makes means and volumes of what was counted.
func (a *AsDug) close(d *plan.Dig) {
	a.Over /= unit.Length(a.Shots)
	area := 0.0
	for i := range d.Parts {
		if a.Stone {
			area += d.Parts[i].Outline.Area()
			continue
		}
		area += d.Parts[i].Neat.Area()
	}
	a.Volume = unit.Volume(float64(a.Over) * area)
	if a.Design != nil {
		sum := *a.Design + a.Volume
		a.Order = &sum
	}
}

// add adds a hole to the order.
func (o *Order) add(a AsDug) {
	if a.Order != nil {
		o.Concrete += *a.Order
	}
	if !a.Spoken() {
		return
	}
	o.Over = append(o.Over, a.Excavation)
	switch {
	case a.Stone:
		o.OverStone += a.Volume
	case a.Design != nil:
		o.OverConcrete += a.Volume
	}
}
