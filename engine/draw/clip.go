package draw

import (
	"slices"

	"spadework/engine/geom"
)

// clip is the piece of a segment inside a box (Liang and Barsky 1984, from
// memory); ok is false where none is.
func clip(a, b geom.Point, box geom.Box) (from, to geom.Point, ok bool) {
	t0, t1 := 0.0, 1.0
	d := b.Sub(a)
	for _, e := range [...]struct{ p, q float64 }{
		{-d.X, a.X - box.Min.X}, {d.X, box.Max.X - a.X}, {-d.Y, a.Y - box.Min.Y}, {d.Y, box.Max.Y - a.Y},
	} {
		switch {
		case e.p == 0 && e.q < 0:
			return a, b, false
		case e.p < 0:
			t0 = max(t0, e.q/e.p)
		case e.p > 0:
			t1 = min(t1, e.q/e.p)
		}
	}
	if !(t0 <= t1) {
		return a, b, false
	}
	return a.Toward(b, t0), a.Toward(b, t1), true
}

// clipped draws the pieces of a line that lie in the frame.
func (s *Scene) clipped(pen Pen, points []geom.Point) {
	frame := geom.BoxOf(geom.Point{}, geom.Point{X: s.Width, Y: s.Height})
	for i := 1; i < len(points); i++ {
		if a, b, ok := clip(points[i-1], points[i], frame); ok {
			s.line(pen, a, b)
		}
	}
}

// hatch draws strokes rising to the right inside an outline, millimetres apart.
func (s *Scene) hatch(pen Pen, ring []geom.Point, apart float64) {
	box := geom.BoxOf(ring...)
	if box.Empty() || !(apart > 0) {
		return
	}
	// A stroke is x + y = c; along it points are told by x.
	for c := box.Min.X + box.Min.Y + apart; c < box.Max.X+box.Max.Y; c += apart {
		var xs []float64
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			fa, fb := a.X+a.Y-c, b.X+b.Y-c
			if (fa < 0) != (fb < 0) {
				xs = append(xs, a.X+(b.X-a.X)*fa/(fa-fb))
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			s.line(pen, geom.Point{X: xs[i], Y: c - xs[i]}, geom.Point{X: xs[i+1], Y: c - xs[i+1]})
		}
	}
}
