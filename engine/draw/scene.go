package draw

import "spadework/engine/geom"

// Pen is what a line or word means. A writer gives it colour, width and dash.
type Pen string

// The pens.
const (
	Ink     Pen = "ink"     // outlines and words
	Fine    Pen = "fine"    // thin lines: grid, contours, leaders
	Bottom  Pen = "bottom"  // the heavy line of what is dug to
	Neat    Pen = "neat"    // concrete or pipe zone inside the dug outline
	Beam    Pen = "beam"    // the laser and its dimensions
	Planned Pen = "planned" // hollow: not to be trusted yet
	Service Pen = "service" // lettered lines of buried services
	Caution Pen = "caution"
)

// Anchor is which part of a text stands at its place.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Item is a line, a filled outline or a text.
type Item struct {
	Pen    Pen
	Points []geom.Point // of a line; one of a text
	Closed bool
	Filled bool   // with the pen's tint
	Text   string // "" for a line
	Size   float64
	Anchor Anchor
}

// Scene is a drawing.
type Scene struct {
	Width, Height float64 // millimetres
	Items         []Item
}

func (s *Scene) line(pen Pen, points ...geom.Point) {
	s.Items = append(s.Items, Item{Pen: pen, Points: points})
}

func (s *Scene) ring(pen Pen, filled bool, points ...geom.Point) {
	s.Items = append(s.Items, Item{Pen: pen, Points: points, Closed: true, Filled: filled})
}

func (s *Scene) text(pen Pen, at geom.Point, size float64, anchor Anchor, text string) {
	s.Items = append(s.Items, Item{Pen: pen, Points: []geom.Point{at}, Text: text, Size: size, Anchor: anchor})
}
