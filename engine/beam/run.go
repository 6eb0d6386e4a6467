package beam

import (
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Run is a straight piece of trench whose bottom falls or rises evenly.
type Run struct {
	ID            string
	From, To      geom.Point
	FromElevation unit.Elevation // of the bottom at From
	ToElevation   unit.Elevation
	Width         unit.Length // of the bottom, ≥ 0
}

// Band is how far a bottom may lie over and under its grade, both ≥ 0.
type Band struct{ Above, Below unit.Length }

// Share is the part k of a band.
func (b Band) Share(k float64) Band {
	return Band{Above: unit.Length(float64(b.Above) * k), Below: unit.Length(float64(b.Below) * k)}
}

// check refuses figures that are not finite and a run without length.
func (r Run) check() *phrase.Fault {
	if f := finite(named{"line", r.From.X}, named{"line", r.From.Y}, named{"line", r.To.X}, named{"line", r.To.Y},
		named{"bottom", float64(r.FromElevation)}, named{"bottom", float64(r.ToElevation)},
		named{"width", float64(r.Width)}); f != nil {
		return f
	}
	if f := notNegative(named{"width", float64(r.Width)}); f != nil {
		return f
	}
	if !(r.Length() > 0) {
		return phrase.NewFault(phrase.New("beam.run_without_length", phrase.With("run", r.ID)),
			phrase.New("beam.run_without_length_remedy"))
	}
	// Finite ends may still lie too far apart for a finite length or fall.
	return finite(named{"line", float64(r.Length())}, named{"fall", float64(r.Fall())})
}

// Length is the horizontal length of the run.
func (r Run) Length() unit.Length { return unit.Length(r.From.Distance(r.To)) }

// Direction is the unit vector from From to To; zero for a run without length.
func (r Run) Direction() geom.Vector { return r.To.Sub(r.From).Unit() }

// Fall is how much the bottom falls from From to To over its length, positive
// downward; NaN for a run without length.
func (r Run) Fall() unit.Grade {
	return unit.Grade(float64(r.FromElevation-r.ToElevation) / float64(r.Length()))
}

// At is the point of the run at a station from From.
func (r Run) At(s unit.Station) geom.Point {
	return r.From.Add(r.Direction().Scale(float64(s)))
}

// Bottom is the bottom's elevation at a station from From, exact at both ends:
// the fall is never rounded on the way.
func (r Run) Bottom(s unit.Station) unit.Elevation {
	t := float64(s) / float64(r.Length())
	return unit.Elevation(float64(float64(r.FromElevation)*(1-t)) + float64(float64(r.ToElevation)*t))
}

// gradient is the slope of the bottom with none across it.
func (r Run) gradient() geom.Vector { return r.Direction().Scale(-float64(r.Fall())) }
