package watch

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// check finds what cannot be judged: figures that are none, ids twice or unknown,
// readings without an error.
func (l Log) check() *phrase.Fault {
	points := map[string]bool{}
	for _, p := range l.Points {
		if points[p.ID] {
			return phrase.NewFault(phrase.New("watch.id_twice", phrase.With("id", p.ID)), phrase.New("watch.id_twice.remedy"))
		}
		points[p.ID] = true
		if f := figures(p.ID, p.At.X, p.At.Y, float64(p.Sigma)); f != nil {
			return f
		}
	}
	for _, r := range l.Readings {
		if !points[r.Point] {
			return phrase.NewFault(phrase.New("watch.unknown_point", phrase.With("id", r.Point)), phrase.New("watch.unknown_point.remedy"))
		}
		if !(r.Sigma > 0) {
			return phrase.NewFault(phrase.New("watch.no_sigma", phrase.With("id", r.Point), phrase.With("value", r.Sigma)), phrase.New("watch.no_sigma.remedy"))
		}
		if f := figures(r.Point, float64(r.At), float64(r.Off), float64(r.Sigma)); f != nil {
			return f
		}
	}
	for _, d := range l.Digs {
		if f := figures(d.ID, d.At.X, d.At.Y, float64(d.Dug), float64(d.Band.Above), float64(d.Band.Below)); f != nil {
			return f
		}
	}
	return nil
}

func figures(id string, values ...float64) *phrase.Fault {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return phrase.NewFault(phrase.New("watch.not_finite", phrase.With("id", id), phrase.With("value", v)), phrase.New("watch.not_finite.remedy"))
		}
	}
	return nil
}

// probability keeps rounding out of sums of chances.
func probability(p float64) unit.Chance { return unit.Chance(math.Min(math.Max(p, 0), 1)) }
