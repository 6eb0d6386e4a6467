package draw

import "spadework/engine/geom"

// labels are words that keep clear of each other and, where they can, of lines:
// each takes the first free of the places round its thing, farther and farther
// out, with a leader where it had to move away.
type labels struct {
	scene *Scene
	taken []geom.Box
	lines [][2]geom.Point
}

// lineHeight is what a line of words takes, as a share of its size: DejaVu Sans
// has 0.93 over and 0.24 under the line in hhea, and no capital, figure or
// descender of the languages spoken leaves 0.98 and 0.17.
const lineHeight = 1.15

// textWidth is how far a label reaches.
func textWidth(size float64, text string) float64 { return Width(Label, size, text) }

// around is a box of a half width and height about a point.
func around(c geom.Point, halfWidth, halfHeight float64) geom.Box {
	d := geom.Vector{X: halfWidth, Y: halfHeight}
	return geom.BoxOf(c.Add(d), c.Add(d.Scale(-1)))
}

// box is what a text covers, its middle at a point.
func box(middle geom.Point, size float64, text string) geom.Box {
	return around(middle, textWidth(size, text)/2, lineHeight*size/2)
}

// directions are tried in this order on every round.
var directions = []geom.Vector{{Y: -1}, {X: 1}, {Y: 1}, {X: -1}, {X: 1, Y: -1}, {X: -1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}}

// Rounds that keep off lines, and all rounds.
const carefulRounds, allRounds = 4, 9

// put writes a text beside a thing.
func (l *labels) put(pen Pen, thing geom.Box, size float64, text string) bool {
	return l.putBeside(pen, []geom.Box{thing}, size, text)
}

// putBeside writes a text beside one of some things, the first first: off every
// line if it can, off every word always. Where no place is free the text is left
// out and counted.
func (l *labels) putBeside(pen Pen, things []geom.Box, size float64, text string) bool {
	for round := range allRounds {
		for _, thing := range things {
			for _, d := range directions {
				if round < carefulRounds && l.try(pen, thing, label{text, size, d, round, true}) {
					return true
				}
			}
		}
	}
	for round := range allRounds {
		for _, d := range directions {
			if l.try(pen, things[0], label{text, size, d, round, false}) {
				return true
			}
		}
	}
	l.scene.Unplaced++
	return false
}

// A careful word keeps farther off the lines of others than off its own thing,
// so that nobody reads it as theirs; millimetres.
const clearOwn, clearOthers = 0.2, 1.2

// label is one try to place a text.
type label struct {
	text      string
	size      float64
	direction geom.Vector
	round     int
	careful   bool
}

func (l *labels) try(pen Pen, thing geom.Box, t label) bool {
	out := 0.5 + t.size*0.8*float64(t.round)
	c := thing.Centre()
	reach := geom.Vector{
		X: (thing.Width()+textWidth(t.size, t.text))/2 + out,
		Y: (thing.Height()+lineHeight*t.size)/2 + out,
	}
	middle := c.Add(geom.Vector{X: t.direction.X * reach.X, Y: t.direction.Y * reach.Y})
	b := box(middle, t.size, t.text)
	if !l.free(b) || t.careful && l.crowded(b, thing) {
		return false
	}
	if t.round > 1 {
		l.leader(c, b)
	}
	l.write(pen, Item{Points: []geom.Point{{X: middle.X, Y: middle.Y + t.size*0.36}}, Size: t.size, Anchor: Middle, Text: t.text})
	return true
}

// leader joins a thing with the near side of its text.
func (l *labels) leader(from geom.Point, text geom.Box) {
	to := geom.Point{X: min(max(from.X, text.Min.X), text.Max.X), Y: min(max(from.Y, text.Min.Y), text.Max.Y)}
	l.scene.line(Leader, from, to)
}

// write adds a text at its place and keeps others off it.
func (l *labels) write(pen Pen, it Item) {
	it.Pen = pen
	l.scene.Items = append(l.scene.Items, it)
	l.block(it.covers())
}

// Covers is the box of a text, its line 0.15 of the height over the lower edge.
func (it Item) Covers() geom.Box { return it.covers() }

func (it Item) covers() geom.Box {
	w, h, p := Width(it.Set, it.Size, it.Text), it.Size*lineHeight, it.Points[0]
	lead := map[Anchor]float64{Start: 0, Middle: w / 2, End: w}[it.Anchor]
	if it.Upward {
		low := p.Y + lead
		return geom.BoxOf(geom.Point{X: p.X - h*0.85, Y: low - w}, geom.Point{X: p.X + h*0.15, Y: low})
	}
	left := p.X - lead
	return geom.BoxOf(geom.Point{X: left, Y: p.Y - h*0.85}, geom.Point{X: left + w, Y: p.Y + h*0.15})
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

// crossed says that a line to keep off runs through a box.
func (l *labels) crossed(b geom.Box) bool {
	for _, s := range l.lines {
		if _, _, ok := clip(s[0], s[1], b); ok {
			return true
		}
	}
	return false
}

// crowded says that a line runs through a box, or one of another thing so close
// to it that the word could be taken for that thing's.
func (l *labels) crowded(b, thing geom.Box) bool {
	near, far, own := b.Grown(clearOwn), b.Grown(clearOthers), thing.Grown(clearOwn)
	for _, s := range l.lines {
		if _, _, ok := clip(s[0], s[1], far); !ok {
			continue
		}
		_, _, isOwn := clip(s[0], s[1], own)
		if _, _, through := clip(s[0], s[1], near); through || !isOwn {
			return true
		}
	}
	return false
}

// block keeps words off a place.
func (l *labels) block(b geom.Box) { l.taken = append(l.taken, b) }

// avoid keeps words off the lines drawn so far with the pens, where they can.
func (l *labels) avoid(pens ...Pen) {
	for _, it := range l.scene.Items {
		if it.Text != "" || !has(pens, it.Pen) {
			continue
		}
		for i := 1; i < len(it.Points); i++ {
			l.lines = append(l.lines, [2]geom.Point{it.Points[i-1], it.Points[i]})
		}
		if it.Closed {
			l.lines = append(l.lines, [2]geom.Point{it.Points[len(it.Points)-1], it.Points[0]})
		}
	}
}

func has(pens []Pen, pen Pen) bool {
	for _, p := range pens {
		if p == pen {
			return true
		}
	}
	return false
}
