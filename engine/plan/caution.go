package plan

import (
	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// findSafety judges the plan by the job's rule set and its overrides.
func (p *Plan) findSafety() *phrase.Fault {
	var overrides []safety.Override
	for _, o := range p.Job.Rules.Overrides {
		overrides = append(overrides, safety.Override(o))
	}
	book, err := safety.Rules(p.Job.Rules.Set, overrides...)
	if err != nil {
		f := *faultOf(err)
		f.Place.Path = "rules." + f.Place.Path
		return &f
	}
	p.Findings = append(p.Findings, safety.Gather(safety.Findings(book, p.facts()))...)
	return nil
}

// facts is what the safety rules judge; what the job does not tell stays
// unknown.
func (p *Plan) facts() safety.Facts {
	out := safety.Facts{
		Today: p.Job.Today, Competent: p.Job.Rules.CompetentPerson,
		Digs: make([]safety.Dig, 0, len(p.Digs)),
	}
	for _, d := range p.Digs {
		out.Digs = append(out.Digs, d.facts())
	}
	for _, u := range p.Job.Utilities {
		s := safety.Service{ID: u.ID, Kind: u.Kind, Line: u.Line, Ticket: u.Ticket, MarkedOn: u.MarkedOn, Expires: u.Expires}
		if u.Size > 0 {
			s.Size = &u.Size
		}
		if u.PrivateLocate {
			s.Private = safety.Yes
		}
		if u.Exposed != nil {
			s.Exposed = &safety.Exposed{By: u.Exposed.By, Top: &u.Exposed.Top}
		}
		out.Services = append(out.Services, s)
	}
	for _, o := range p.Job.Overheads {
		line := safety.Overhead{ID: o.ID, Line: o.Line, Kilovolts: o.Kilovolts}
		if o.Height > 0 {
			line.Height = &o.Height
		}
		out.Overheads = append(out.Overheads, line)
	}
	return out
}

// facts is a dig as the safety rules see it.
func (d Dig) facts() safety.Dig {
	x := d.Excavation
	out := safety.Dig{
		ID: x.ID, Kind: string(x.Kind), Sides: sidesOf(x.Sides), Ground: safety.Ground{Soil: safety.Soil(x.Soil)},
		Bears: safety.AnswerOf(x.Kind == dig.Footing || x.Kind == dig.Pad || x.Kind == dig.Strip),
	}
	if d.Depth != nil {
		out.Depth, out.Least = &d.Depth.Max, &d.Depth.Min
	}
	width := x.Width + 2*x.Working
	if x.Kind.Area() && x.Outline == nil {
		width = min(x.Size[0], x.Size[1]) + 2*x.Working
	}
	if width > 2*x.Working {
		out.Width = &width
	}
	d.answers(&out)
	return out
}

// answers are what the job tells of the conditions at a dig.
func (d Dig) answers(out *safety.Dig) {
	c := d.source.Conditions
	g := &out.Ground
	g.Fissured, g.Vibration, g.Disturbed = safety.Answer(c.Fissured), safety.Answer(c.Vibration), safety.Answer(c.Disturbed)
	g.Water, g.Running, g.Cohesive = safety.Answer(c.Water), safety.Answer(c.Running), safety.Answer(c.Cohesive)
	out.People, out.Surcharge, out.AirHazard = safety.Answer(c.People), safety.Answer(c.Surcharge), safety.Answer(c.AirHazard)
	out.Drained, out.LooseRock = safety.Answer(c.Drained), safety.Answer(c.LooseRock)
	out.Support.Kind, out.Engineer = safety.SupportKind(c.Support), c.Engineer
	if c.OpenHours > 0 {
		out.OpenHours = &c.OpenHours
	}
	if c.WayOut > 0 {
		out.WayOut = &c.WayOut
	}
	level := unit.Grade(0)
	if !d.Excavation.Kind.Run() {
		out.Slope = &level
	}
}

// sidesOf is the cut sides of an excavation, one for all that are alike.
func sidesOf(s dig.Sides) []safety.Side {
	slopes := s.Each
	if len(slopes) == 0 {
		slopes = []dig.Slope{s.All}
	}
	var out []safety.Side
	for _, slope := range slopes {
		side := safety.Side{Batter: slope.Batter}
		for _, b := range slope.Benches {
			side.Benches = append(side.Benches, safety.Bench(b))
		}
		out = append(out, side)
	}
	return out
}
