//go:build !page

package sheet

import (
	"bytes"
	"image"
	"image/color"
	"image/png"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/dejavu/dejavusansbold"
	"spadework/engine/draw"
	"spadework/engine/geom"
)

// PNG draws a page as a picture of so many dots to the inch, 10 to 1200; others
// are taken as the nearest of these.
func PNG(p Page, dotsPerInch int) ([]byte, error) {
	k := float64(min(max(dotsPerInch, 10), 1200)) / 25.4
	w, h := int(p.Width*k+0.5), int(p.Height*k+0.5)
	pic, err := newPicture(w, h, k)
	if err != nil {
		return nil, err
	}
	for _, it := range p.Items {
		if it.Text == "" {
			pic.shape(it)
		} else if err := pic.text(it); err != nil {
			return nil, err
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, pic.image); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// picture is an image being drawn.
type picture struct {
	image         *image.RGBA
	k             float64 // dots a millimetre
	regular, bold *sfnt.Font
	buffer        sfnt.Buffer
}

func newPicture(w, h int, k float64) (*picture, error) {
	regular, err := sfnt.Parse(dejavusans.TTF)
	if err != nil {
		return nil, err
	}
	bold, err := sfnt.Parse(dejavusansbold.TTF)
	if err != nil {
		return nil, err
	}
	p := &picture{image: image.NewRGBA(image.Rect(0, 0, w, h)), k: k, regular: regular, bold: bold}
	for i := range p.image.Pix {
		p.image.Pix[i] = 255
	}
	return p, nil
}

// area is outlines filled together: a place is in if the windings round it do
// not cancel.
type area [][]geom.Point

// fillArea paints outlines, in dots, in a colour.
func (p *picture) fillArea(a area, name string, alpha float64) {
	box := geom.EmptyBox()
	for _, ring := range a {
		box = box.Union(geom.BoxOf(ring...))
	}
	r := image.Rect(int(box.Min.X)-1, int(box.Min.Y)-1, int(box.Max.X)+2, int(box.Max.Y)+2).Intersect(p.image.Bounds())
	if box.Empty() || r.Empty() {
		return
	}
	z := vector.NewRasterizer(r.Dx(), r.Dy())
	for _, ring := range a {
		for i, q := range ring {
			x, y := float32(q.X)-float32(r.Min.X), float32(q.Y)-float32(r.Min.Y)
			if i == 0 {
				z.MoveTo(x, y)
			} else {
				z.LineTo(x, y)
			}
		}
		z.ClosePath()
	}
	c := onPaper(name)
	z.Draw(p.image, r, image.NewUniform(color.NRGBA{c[0], c[1], c[2], uint8(alpha*255 + 0.5)}), image.Point{})
}

// dots is places of the page in dots.
func (p *picture) dots(points []geom.Point) []geom.Point {
	out := make([]geom.Point, len(points))
	for i, q := range points {
		out[i] = geom.Point{X: q.X * p.k, Y: q.Y * p.k}
	}
	return out
}

// tint is the share of its colour that a Tint has.
const tint = 0.10

func (p *picture) shape(it draw.Item) {
	pen := strokes[it.Pen]
	line := p.dots(it.Points)
	switch {
	case it.Closed && it.Fill == draw.Tint:
		p.fillArea(area{line}, pen.colour, tint)
	case it.Closed && it.Fill == draw.Solid:
		p.fillArea(area{line}, pen.colour, 1)
	}
	if it.Closed && len(line) > 0 {
		line = append(line, line[0])
	}
	width := max(pen.width*p.k, 1)
	for _, piece := range dashes(line, pen.dash, p.k) {
		p.fillArea(outlined(piece, width/2), pen.colour, 1)
	}
}

// text draws a text as the page of a PDF has it.
func (p *picture) text(it draw.Item) error {
	glyphs, err := p.glyphs(it)
	if err != nil {
		return err
	}
	word := strokes[it.Pen].word
	switch it.Set {
	case draw.Label:
		p.fillArea(round(glyphs, it.Size*halo/2*p.k), white, 1)
		p.fillArea(glyphs, word, 1)
	case draw.Outlined:
		p.fillArea(glyphs, white, 1)
		p.fillArea(round(glyphs, max(it.Size*outlineWidth*p.k, 1)/2), word, 1)
	default:
		p.fillArea(glyphs, word, 1)
	}
	return nil
}

// glyphs are the outlines of a text's letters in dots.
func (p *picture) glyphs(it draw.Item) (area, error) {
	f := p.regular
	if it.Set.Bold() {
		f = p.bold
	}
	em := int(f.UnitsPerEm())
	x, y := textStart(it)
	place := geom.Point{X: x * p.k, Y: y * p.k}
	k := it.Size * p.k / float64(em)
	var out area
	pen := 0
	for _, r := range Unbroken(it.Text) {
		g, err := f.GlyphIndex(&p.buffer, r)
		if err != nil {
			return nil, err
		}
		segments, err := f.LoadGlyph(&p.buffer, g, fixed.I(em), nil)
		if err != nil {
			return nil, err
		}
		for _, ring := range flat(segments) {
			for i, q := range ring {
				ring[i] = turned(geom.Point{X: (q.X + float64(pen)) * k, Y: q.Y * k}, it.Upward).Add(geom.Vector(place))
			}
			out = append(out, ring)
		}
		a, err := f.GlyphAdvance(&p.buffer, g, fixed.I(em), font.HintingNone)
		if err != nil {
			return nil, err
		}
		pen += a.Round()
	}
	return out, nil
}

// turned is a place of a text that runs upwards.
func turned(q geom.Point, upward bool) geom.Point {
	if upward {
		return geom.Point{X: q.Y, Y: -q.X}
	}
	return q
}

// flat is the outlines of a glyph as polygons, in units of the font.
func flat(segments sfnt.Segments) area {
	var out area
	at := func(p fixed.Point26_6) geom.Point { return geom.Point{X: float64(p.X) / 64, Y: float64(p.Y) / 64} }
	const pieces = 6 // of a curve: under a hundredth of the size from it
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			out = append(out, []geom.Point{at(s.Args[0])})
			continue
		case sfnt.SegmentOpLineTo:
			out[len(out)-1] = append(out[len(out)-1], at(s.Args[0]))
			continue
		}
		ring := out[len(out)-1]
		a, b, c := ring[len(ring)-1], at(s.Args[0]), at(s.Args[1])
		for i := 1; i <= pieces; i++ { // TrueType outlines have no cubic curves
			t := float64(i) / pieces
			ring = append(ring, a.Toward(b, t).Toward(b.Toward(c, t), t))
		}
		out[len(out)-1] = ring
	}
	return out
}
