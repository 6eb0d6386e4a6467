package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/draw"
	"spadework/engine/geom"
)

const svgWant = `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="40mm" height="20.5mm" viewBox="0 0 40 20.5" font-family="system-ui,sans-serif" font-weight="600" stroke-linejoin="round">
<title>F1 &amp; F2</title>
<rect width="40" height="20.5" fill="var(--paper,#FBF8EF)"/>
<path d="M0 0L10 5.25M0 1L10 6" fill="none" stroke="var(--stroke,#8A949B)" stroke-width="0.15"/>
<path d="M1 1L2 1L2 2Z" fill="var(--ink,#16202A)" fill-opacity="0.10" stroke="var(--ink,#16202A)" stroke-width="0.55"/>
<text x="5" y="6.33" font-size="3" text-anchor="middle" transform="rotate(-90 5 6.33)" fill="var(--pencil,#1D4E89)" stroke="var(--paper,#FBF8EF)" stroke-width="0.9" paint-order="stroke">7&#39;-1` + "\u00a0" + `1/2&#34;</text>
</svg>
`

func TestSVGOfASmallScene(t *testing.T) {
	s := draw.Scene{Width: 40, Height: 20.5, Items: []draw.Item{
		{Pen: draw.Fine, Points: []geom.Point{{}, {X: 10, Y: 5.25}}},
		{Pen: draw.Fine, Points: []geom.Point{{Y: 1}, {X: 10, Y: 6}}},
		{Pen: draw.Bottom, Points: []geom.Point{{X: 1, Y: 1}, {X: 2, Y: 1}, {X: 2, Y: 2}}, Closed: true, Fill: draw.Tint},
		{Pen: draw.Beam, Points: []geom.Point{{X: 5, Y: 6.3333}}, Text: `7'-1 1/2"`, Size: 3, Anchor: draw.Middle, Upward: true},
	}}
	if got := string(SVG(s, "F1 & F2")); got != svgWant {
		t.Errorf("SVG = \n%s\nwant\n%s", got, svgWant)
	}
}

// readSVG is the words of a drawing, its title first, as XML reads them.
func readSVG(data []byte) (words []string, err error) {
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return words, nil
		}
		if err != nil {
			return nil, err
		}
		if c, ok := token.(xml.CharData); ok && strings.TrimSpace(string(c)) != "" {
			words = append(words, string(c))
		}
	}
}

// TestAnyNameIsXML: whatever an id holds, the drawing stays well-formed and the
// id reads as it was, but for characters that XML has no way to hold.
func TestAnyNameIsXML(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := "x" + rapid.String().Draw(t, "name") + "x"
		s := draw.Scene{Width: 10, Height: 10, Items: []draw.Item{{Pen: draw.Ink, Points: []geom.Point{{}}, Text: name, Size: 3, Anchor: draw.Start}}}
		words, err := readSVG(SVG(s, name))
		if err != nil || len(words) != 2 {
			t.Fatalf("%q: %d texts, %v", name, len(words), err)
		}
		want := strings.Map(func(r rune) rune {
			if r == '\t' || r == '\n' || r == '\r' || r >= 0x20 && r <= 0xD7FF || r >= 0xE000 && r <= 0xFFFD || r >= 0x10000 {
				return r // XML 1.0, production 2
			}
			return 0xFFFD
		}, name)
		if words[0] != want || words[1] != Unbroken(want) {
			t.Fatalf("%q reads as %q and %q", name, words[0], words[1])
		}
	})
}
