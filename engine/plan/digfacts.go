package plan

import (
	"math"

	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// digFacts is a dig as the safety rules see it.
func (p *Plan) digFacts(d Dig) safety.Dig {
	x := d.Excavation
	out := safety.Dig{
		ID: x.ID, Kind: string(x.Kind), Sides: sidesOf(x.Sides), Width: d.width(), Length: d.length(),
		Bears: safety.AnswerOf(x.Kind == dig.Footing || x.Kind == dig.Pad || x.Kind == dig.Strip),
		Frost: p.Job.Site.Frost, Frosty: safety.Answer(p.Job.Site.Frosty),
	}
	out.Bottom, out.Slope = d.lowest(), d.steepest()
	if d.Depth != nil {
		out.Depth, out.Least = &d.Depth.Max, &d.Depth.Min
	}
	d.answers(&out)
	p.soil(d, &out.Ground)
	if out.Surcharge != safety.Yes && p.loaded(d) {
		out.Surcharge = safety.Yes
	}
	return out
}

// answers are what the job tells of the conditions at a dig.
func (d Dig) answers(out *safety.Dig) {
	c := d.source.Conditions
	g := &out.Ground
	g.Fissured, g.Vibration, g.Disturbed = safety.Answer(c.Fissured), safety.Answer(c.Vibration), safety.Answer(c.Disturbed)
	g.Water, g.Running, g.Cohesive = safety.Answer(c.Water), safety.Answer(c.Running), safety.Answer(c.Cohesive)
	out.People, out.Surcharge, out.AirHazard = safety.Answer(c.People), safety.Answer(c.Surcharge), safety.Answer(c.AirHazard)
	out.Drained, out.LooseRock, out.EdgeMarked = safety.Answer(c.Drained), safety.Answer(c.LooseRock), safety.Answer(c.EdgeMarked)
	out.Engineer, out.WayOut, out.Forms, out.Oxygen = c.Engineer, known(c.WayOut), c.Forms, c.Oxygen
	out.OverDug, out.LooseFill = c.OverDug, safety.Answer(c.LooseFill)
	out.Support = safety.Support{
		Kind: safety.SupportKind(c.Support), Vertical: c.Vertical, Top: c.ShieldTop, Below: c.BelowSupport,
		FullDepth: safety.Answer(c.FullDepth), SoilLoss: safety.Answer(c.SoilLoss),
	}
	if c.OpenHours > 0 {
		out.OpenHours = &c.OpenHours
	}
}

// soil is the class of a dig's soil: as told, else by its strength.
func (p *Plan) soil(d Dig, g *safety.Ground) {
	c := d.source.Conditions
	g.Soil = safety.Soil(d.source.Soil)
	if g.Soil == "" && c.Strength > 0 {
		g.Soil = safety.ClassOfStrength(p.book, c.Strength)
	}
	for _, l := range c.Layers {
		g.Layers = append(g.Layers, safety.Layer{Soil: safety.Soil(l.Soil), Thickness: l.Thickness})
	}
}

// loaded says that a building or another thing told of stands within the depth
// of a dig from its top edge; where the depth is not known that is not said.
func (p *Plan) loaded(d Dig) bool {
	if d.Depth == nil {
		return false
	}
	near := func(ring geom.Ring) bool {
		edge := d.fromEdge(d.gap(func(outline geom.Ring) unit.Length { return ringGap(outline, ring) }))
		return edge != nil && *edge <= d.Depth.Max
	}
	for _, s := range p.Job.Structures {
		if near(s.Outline) {
			return true
		}
	}
	for _, o := range p.Job.Obstacles {
		if near(o.Outline) {
			return true
		}
	}
	return false
}

// width is the least width of a dig's bottom, nil where it is not known.
func (d Dig) width() *unit.Length {
	x := d.Excavation
	if x.Kind.Run() {
		return known(dugWidth(x))
	}
	if x.Outline == nil {
		return known(min(x.Size[0], x.Size[1]) + 2*x.Working)
	}
	least := unit.Length(math.Inf(1))
	for _, part := range d.Parts {
		least = min(least, across(part.Outline))
	}
	if math.IsInf(float64(least), 1) {
		return nil
	}
	return &least
}

// dugWidth is the width of a run as it is dug.
func dugWidth(x dig.Excavation) unit.Length {
	if !(x.Width > 0) {
		return 0
	}
	return x.Width + 2*x.Working
}

// across is the least width of a ring: over its sides, how far its corners
// stand off that side.
func across(ring geom.Ring) unit.Length {
	least := math.Inf(1)
	for i := range ring {
		a, b := ring.Side(i)
		along := b.Sub(a).Unit()
		far := 0.0
		for _, c := range ring {
			far = max(far, math.Abs(along.Cross(c.Sub(a))))
		}
		least = min(least, far)
	}
	return unit.Length(least)
}

// length is the length of a run, or the longer side of an area's box.
func (d Dig) length() *unit.Length {
	sum := unit.Length(0)
	for _, part := range d.Parts {
		if part.Run() {
			sum += unit.Length(part.To - part.From)
			continue
		}
		box := part.Outline.Bounds()
		sum = max(sum, unit.Length(max(box.Width(), box.Height())))
	}
	return known(sum)
}

// lowest is the lowest elevation of a dig's bottoms, nil without parts.
func (d Dig) lowest() *unit.Elevation {
	var out *unit.Elevation
	for _, part := range d.Parts {
		for _, at := range part.Outline {
			if z := part.BottomAt(at); out == nil || z < *out {
				out = &z
			}
		}
	}
	return out
}

// steepest is the steepest slope of a dig's bottoms, nil without parts.
func (d Dig) steepest() *unit.Grade {
	var out *unit.Grade
	for _, part := range d.Parts {
		if g := unit.Grade(part.Bottom.Slope.Length()); out == nil || g > *out {
			out = &g
		}
	}
	return out
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

// handDug says that the job tells a dig's zones are dug by hand or vacuum.
func handDug(c job.Conditions) safety.Answer { return safety.Answer(c.Hand) }
