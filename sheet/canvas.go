package sheet

import (
	"strings"

	"spadework/engine/draw"
)

// canvas writes the content of one page of a PDF.
type canvas struct {
	b             []byte
	height        float64
	regular, bold *pdfFont
	now           penState
}

// penState is what the reader of the page has set.
type penState struct {
	colour, fill, dash string
	width              float64
}

func newCanvas(height float64, regular, bold *pdfFont) *canvas {
	c := &canvas{height: height, regular: regular, bold: bold}
	c.op("1 j") // round joins
	return c
}

func (c *canvas) op(s string) { c.b = append(append(c.b, s...), '\n') }

// at writes a place of the page.
func (c *canvas) at(x, y float64) {
	c.b = append(appendPoints(c.b, x), ' ')
	c.b = append(appendPoints(c.b, c.height-y), ' ')
}

func (c *canvas) item(it draw.Item) {
	if it.Text != "" {
		c.text(it)
		return
	}
	pen := strokes[it.Pen]
	c.stroke(pen.colour, pen.width, pen.dash)
	if it.Fill != draw.Hollow {
		c.fill(pen.colour)
	}
	for i, p := range it.Points {
		c.at(p.X, p.Y)
		c.b = append(c.b, "lm"[btoi(i == 0)], '\n')
	}
	switch {
	case it.Closed && it.Fill == draw.Tint:
		c.op("/T gs b /N gs")
	case it.Closed && it.Fill == draw.Solid:
		c.op("b")
	case it.Closed:
		c.op("s")
	default:
		c.op("S")
	}
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// stroke sets colour, width and dash of lines where they differ.
func (c *canvas) stroke(colour string, width float64, dash string) {
	if c.now.colour != colour {
		c.rgb(colour, " RG")
		c.now.colour = colour
	}
	if c.now.width != width {
		c.b = appendPoints(c.b, width)
		c.op(" w")
		c.now.width = width
	}
	if c.now.dash != dash {
		c.b = append(c.b, '[')
		for figure := range strings.FieldsSeq(dash) {
			c.b = append(appendPoints(c.b, decimal(figure)), ' ')
		}
		c.op("] 0 d")
		c.now.dash = dash
	}
}

func (c *canvas) fill(colour string) {
	if c.now.fill != colour {
		c.rgb(colour, " rg")
		c.now.fill = colour
	}
}

// rgb writes a colour in shares of one.
func (c *canvas) rgb(name, operator string) {
	for _, part := range onPaper(name) {
		c.b = append(appendFigure(c.b, float64(part)/255), ' ')
	}
	c.op(operator)
}

// halo is the white round a label, and outlineWidth the line of a hollow letter,
// as shares of the size.
const halo, outlineWidth = 0.3, 0.035

// text writes a text, over its halo if it has one.
func (c *canvas) text(it draw.Item) {
	word := strokes[it.Pen].word
	switch it.Set {
	case draw.Label:
		c.stroke(white, it.Size*halo, "")
		c.glyphs(it, "1")
		c.fill(word)
		c.glyphs(it, "0")
	case draw.Outlined:
		c.stroke(word, it.Size*outlineWidth, "")
		c.fill(white)
		c.glyphs(it, "2")
	default:
		c.fill(word)
		c.glyphs(it, "0")
	}
}

// glyphs writes the letters in a mode: 0 filled, 1 drawn round, 2 both
// (ISO 32000-1, 9.3.6).
func (c *canvas) glyphs(it draw.Item, mode string) {
	font, name := c.regular, "/R "
	if it.Set.Bold() {
		font, name = c.bold, "/B "
	}
	x, y := textStart(it)
	c.b = append(c.b, "BT "+name...)
	c.b = appendPoints(c.b, it.Size)
	c.b = append(c.b, " Tf "+mode+" Tr "...)
	if it.Upward {
		c.b = append(c.b, "0 1 -1 0 "...)
	} else {
		c.b = append(c.b, "1 0 0 1 "...)
	}
	c.at(x, y)
	c.b = append(c.b, "Tm <"...)
	for _, r := range Unbroken(it.Text) {
		c.b = append(c.b, hex4(font.numberOf(r))...)
	}
	c.op("> Tj ET")
}

// textStart is where the first letter of a text stands.
func textStart(it draw.Item) (x, y float64) {
	lead := 0.0
	switch w := draw.Width(it.Set, it.Size, it.Text); it.Anchor {
	case draw.Middle:
		lead = w / 2
	case draw.End:
		lead = w
	}
	p := it.Points[0]
	if it.Upward {
		return p.X, p.Y + lead
	}
	return p.X - lead, p.Y
}
