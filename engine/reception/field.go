package reception

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Field is a site made ready. It does not change and may be asked from many
// goroutines, each with a Scratch of its own.
type Field struct {
	asked     ground.Surface
	ground    surface
	obstacles *obstacles
	reach     float64
	clearance float64
	curved    bool
	bit       int
}

// limit bounds coordinates and elevations, as those of the ground.
const limit = 1e15

// New makes a site ready; its outlines and ground must not change afterwards. A
// range that is not above 0 or a negative clearance, no ground, an outline
// that is not simple and a top that is no number are a *phrase.Fault. Ground
// without bounds is taken as level.
func New(site Site) (*Field, error) {
	f := &Field{
		asked: site.Ground, reach: float64(site.Range), clearance: float64(site.Clearance),
		curved: site.Curvature == beam.Combined,
	}
	switch {
	case site.Ground == nil:
		return nil, fault("reception.ground")
	case !(f.reach > 0 && f.reach <= limit):
		return nil, fault("reception.range", phrase.With("range", site.Range))
	case !(f.clearance >= 0 && f.clearance <= limit):
		return nil, fault("reception.clearance", phrase.With("clearance", site.Clearance))
	}
	obstacles, bad := newObstacles(site.Obstacles)
	if bad != nil {
		return nil, bad
	}
	f.obstacles = obstacles
	f.ground = groundOf(site.Ground)
	f.bit = min(f.ground.unit(), f.obstacles.bit)
	return f, nil
}

// groundOf makes ground ready by its kind.
func groundOf(s ground.Surface) surface {
	if g, ok := s.(*ground.Grid); ok {
		return newGridGround(g)
	}
	if b := s.Bounds(); math.IsInf(b.Width(), 0) || math.IsInf(b.Height(), 0) {
		z, _ := s.Height(geom.Point{})
		return levelGround{z}
	}
	return newMeshGround(s)
}

func fault(key phrase.Key, args ...phrase.Arg) *phrase.Fault {
	return phrase.NewFault(phrase.New(key, args...), phrase.New(key+"_remedy"))
}

// isPlace says that p is a place the arithmetic can take.
func isPlace(p geom.Point) bool { return math.Abs(p.X) <= limit && math.Abs(p.Y) <= limit }

func (l *Laser) finite() bool {
	return isPlace(l.At) && math.Abs(l.Gradient.X) <= limit && math.Abs(l.Gradient.Y) <= limit
}

func (t *Target) finite() bool {
	return isPlace(t.At) && math.Abs(float64(t.Bottom)) <= limit &&
		math.Abs(float64(t.Lowest)) <= limit && math.Abs(float64(t.Highest)) <= limit
}

// From is the window of each target from one laser, in s until it is used again.
func (f *Field) From(l Laser, targets []Target, s *Scratch) []Window {
	s.windows = s.windows[:0]
	at := f.stand(&l)
	for i := range targets {
		s.windows = append(s.windows, at.window(&targets[i], s, false).Window)
	}
	return s.windows
}

// Serves says whether the beam at height h serves the target.
func (f *Field) Serves(l Laser, h unit.Elevation, t Target) bool {
	at := f.stand(&l)
	return at.window(&t, new(Scratch), false).Holds(h)
}

// Why is the reason why the beam at height h does not serve the target, the zero
// Reason if it does. NaN is too low.
func (f *Field) Why(l Laser, h unit.Elevation, t Target) Reason {
	at := f.stand(&l)
	w := at.window(&t, new(Scratch), true)
	return w.at(h, &t)
}
