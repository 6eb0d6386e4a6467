package plan

import (
	"slices"

	"spadework/engine/dig"
	"spadework/engine/machine"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// machines are the bodies of the job's machines, by id.
func (p *Plan) machines() []machine.Machine {
	var out []machine.Machine
	for _, m := range p.Job.Machines {
		out = append(out, m.Body())
	}
	slices.SortStableFunc(out, func(a, b machine.Machine) int { return compareIDs(a.ID, b.ID) })
	return out
}

// findMachines tells which digs lie deeper than any machine is told to reach,
// and which runs are narrower than every bucket.
func (p *Plan) findMachines() *phrase.Fault {
	p.findStands()
	bodies := p.machines()
	if len(bodies) == 0 {
		return nil
	}
	deepest, narrowest := unit.Length(0), unit.Length(0)
	for _, m := range bodies {
		if !m.Envelope.Known() {
			p.addMachine("machine_reach", phrase.Note, phrase.Finding{What: phrase.New("plan.find_machine_reach", phrase.With("machine", m.ID))})
			return nil
		}
		deepest = max(deepest, m.Envelope.MaxDepth())
		for _, b := range m.Buckets {
			if b.Width > 0 && (narrowest == 0 || b.Width < narrowest) {
				narrowest = b.Width
			}
		}
	}
	for _, d := range p.Digs {
		p.findReach(d, deepest)
		p.findBucket(d, narrowest)
	}
	return nil
}

// findReach tells a dig that is deeper than the machines cut a floor.
func (p *Plan) findReach(d Dig, deepest unit.Length) {
	if d.Depth == nil || !(d.Depth.Max > deepest+rounding) {
		return
	}
	p.addMachine("machine_depth", phrase.Caution, phrase.Finding{
		Where: phrase.Where{Excavation: d.Excavation.ID}, Measured: d.Depth.Max, Limit: deepest,
		What: phrase.New("plan.find_machine_depth", phrase.With("id", d.Excavation.ID), phrase.With("depth", d.Depth.Max), phrase.With("deepest", deepest)),
	})
}

// findBucket tells a run that is narrower than the narrowest bucket.
func (p *Plan) findBucket(d Dig, narrowest unit.Length) {
	width := dugWidth(d.Excavation)
	if k := d.Excavation.Kind; k != dig.Trench && k != dig.Strip && k != dig.Field || !(narrowest > width+rounding) || width == 0 {
		return
	}
	p.addMachine("machine_bucket", phrase.Caution, phrase.Finding{
		Where: phrase.Where{Excavation: d.Excavation.ID}, Measured: narrowest, Limit: width,
		What: phrase.New("plan.find_machine_bucket", phrase.With("id", d.Excavation.ID), phrase.With("width", width), phrase.With("bucket", narrowest)),
	})
}

// addMachine adds a finding about the machines.
func (p *Plan) addMachine(rule string, s phrase.Severity, f phrase.Finding) {
	f.Rule, f.Severity, f.Decides = rule, s, phrase.New("who.foreman")
	f.Remedy = phrase.New(phrase.Key("plan.find_" + rule + ".remedy"))
	p.Findings = append(p.Findings, f)
}

// machine writes a machine's reach: the spans of level floors from the ground
// down, a metre apart, and at the deepest.
func (w *planWriter) machine(m machine.Machine) {
	e := m.Envelope
	w.text("id", m.ID)
	w.text("type", string(m.Type))
	w.flag("cautious", e.Cautious())
	if !e.Known() {
		w.null("max_depth", "floors")
		return
	}
	deepest := e.MaxDepth()
	w.number("max_depth", float64(deepest))
	var floors []machine.Floor
	for d := unit.Length(0); d <= deepest; d += unit.Metre {
		if s, ok := e.Span(d); ok {
			floors = append(floors, machine.Floor{Depth: d, Span: m.Plan(s)})
		}
	}
	array(&w.encoder, "floors", floors, func(f machine.Floor) {
		w.number("depth", float64(f.Depth))
		w.number("near", float64(f.Near))
		w.number("far", float64(f.Far))
	})
}
