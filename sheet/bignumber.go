package sheet

import (
	"strings"

	"spadework/engine/draw"
	"spadework/engine/geom"
)

// A fraction stands stacked, each figure at this share of the whole one's size,
// a bar between them and a gap before it, so that 7'-1 1/2" is never read as
// 7'-11/2".
const fractionShare, fractionGap, gapAfter = 0.6, 0.16, 0.05

// bigNumber is a number to be set large: what stands before its fraction, the
// fraction, and what stands after. Numbers without a fraction have only before.
type bigNumber struct{ before, over, under, after string }

func readBig(text string) bigNumber {
	for i := range len(text) {
		if text[i] != '/' {
			continue
		}
		from, to := i-leadingDigits(text[:i], true), i+1+leadingDigits(text[i+1:], false)
		if from == i || to == i+1 {
			continue
		}
		before := strings.TrimSuffix(text[:from], " ")
		if before == text[:from] {
			before = strings.TrimSuffix(before, noBreak)
		}
		return bigNumber{before, text[from:i], text[i+1 : to], text[to:]}
	}
	return bigNumber{before: text}
}

// width is what the number takes at a size.
func (n bigNumber) width(set draw.Setting, size float64) float64 {
	w := draw.Width(set, size, n.before)
	if n.over == "" {
		return w
	}
	return w + (fractionGap+gapAfter)*size + n.fractionWidth(set, size) + draw.Width(set, size, n.after)
}

func (n bigNumber) fractionWidth(set draw.Setting, size float64) float64 {
	return max(draw.Width(set, fractionShare*size, n.over), draw.Width(set, fractionShare*size, n.under))
}

// bigNumber writes a number as large as the width takes, at most at a size, and
// goes below it.
func (c *column) bigNumber(set draw.Setting, most, width float64, text string) {
	n := readBig(text)
	size := most
	for size > sizeFigure && n.width(set, size) > width {
		size -= 0.25
	}
	base := geom.Point{X: c.left, Y: c.y + 1.12*size}
	if n.over == "" {
		base.Y = c.y + 0.92*size
	}
	c.words(set, size, base, draw.Start, n.before)
	c.y = base.Y + 0.16*size
	if n.over == "" {
		return
	}
	x := base.X + draw.Width(set, size, n.before) + fractionGap*size
	w := n.fractionWidth(set, size)
	bar := base.Y - 0.365*size // half of a capital's height
	c.words(set, fractionShare*size, geom.Point{X: x + w/2, Y: bar - 0.1*size}, draw.Middle, n.over)
	c.words(set, fractionShare*size, geom.Point{X: x + w/2, Y: bar + 0.54*size}, draw.Middle, n.under)
	c.Items = append(c.Items, draw.Item{Pen: draw.Ink, Closed: true, Fill: draw.Solid, Points: geom.BoxOf(
		geom.Point{X: x, Y: bar - 0.025*size}, geom.Point{X: x + w, Y: bar + 0.025*size}).Ring()})
	c.words(set, size, geom.Point{X: x + w + gapAfter*size, Y: base.Y}, draw.Start, n.after)
	c.y = bar + 0.62*size
}
