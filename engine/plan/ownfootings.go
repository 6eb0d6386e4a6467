package plan

import (
	"math"

	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// ownFootings are the job's own footings with every other dig that goes below
// one so near that a line falling from its lower edge can meet that dig.
func (p *Plan) ownFootings() []safety.Footing {
	boxes := make([]geom.Box, len(p.Digs))
	for i, d := range p.Digs {
		boxes[i] = geom.EmptyBox()
		for _, part := range d.Parts {
			boxes[i] = boxes[i].Union(part.Outline.Bounds())
		}
	}
	var out []safety.Footing
	for i, f := range p.digsAsJudged {
		if f.Bears != safety.Yes {
			continue
		}
		for k := range p.Digs {
			if k == i || !p.maybeUnder(i, k, boxes) {
				continue
			}
			if x, ok := p.ownFooting(&p.Digs[i], &p.Digs[k]); ok {
				x.Adjoining, x.Granular = p.digsAsJudged[k].Bears == safety.Yes, granular(f.Ground.Cohesive)
				out = append(out, x)
			}
		}
	}
	return out
}

// maybeUnder says, by boxes and lowest bottoms alone, that dig k can matter to
// footing i.
func (p *Plan) maybeUnder(i, k int, boxes []geom.Box) bool {
	low := p.digsAsJudged[k].Bottom
	high := p.Digs[i].highest()
	if low == nil || high == nil || *low >= *high {
		return false
	}
	drop := high.Above(*low)
	reach := float64(safety.InfluenceReach(p.book, &drop))
	return boxes[i].Grown(reach).Meets(boxes[k])
}

// ownFooting is a footing beside a dig, at the parts where the dig lies deepest
// under the flattest line; false where it lies over that line everywhere. The
// lower edge of the concrete stands in from the dug outline by the working
// space. The bottom beside the footing is that of the part's plane there, no
// lower than the part goes.
func (p *Plan) ownFooting(f, d *Dig) (x safety.Footing, ok bool) {
	worst := unit.Length(0)
	for _, bears := range f.Parts {
		for _, part := range d.Parts {
			bearing, low := highestOf(bears), max(lowestOver(part, bears.Outline), lowestOver(part, part.Outline))
			drop := bearing.Above(low)
			gap := ringGap(part.Outline, bears.Outline) + f.Excavation.Working
			if under := safety.InfluenceReach(p.book, &drop) - gap; drop > 0 && under > worst {
				worst, ok = under, true
				x = safety.Footing{ID: f.Excavation.ID, Dig: d.Excavation.ID, Own: true, Bearing: &bearing, Distance: &gap, Drop: &drop}
			}
		}
	}
	return x, ok
}

// highestOf is the highest elevation of a part's bottom.
func highestOf(part dig.Part) unit.Elevation {
	high := unit.Elevation(math.Inf(-1))
	for _, at := range part.Outline {
		high = max(high, part.BottomAt(at))
	}
	return high
}

// lowestOver is the lowest elevation of a part's plane at the corners of a ring.
func lowestOver(part dig.Part, ring geom.Ring) unit.Elevation {
	low := unit.Elevation(math.Inf(1))
	for _, at := range ring {
		low = min(low, part.BottomAt(at))
	}
	return low
}

// highest is the highest elevation of a dig's bottoms, nil without parts.
func (d *Dig) highest() *unit.Elevation {
	var out *unit.Elevation
	for _, part := range d.Parts {
		if z := highestOf(part); out == nil || z > *out {
			out = &z
		}
	}
	return out
}

// granular is the soil under a footing by whether it holds together.
func granular(cohesive safety.Answer) safety.Answer {
	switch cohesive {
	case safety.Yes:
		return safety.No
	case safety.No:
		return safety.Yes
	}
	return safety.Unknown
}
