package reception

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Best is a beam height within [low, high] that the most windows hold, the middle
// of the lowest stretch of such heights, and how many hold it; 0 and low if none
// opens there.
func Best(windows []Window, low, high unit.Elevation) (h unit.Elevation, served int) {
	type turn struct {
		at   unit.Elevation
		open int // +1 where a window begins, −1 behind its end
	}
	var turns []turn
	for _, w := range windows {
		if l, t := max(w.Low, low), min(w.High, high); l <= t {
			turns = append(turns, turn{l, 1}, turn{t, -1})
		}
	}
	slices.SortFunc(turns, func(a, b turn) int { // at one height windows open before they close
		return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(b.open, a.open))
	})
	h = low
	now := 0
	for i, t := range turns {
		now += t.open
		if now > served {
			served = now
			h = t.at + (turns[i+1].at-t.at)/2 // windows close after the last opens
		}
	}
	return h, served
}

// Survey asks where on the site a laser would serve most: at the nodes of a
// lattice, on a tripod that sets the beam from Lowest to Highest over the ground.
type Survey struct {
	Origin          geom.Point // south-west node
	Step            float64    // metres
	Cols, Rows      int
	Gradient        geom.Vector
	Lowest, Highest unit.Length
}

// Node is the place of a node.
func (v Survey) Node(col, row int) geom.Point {
	return geom.Point{X: v.Origin.X + float64(float64(col)*v.Step), Y: v.Origin.Y + float64(float64(row)*v.Step)}
}

// Reached is what a laser at a node serves.
type Reached struct {
	At     geom.Point
	Known  bool           // the survey speaks here; else nothing is served
	Height unit.Elevation // of the beam, serving the most digs
	Served int            // digs served at Height
	Some   int            // digs that some height of the tripod serves
}

// Reach is what the nodes of a survey serve, row by row from the south-west.
func (f *Field) Reach(v Survey, digs []Dig, s *Scratch) []Reached {
	out := make([]Reached, 0, max(0, v.Cols)*max(0, v.Rows))
	for row := range v.Rows {
		for col := range v.Cols {
			out = append(out, f.ReachAt(v, v.Node(col, row), digs, s))
		}
	}
	return out
}

// ReachAt is what a laser at one place serves, with the gradient and the tripod
// of a survey.
func (f *Field) ReachAt(v Survey, at geom.Point, digs []Dig, s *Scratch) Reached {
	z, ok := f.asked.Height(at)
	if !ok {
		return Reached{At: at, Height: unit.Elevation(math.NaN())}
	}
	low, high := unit.Elevation(z).Plus(v.Lowest), unit.Elevation(z).Plus(v.Highest)
	windows := f.Digs(Laser{At: at, Gradient: v.Gradient}, digs, s)
	out := Reached{At: at, Known: true}
	out.Height, out.Served = Best(windows, low, high)
	for _, w := range windows {
		if max(w.Low, low) <= min(w.High, high) {
			out.Some++
		}
	}
	return out
}
