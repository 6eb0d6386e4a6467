package draw

import (
	"unicode/utf8"

	"spadework/engine/geom"
)

// Labels are words that keep clear of each other: each takes the first free of
// the places round its point, farther and farther out, and a leader where it had
// to move away.
type labels struct {
	scene *Scene
	taken []geom.Box
}

// charWidth and lineHeight are generous for the fonts in use, as shares of the
// size: measured on DejaVu Sans, whose mean digit is 0.64 wide.
const (
	charWidth  = 0.66
	lineHeight = 1.15
)

// box is what a text covers, its middle at a point.
func box(middle geom.Point, size float64, text string) geom.Box {
	w, h := charWidth*size*float64(utf8.RuneCountInString(text))/2, lineHeight*size/2
	return geom.BoxOf(geom.Point{X: middle.X - w, Y: middle.Y - h}, geom.Point{X: middle.X + w, Y: middle.Y + h})
}

// directions are tried in this order on every round.
var directions = []geom.Vector{{X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: -1}, {X: -1, Y: 1}, {Y: -1.4}, {Y: 1.4}, {X: 1.6}, {X: -1.6}}

// put writes a text near a point. ok is false where no place is free within the
// frame; the text is then left out and the caller counts it.
func (l *labels) put(pen Pen, at geom.Point, size float64, text string) bool {
	half := box(at, size, text)
	reach := geom.Vector{X: half.Width()/2 + 1, Y: half.Height()/2 + 1}
	for round := range 6 {
		for _, d := range directions {
			k := float64(round)
			middle := at.Add(geom.Vector{X: d.X * (reach.X + 3*k), Y: d.Y * (reach.Y + 3*k)})
			b := box(middle, size, text)
			if !l.free(b) {
				continue
			}
			l.taken = append(l.taken, b)
			if round > 1 {
				l.scene.line(Fine, at, middle)
			}
			l.scene.text(pen, geom.Point{X: middle.X, Y: middle.Y + size*0.35}, size, Middle, text)
			return true
		}
	}
	return false
}

// free says that a box lies in the frame and on no word.
func (l *labels) free(b geom.Box) bool {
	if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > l.scene.Width || b.Max.Y > l.scene.Height {
		return false
	}
	for _, t := range l.taken {
		if t.Meets(b) {
			return false
		}
	}
	return true
}

// block keeps words off a place.
func (l *labels) block(b geom.Box) { l.taken = append(l.taken, b) }
