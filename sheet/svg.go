package sheet

import (
	"encoding/xml"
	"strconv"
	"strings"

	"spadework/engine/draw"
	"spadework/engine/geom"
)

// stroke is how a pen looks: line width and dash in millimetres, its colour, and
// that of its words, which must be read.
type stroke struct {
	width              float64
	dash, colour, word string
}

// strokes is every pen.
var strokes = map[draw.Pen]stroke{
	draw.Ink:     {0.35, "", "ink", "ink"},
	draw.Fine:    {0.15, "", "stroke", "ink"},
	draw.Leader:  {0.18, "", "ink", "ink"},
	draw.Grid:    {0.15, "", "stroke", "ink"},
	draw.Earth:   {0.18, "1.8 1.1", "stroke", "ink"},
	draw.Ground:  {0.4, "", "ink", "ink"},
	draw.Dug:     {0.25, "", "ink", "ink"},
	draw.Bottom:  {0.55, "", "ink", "ink"},
	draw.Band:    {0.2, "0.6 0.6", "ink", "ink"},
	draw.Neat:    {0.2, "1 0.8", "ink", "ink"},
	draw.Beam:    {0.3, "", "pencil", "pencil"},
	draw.Ray:     {0.4, "6 1.2 0.8 1.2", "pencil", "pencil"},
	draw.Planned: {0.3, "1.4 1", "pencil", "pencil"},
	draw.Service: {0.35, "", "ochre", "ochre"},
	draw.Caution: {0.4, "", "ochre", "ochre"},
	draw.Zone:    {0.25, "2.4 0.8 0.5 0.8", "ochre", "ochre"},
	draw.Reach:   {0.2, "3 1.5", "pencil", "pencil"},
	draw.Module:  {0.01, "", "ink", "ink"},
}

// SVG writes a drawing as SVG 1.1, its size in millimetres. It stands alone, or
// in a page that gives the colours of ColourVariables. Characters that XML cannot
// hold are written as U+FFFD.
func SVG(scene draw.Scene, title string) []byte {
	return svgWriter{family: "system-ui,sans-serif", ink: ink}.write(scene, title)
}

// PageSVG writes a page of paper as SVG that stands alone: white, every text as
// long as it was measured, whatever font the reader has.
func PageSVG(p Page) []byte {
	return svgWriter{family: "DejaVu Sans,Verdana,sans-serif", ink: hexOnPaper, measured: true}.write(p.Scene, p.Title)
}

// svgWriter is how a drawing is written.
type svgWriter struct {
	family   string
	ink      func(name string) string
	measured bool // texts tell their length
}

func (w svgWriter) write(scene draw.Scene, title string) []byte {
	var b strings.Builder
	width, height := mm(scene.Width), mm(scene.Height)
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" role="img" width="` + width + `mm" height="` + height + `mm" viewBox="0 0 ` + width + " " + height +
		`" font-family="` + w.family + `" font-weight="600" stroke-linejoin="round">` + "\n<title>" + escape(title) + "</title>\n")
	b.WriteString(`<rect width="` + width + `" height="` + height + `" fill="` + w.ink("paper") + `"/>` + "\n")
	for i := 0; i < len(scene.Items); {
		n := 1
		for i+n < len(scene.Items) && sameStroke(scene.Items[i], scene.Items[i+n]) {
			n++
		}
		if it := scene.Items[i]; it.Text != "" {
			w.text(&b, it)
		} else {
			w.lines(&b, scene.Items[i:i+n])
		}
		i += n
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

// sameStroke says that two open lines go into one path.
func sameStroke(a, b draw.Item) bool {
	return a.Text == "" && b.Text == "" && !a.Closed && !b.Closed && a.Pen == b.Pen
}

// mm prints millimetres to a hundredth, without noughts at the end.
func mm(v float64) string {
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func escape(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return "" // a builder takes everything
	}
	return b.String()
}

func (w svgWriter) lines(b *strings.Builder, items []draw.Item) {
	pen := strokes[items[0].Pen]
	b.WriteString(`<path d="`)
	for _, it := range items {
		b.WriteString(path(it.Points, it.Closed))
	}
	b.WriteString(`" fill="`)
	switch {
	case items[0].Fill == draw.Hollow:
		b.WriteString("none")
	case items[0].Fill == draw.Tint:
		b.WriteString(w.ink(pen.colour) + `" fill-opacity="0.10`)
	default:
		b.WriteString(w.ink(pen.colour))
	}
	b.WriteString(`" stroke="` + w.ink(pen.colour) + `" stroke-width="` + mm(pen.width) + `"`)
	if pen.dash != "" {
		b.WriteString(` stroke-dasharray="` + pen.dash + `"`)
	}
	b.WriteString("/>\n")
}

func path(points []geom.Point, closed bool) string {
	var b strings.Builder
	for i, p := range points {
		command := "L"
		if i == 0 {
			command = "M"
		}
		b.WriteString(command + mm(p.X) + " " + mm(p.Y))
	}
	if closed {
		b.WriteString("Z")
	}
	return b.String()
}

// text writes words; a label has a halo of paper, so that lines do not cross it.
func (w svgWriter) text(b *strings.Builder, it draw.Item) {
	x, y := mm(it.Points[0].X), mm(it.Points[0].Y)
	b.WriteString(`<text x="` + x + `" y="` + y + `" font-size="` + mm(it.Size) + `" text-anchor="` + string(it.Anchor) + `"`)
	if it.Upward {
		b.WriteString(` transform="rotate(-90 ` + x + " " + y + `)"`)
	}
	if !it.Set.Bold() {
		b.WriteString(` font-weight="400"`)
	}
	if w.measured {
		b.WriteString(` textLength="` + mm(draw.Width(it.Set, it.Size, it.Text)) + `" lengthAdjust="spacingAndGlyphs"`)
	}
	word := w.ink(strokes[it.Pen].word)
	switch it.Set {
	case draw.Label:
		b.WriteString(` fill="` + word + `" stroke="` + w.ink("paper") + `" stroke-width="` + mm(it.Size*halo) + `" paint-order="stroke"`)
	case draw.Outlined:
		b.WriteString(` fill="` + w.ink("paper") + `" stroke="` + word + `" stroke-width="` + mm(it.Size*outlineWidth) + `"`)
	default:
		b.WriteString(` fill="` + word + `"`)
	}
	b.WriteString(">" + escape(Unbroken(it.Text)) + "</text>\n")
}
