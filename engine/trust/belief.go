package trust

import (
	"math"
	"slices"

	"spadework/engine/estimate"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Departure is how far the true beam stands over the nominal one at a point.
type Departure struct {
	Mean, Sigma unit.Length
	Known       bool // false while the height is open
}

// Belief is what is known of the plane of one set-up. It does not change with
// later readings of its site. Its methods allocate nothing.
type Belief struct {
	setup Setup
	known bool
	mean  [states]float64
	cov   [states][states]float64
}

// Belief is what the site knows of a set-up; of one it does not have, nothing.
func (s *Site) Belief(setup string) *Belief {
	return s.belief(s.in.Belief(), setup)
}

// Beliefs are those of all set-ups, in the order given to NewSite.
func (s *Site) Beliefs() []*Belief {
	all := s.in.Belief()
	out := make([]*Belief, len(s.setups))
	for i, u := range s.setups {
		out[i] = s.belief(all, u.ID)
	}
	return out
}

func (s *Site) belief(all *estimate.Belief, setup string) *Belief {
	i := slices.IndexFunc(s.setups, func(u Setup) bool { return u.ID == setup })
	if i < 0 {
		return &Belief{}
	}
	b := &Belief{setup: s.setups[i], known: true, mean: s.offsets[i]}
	c := s.unknowns[i]
	for k, u := range c {
		if u < 0 {
			continue
		}
		v, ok := all.Of(estimate.Term{Unknown: u, Coefficient: 1})
		b.known = b.known && ok
		b.mean[k] += v.Mean
		b.cov[k][k] = v.Variance
		for l, w := range c[:k] {
			if w >= 0 {
				x, _ := all.Covariance([]estimate.Term{{Unknown: u, Coefficient: 1}}, []estimate.Term{{Unknown: w, Coefficient: 1}})
				b.cov[k][l], b.cov[l][k] = x, x
			}
		}
	}
	// Drift after the readings is one more tilt.
	w := rectangular(float64(b.setup.WarmUp))
	b.cov[tiltEast][tiltEast] += float64(w * w)
	b.cov[tiltNorth][tiltNorth] += float64(w * w)
	return b
}

// Known says that the height of the set-up is determined.
func (b *Belief) Known() bool { return b.known }

// Beam is the departure of the beam at a point, warm-up included, wind not: that
// is of each reading.
func (b *Belief) Beam(p geom.Point) Departure {
	if !b.known {
		return Departure{Mean: unit.Length(math.NaN()), Sigma: unit.Length(math.NaN())}
	}
	at := stateAt(b.setup.At, p)
	return Departure{
		Mean:  unit.Length(dot(b.mean, at)),
		Sigma: unit.Length(math.Sqrt(math.Max(b.form(at, at), 0))),
		Known: true,
	}
}

// Covariance of the beam at two points in m², NaN while the height is open.
func (b *Belief) Covariance(p, q geom.Point) float64 {
	if !b.known {
		return math.NaN()
	}
	return b.form(stateAt(b.setup.At, p), stateAt(b.setup.At, q))
}

// form is x'·cov·y.
func (b *Belief) form(x, y [states]float64) float64 {
	sum := 0.0
	for i := range x {
		row := 0.0
		for j := range y {
			row += float64(b.cov[i][j] * y[j])
		}
		sum += float64(x[i] * row)
	}
	return sum
}

func dot(x, y [states]float64) float64 {
	sum := 0.0
	for i := range x {
		sum += float64(x[i] * y[i])
	}
	return sum
}

// Predict is the belief of a set-up that will be read on points with readings of
// a standard deviation: what is known before it stands there. No place and no
// reading is taken as better than the figures say.
func Predict(s Setup, g Control, reading unit.Length) (*Belief, *phrase.Fault) {
	site, f := NewSite(g, []Setup{s})
	if f != nil {
		return nil, f
	}
	for _, p := range g.Points {
		if f := site.Read(Sight{Setup: s.ID, Point: p.ID, Sigma: reading}); f != nil {
			return nil, f
		}
	}
	return site.Belief(s.ID), nil
}

// Point is the standard error of a point of the site, and how far it lies over
// its nominal height; not known before it was read.
func (s *Site) Point(id string) Departure {
	j := slices.IndexFunc(s.control.Points, func(p Point) bool { return p.ID == id })
	if j < 0 {
		return Departure{}
	}
	if s.points[j] < 0 {
		return Departure{Known: true}
	}
	v, ok := s.in.Belief().Of(estimate.Term{Unknown: s.points[j], Coefficient: 1})
	return Departure{Mean: unit.Length(v.Mean), Sigma: unit.Length(math.Sqrt(v.Variance)), Known: ok}
}
