package sheet

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"testing"

	goqr "github.com/piglig/go-qr"

	scene "spadework/engine/draw"
	"spadework/engine/geom"
)

// decoded reads a PNG back.
func decoded(t *testing.T, p Page, dots int) image.Image {
	t.Helper()
	data, err := PNG(p, dots)
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// TestACardsCodeOpensIt: the code on the printed page, read by a decoder, is the
// address of the card that it stands on.
func TestACardsCodeOpensIt(t *testing.T) {
	e := editions(t, nil)[0]
	read := 0
	for _, page := range e.printed(t).Pages {
		for _, l := range page.Links {
			if read >= 4 {
				return
			}
			const dots = 200
			m := decoded(t, page, dots)
			k := dots / 25.4
			cut := image.Rect(int(l.Box.Min.X*k), int(l.Box.Min.Y*k), int(l.Box.Max.X*k), int(l.Box.Max.Y*k))
			square := image.NewRGBA(image.Rect(0, 0, cut.Dx(), cut.Dy()))
			draw.Draw(square, square.Bounds(), m, cut.Min, draw.Src)
			got, err := goqr.Decode(square)
			if err != nil || got != l.Address {
				t.Errorf("%s: code reads %q (%v), want %q", page.Title, got, err, l.Address)
			}
			read++
		}
	}
	if read < 4 {
		t.Errorf("%d codes read, want 4", read)
	}
}

// darkness is how much of a part of a picture is darker than grey paper.
func darkness(m image.Image, r image.Rectangle) float64 {
	dark := 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if color.GrayModel.Convert(m.At(x, y)).(color.Gray).Y < 200 {
				dark++
			}
		}
	}
	return float64(dark) / float64(r.Dx()*r.Dy())
}

// TestAPictureHasWhatThePageSays: a solid square is dark to its edge and white
// past it, a dashed line is part dark, and an upward text stands over its place.
func TestAPictureHasWhatThePageSays(t *testing.T) {
	p := Page{Scene: scene.Scene{Width: 50.8, Height: 50.8, Items: []scene.Item{
		{Pen: scene.Module, Closed: true, Fill: scene.Solid, Points: geom.BoxOf(geom.Point{X: 5.08, Y: 5.08}, geom.Point{X: 10.16, Y: 10.16}).Ring()},
		{Pen: scene.Planned, Points: []geom.Point{{X: 0, Y: 25.4}, {X: 50.8, Y: 25.4}}},
		{Pen: scene.Ink, Set: scene.Strong, Size: 10, Anchor: scene.Start, Upward: true, Points: []geom.Point{{X: 40, Y: 50}}, Text: "HH"},
	}}}
	m := decoded(t, p, 100) // 200 × 200 dots
	if b := m.Bounds(); b.Dx() != 200 || b.Dy() != 200 {
		t.Fatalf("picture of %v, want 200 × 200 dots", b)
	}
	for _, c := range []struct {
		what      string
		r         image.Rectangle
		low, high float64
	}{
		{"the square", image.Rect(21, 21, 39, 39), 1, 1},
		{"beside the square", image.Rect(42, 20, 60, 40), 0, 0},
		{"the dashed line", image.Rect(0, 100, 200, 101), 0.4, 0.75}, // 1.4 of 2.4 mm
		{"the letters", image.Rect(130, 140, 156, 196), 0.25, 0.7},
		{"past the letters", image.Rect(160, 140, 200, 196), 0, 0},
	} {
		if got := darkness(m, c.r); !(got >= c.low && got <= c.high) {
			t.Errorf("%s is %.2f dark, want %g to %g", c.what, got, c.low, c.high)
		}
	}
}

// signs tells the pens that a sign of their own tells apart where line and dash
// do not: letters along the line, hatching inside the outline.
var signs = map[scene.Pen]string{scene.Service: "its letter along the line", scene.Caution: "hatching inside it", scene.Module: "a code"}

// TestBlackAndWhiteLosesNothing: two pens of different colours differ in width or
// dash too, or one has a sign of its own; and every colour is dark on paper.
func TestBlackAndWhiteLosesNothing(t *testing.T) {
	for _, a := range scene.Pens() {
		if c := contrast(t, hexOnPaper(strokes[a].colour), "#FFFFFF"); strokes[a].colour != "stroke" && !(c >= leastWords) {
			t.Errorf("pen %s has contrast %.1f on paper, want %g", a, c, leastWords)
		}
		for _, b := range scene.Pens() {
			x, y := strokes[a], strokes[b]
			if x.colour != y.colour && x.width == y.width && x.dash == y.dash && signs[a] == "" && signs[b] == "" {
				t.Errorf("pens %s and %s differ in nothing but colour", a, b)
			}
		}
	}
}
