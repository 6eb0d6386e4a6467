package gradeline

import (
	"sort"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Vertex is a point of the line where it ends or bends.
type Vertex struct {
	Station unit.Station
	Invert  unit.Elevation
}

// Stretch is a piece of the line.
type Stretch struct{ From, To unit.Station }

// Line is the grade line found.
type Line struct {
	Vertices []Vertex // first and last are the run's ends
	Digging  unit.Volume
	// Bound is what no line by the rules can go under. Proven says that the line
	// reaches it; it may not where the bottom comes out of the dug ground and
	// bends are restricted.
	Bound   unit.Volume
	Proven  bool
	OutOf   unit.Length // run on which the bottom lies over the dug ground
	Rests   []Rule      // rules that hold the line down or up where it is, by station
	AtLeast []Stretch   // where it has the least fall
	AtMost  []Stretch   // where it has the most fall
}

// At is the invert at a station, on the nearest end beyond the run.
func (l *Line) At(s unit.Station) unit.Elevation {
	n := len(l.Vertices)
	i := sort.Search(n, func(i int) bool { return l.Vertices[i].Station > s })
	switch {
	case i == 0:
		return l.Vertices[0].Invert
	case i == n:
		return l.Vertices[n-1].Invert
	}
	a, b := l.Vertices[i-1], l.Vertices[i]
	t := float64(s-a.Station) / float64(b.Station-a.Station)
	return a.Invert + unit.Elevation(t*float64(b.Invert-a.Invert))
}

// Find is the line with the least digging. The error is a *phrase.Fault for a
// problem that says nothing, a *Clash where its rules cannot be kept together.
func Find(p Problem) (Line, error) {
	if f := p.check(); f != nil {
		return Line{}, f
	}
	w := newWork(&p)
	z, ok := w.solve(w.bounds)
	if !ok {
		return Line{}, w.clash()
	}
	return w.line(z), nil
}

// Error is the clash in English and metres.
func (c *Clash) Error() string { return c.Fault().Error() }

// Fault is the clash as a user reads it.
func (c *Clash) Fault() *phrase.Fault {
	args := []phrase.Arg{phrase.With("rules", c.messages()), phrase.With("short", c.Short)}
	key := phrase.Key("gradeline.clash")
	switch {
	case c.LeastFall && c.MostFall:
		key = "gradeline.clash_falls"
	case c.LeastFall:
		key = "gradeline.clash_least"
	case c.MostFall:
		key = "gradeline.clash_most"
	}
	f := fault(key, args...)
	f.Remedy = phrase.New("gradeline.clash_remedy")
	f.Code = phrase.Conflict
	return f
}
