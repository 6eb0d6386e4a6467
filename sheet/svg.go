package sheet

import (
	"encoding/xml"
	"strconv"
	"strings"

	"spadework/engine/draw"
	"spadework/engine/geom"
)

// pens is how each pen looks: line width in millimetres, dash, and its colour as
// a variable of the page with the colour on paper behind it.
var pens = map[draw.Pen]struct {
	width        float64
	dash, colour string
}{
	draw.Ink:     {0.35, "", "var(--ink,#16202A)"},
	draw.Fine:    {0.15, "", "var(--rule-strong,#8A949B)"},
	draw.Bottom:  {0.5, "", "var(--ink,#16202A)"},
	draw.Neat:    {0.2, "1 0.8", "var(--ink,#16202A)"},
	draw.Beam:    {0.4, "", "var(--pencil,#1D4E89)"},
	draw.Planned: {0.4, "1.2 0.9", "var(--pencil,#1D4E89)"},
	draw.Service: {0.35, "3 1", "var(--ochre,#8A5A00)"},
	draw.Caution: {0.5, "", "var(--ochre,#8A5A00)"},
}

// SVG writes a drawing as SVG 1.1 in millimetres.
func SVG(scene draw.Scene, title string) string {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 ` + mm(scene.Width) + " " + mm(scene.Height) + `">`)
	b.WriteString("<title>" + escape(title) + "</title>")
	for _, it := range scene.Items {
		if it.Text != "" {
			writeText(&b, it)
		} else {
			writeLine(&b, it)
		}
	}
	b.WriteString("</svg>")
	return b.String()
}

// mm prints millimetres to a hundredth.
func mm(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

func escape(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return "" // a builder takes everything
	}
	return b.String()
}

func writeLine(b *strings.Builder, it draw.Item) {
	pen := pens[it.Pen]
	fill := "none"
	if it.Filled {
		fill = pen.colour
	}
	b.WriteString(`<path d="` + path(it.Points, it.Closed) + `" fill="` + fill + `" stroke="` + pen.colour + `" stroke-width="` + mm(pen.width) + `"`)
	if it.Filled && it.Pen == draw.Bottom {
		b.WriteString(` fill-opacity="0.10"`)
	}
	if pen.dash != "" {
		b.WriteString(` stroke-dasharray="` + pen.dash + `"`)
	}
	b.WriteString("/>")
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

// writeText writes words with a halo of paper, so that lines do not cross them.
func writeText(b *strings.Builder, it draw.Item) {
	b.WriteString(`<text x="` + mm(it.Points[0].X) + `" y="` + mm(it.Points[0].Y) + `" font-size="` + mm(it.Size) +
		`" text-anchor="` + string(it.Anchor) + `" fill="` + pens[it.Pen].colour +
		`" stroke="var(--paper,#FBF8EF)" stroke-width="0.9" stroke-linejoin="round" paint-order="stroke" font-family="system-ui,sans-serif" font-weight="600">` +
		escape(it.Text) + "</text>")
}
