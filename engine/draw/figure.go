package draw

import (
	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// Figure is the number that a crew works to, in the one of three forms that its
// state gives it: LiveRod, PlannedSum or TapedDepth. Only FigureOf
// and WorkFigureOf make one.
type Figure interface{ figure() }

// LiveRod is a reading from today's beam, under a tag.
type LiveRod struct {
	tag     string
	reading unit.Reading
	rod     beam.Rod
}

// PlannedSum is the sum that today's height goes into. It holds no reading, so that
// none can be printed.
type PlannedSum struct {
	tag  string
	less unit.Elevation
}

// TapedDepth is a depth under a hub, a string or a touched point.
type TapedDepth struct {
	from  string
	depth unit.Length
}

func (LiveRod) figure()    {}
func (PlannedSum) figure() {}
func (TapedDepth) figure() {}

// FigureOf is the number at the bottom of a plan's row. It is LiveRod only where
// the row and the set-up it names both are; a row whose set-up the plan does not
// have is PlannedSum.
func FigureOf(p *plan.Plan, n plan.Number) Figure { return figureAt(p, n, 0) }

// WorkFigureOf is the number that the crew works to, the aim included where the
// job says so.
func WorkFigureOf(p *plan.Plan, n plan.Number) Figure { return figureAt(p, n, p.WorkedTo(n)) }

// figureAt is the number at a height over the bottom.
func figureAt(p *plan.Plan, n plan.Number, aim unit.Length) Figure {
	if n.From != plan.FromBeam {
		return TapedDepth{n.Reference, unit.Length(n.Rod) - aim}
	}
	set, ok := p.Setup(n.Setup)
	if ok && n.State == beam.Live && set.State == beam.Live && set.Known {
		return LiveRod{n.Setup, n.Rod - unit.Reading(aim), set.Rod}
	}
	return PlannedSum{n.Setup, n.Less().Plus(aim)}
}

// Tag is the set-up that the reading belongs to.
func (l LiveRod) Tag() string { return l.tag }

// Rod is the rod it is read on.
func (l LiveRod) Rod() beam.Rod { return l.rod }

// Tag is the set-up that is planned.
func (p PlannedSum) Tag() string { return p.tag }

// From is the point that is taped from.
func (t TapedDepth) From() string { return t.from }

// Reading is a live number in the face of its rod.
func (v Voice) Reading(l LiveRod) string { return v.Face(l.rod).Style.Reading(l.reading) }

// Sum is a planned number with its blank: HI ____ − 98.42.
func (v Voice) Sum(p PlannedSum) string {
	return v.say("sheet.planned_rod", phrase.With("less", v.Style.ElevationFigure(p.less)))
}

// OpenSum is the sum with a blank for its answer too, as a card prints it.
func (v Voice) OpenSum(p PlannedSum) string {
	return v.say("sheet.planned_sum", phrase.With("less", v.Style.ElevationFigure(p.less)))
}

// Depth is a taped number.
func (v Voice) Depth(t TapedDepth) string { return v.Style.Length(t.depth) }

// Figure is a number in a few words, whatever its form.
func (v Voice) Figure(f Figure) string {
	switch f := f.(type) {
	case LiveRod:
		return v.Reading(f)
	case PlannedSum:
		return v.Sum(f)
	case TapedDepth:
		return v.Depth(f)
	}
	return ""
}
