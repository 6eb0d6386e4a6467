package sheet

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"spadework/engine/draw"
)

// luminance is the relative luminance of a colour (WCAG 2.2, definition).
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil || len(hex) != 7 {
		t.Fatalf("%q is no colour", hex)
	}
	part := func(shift int) float64 {
		c := float64(n>>shift&0xff) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*part(16) + 0.7152*part(8) + 0.0722*part(0)
}

// contrast is the contrast ratio of two colours (WCAG 2.2, definition).
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	x, y := luminance(t, a), luminance(t, b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestContrastOfBlackAndWhite(t *testing.T) {
	// WCAG 2.2: black on white is 21:1.
	if got := contrast(t, "#000000", "#FFFFFF"); !(math.Abs(got-21) < 1e-9) {
		t.Errorf("contrast of black on white = %g, want 21", got)
	}
}

// The least contrasts: of figures, and of other words.
const leastFigures, leastWords = 7, 4.5

// TestColoursCanBeRead: every word that a pen writes may be a figure, but the
// letters of services and the names of ground to keep off.
func TestColoursCanBeRead(t *testing.T) {
	colours := map[string]Colour{}
	for _, c := range Colours() {
		colours[c.Name] = c
	}
	paper := colours["paper"]
	check := func(who, name string, least float64) {
		c, ok := colours[name]
		if !ok {
			t.Errorf("%s: no colour %q", who, name)
			return
		}
		for _, pair := range [][3]string{{"on paper", c.Light, paper.Light}, {"in the dark", c.Dark, paper.Dark}} {
			if got := contrast(t, pair[1], pair[2]); !(got >= least) {
				t.Errorf("%s in %s %s: contrast %.2f, want %g", who, name, pair[0], got, least)
			}
		}
	}
	for _, pen := range draw.Pens() {
		least := float64(leastFigures)
		if pen == draw.Service || pen == draw.Caution || pen == draw.Zone {
			least = leastWords
		}
		check("pen "+string(pen), strokes[pen].word, least)
	}
	check("words of a page", "soft", leastWords)
	check("links and planned rows of a page", "pencil", leastFigures)
}

func TestEveryPenHasItsStroke(t *testing.T) {
	for _, pen := range draw.Pens() {
		s, ok := strokes[pen]
		if !ok || !(s.width > 0) || ink(s.colour) == "currentColor" {
			t.Errorf("pen %s: stroke %+v", pen, s)
		}
	}
	if len(strokes) != len(draw.Pens()) {
		t.Errorf("%d strokes for %d pens", len(strokes), len(draw.Pens()))
	}
}
