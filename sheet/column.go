package sheet

import (
	"strings"

	"spadework/engine/draw"
	"spadework/engine/geom"
)

// The sizes of type on paper in millimetres. 2.4 mm is 6.8 points: nothing is
// set smaller.
const (
	sizeFoot   = 2.4
	sizeBody   = 2.9
	sizeFigure = 3.6 // figures that the crew works to, in tables
	sizeHead   = 3.4
	sizeTitle  = 7
	leading    = 1.32 // line to line, as a share of the size
)

// column is a strip of paper that is written from the top down. Its scene grows
// with what is written; y is the lower edge so far.
type column struct {
	draw.Scene
	View
	left, width, y float64
	links          []Link
	title          string // of the page in the bookmarks, "" that of the sheet
}

func newColumn(v View, left, width float64) *column {
	return &column{View: v, left: left, width: width}
}

// right is the right edge.
func (c *column) right() float64 { return c.left + c.width }

// words writes a text on a base line.
func (c *column) words(set draw.Setting, size float64, p geom.Point, anchor draw.Anchor, text string) {
	pen := draw.Ink
	if set == draw.Outlined {
		pen = draw.Planned
	}
	c.Items = append(c.Items, draw.Item{Pen: pen, Set: set, Points: []geom.Point{p}, Size: size, Anchor: anchor, Text: text})
}

// line writes one line of words at the left and goes below it.
func (c *column) line(set draw.Setting, size float64, text string) {
	c.y += size * leading
	c.words(set, size, geom.Point{X: c.left, Y: c.y - size*(leading-1)}, draw.Start, text)
}

// paragraph writes words over as many lines as they take.
func (c *column) paragraph(set draw.Setting, size float64, text string) {
	for _, l := range wrapped(set, size, text, c.width) {
		c.line(set, size, l)
	}
}

// gap leaves room.
func (c *column) gap(mm float64) { c.y += mm }

// rule draws a line across at the lower edge.
func (c *column) rule(pen draw.Pen) {
	c.stroke(pen, geom.Point{X: c.left, Y: c.y}, geom.Point{X: c.right(), Y: c.y})
}

func (c *column) stroke(pen draw.Pen, points ...geom.Point) {
	c.Items = append(c.Items, draw.Item{Pen: pen, Points: points})
}

// frame draws a box.
func (c *column) frame(pen draw.Pen, b geom.Box) {
	c.Items = append(c.Items, draw.Item{Pen: pen, Points: b.Ring(), Closed: true})
}

// put sets a drawing down with its upper left corner at a place.
func (c *column) put(s draw.Scene, at geom.Point) {
	c.Items = append(c.Items, moved(s.Items, geom.Vector(at))...)
}

// beside takes what another column wrote into this one.
func (c *column) beside(o *column) {
	c.Items = append(c.Items, o.Items...)
	c.links = append(c.links, o.links...)
	c.y = max(c.y, o.y)
}

// moved is items moved by a vector.
func moved(items []draw.Item, v geom.Vector) []draw.Item {
	out := make([]draw.Item, len(items))
	for i, it := range items {
		points := make([]geom.Point, len(it.Points))
		for k, p := range it.Points {
			points[k] = p.Add(v)
		}
		it.Points = points
		out[i] = it
	}
	return out
}

// hair is what a text may be longer than its room, in millimetres: sums of the
// same widths in another order differ by less.
const hair = 1e-6

// wrapped breaks a text into lines of a width at its blanks; a figure stays with
// its fraction and unit. A word longer than the line is broken inside.
func wrapped(set draw.Setting, size float64, text string, width float64) []string {
	var out []string
	line := ""
	for word := range strings.FieldsFuncSeq(Unbroken(text), func(r rune) bool { return r == ' ' || r == '\n' }) {
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if draw.Width(set, size, longer) <= width+hair {
			line = longer
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for line = word; draw.Width(set, size, line) > width+hair; {
			head := fittingPart(set, size, line, width)
			out, line = append(out, head), line[len(head):]
		}
	}
	if line != "" || len(out) == 0 {
		out = append(out, line)
	}
	return out
}

// fittingPart is the longest beginning of a word that a width takes, one
// character at least.
func fittingPart(set draw.Setting, size float64, word string, width float64) string {
	end := 0
	for i, r := range word {
		next := i + len(string(r))
		if end > 0 && draw.Width(set, size, word[:next]) > width+hair {
			break
		}
		end = next
	}
	return word[:end]
}

// clipped is a text, or its beginning and … where the width takes no more.
func clipped(set draw.Setting, size float64, text string, width float64) string {
	if draw.Width(set, size, text) <= width+hair {
		return text
	}
	room := width - draw.Width(set, size, "…")
	head := fittingPart(set, size, text, room)
	if draw.Width(set, size, head) > room+hair {
		return "…"
	}
	return strings.TrimRight(head, " ") + "…"
}
