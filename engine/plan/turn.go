package plan

import (
	"math"
	"slices"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// Turn is a turning point: a place whose height one set-up found and a later one
// goes on from.
type Turn struct {
	beam.Known        // Sigma weighs it among other backsights; how well it is known the set-up's site tells
	Setup      string // that found it
	Rod        unit.Reading
	reading    unit.Length
}

// goOn gives the backsights of a set-up the heights of the turning points that
// set-ups before it found.
func (p *Plan) goOn(s *Setup) {
	s.source.Sights = slices.Clone(s.source.Sights)
	for i, b := range s.source.Sights {
		for _, t := range p.Turns {
			if t.ID == b.Benchmark {
				s.source.Sights[i].Elevation, s.source.Sights[i].Sigma = t.Elevation, t.Sigma
			}
		}
	}
}

// turn finds the turning points of a set-up. A planned one finds none, which is a
// fault: somebody has read a rod.
func (p *Plan) turn(s *Setup) *phrase.Fault {
	for _, f := range s.source.Turns {
		if s.State != beam.Live {
			fault := phrase.NewFault(phrase.New("plan.turn_planned", phrase.With("setup", s.ID), phrase.With("point", f.Point)),
				phrase.New("plan.turn_planned.remedy"))
			fault.Place.Path = "foresights"
			return fault
		}
		reading := f.Sigma
		if reading == 0 {
			reading = beam.DefaultReadingSigma
		}
		variance, weight := float64(reading*reading), 0.0
		for _, r := range s.Residuals {
			weight += 1 / float64(r.Sigma*r.Sigma)
		}
		if weight > 0 {
			variance += 1 / weight
		}
		p.Turns = append(p.Turns, Turn{Known: beam.Known{ID: f.Point, At: f.At, Elevation: s.Plane.Foot(f.At, f.Rod),
			Sigma: unit.Length(math.Sqrt(variance))}, Setup: s.ID, Rod: f.Rod, reading: reading})
	}
	return nil
}

// readTurns tells a site the foresights of a set-up: they read what made the
// height, so that nothing is off.
func (p *Plan) readTurns(site *trust.Site, s *Setup) *phrase.Fault {
	for _, t := range p.Turns {
		if t.Setup != s.ID {
			continue
		}
		if f := site.Read(trust.Sight{Setup: s.ID, Point: t.ID, Sigma: t.reading}); f != nil {
			return f
		}
	}
	return nil
}

// TurnError is how well a turning point is known, after all readings.
func (p *Plan) TurnError(t Turn) trust.Departure { return p.setup(t.Setup).site.Point(t.ID) }
