package tell

import (
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// Coordinates is a place in job coordinates, to a tenth of their unit: as exact
// as a machine is placed.
func Coordinates(v View, p *plan.Plan, at geom.Point) string {
	q, base := p.Job.Origin.Job(at), CoordinateUnit(p)
	return v.Text("tell.place", phrase.With("east", v.Style.Fixed(q.X/base, 1)), phrase.With("north", v.Style.Fixed(q.Y/base, 1)))
}

// CoordinateUnit is the unit of job coordinates in metres.
func CoordinateUnit(p *plan.Plan) float64 {
	switch p.Job.Coordinates {
	case unit.Feet:
		return float64(unit.Foot)
	case unit.SurveyFeet:
		return float64(unit.SurveyFoot)
	}
	return float64(unit.Metre)
}
