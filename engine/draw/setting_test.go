package draw

import (
	"bytes"
	"flag"
	"fmt"
	"go/format"
	"os"
	"testing"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/dejavu/dejavusansbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

var update = flag.Bool("update", false, "write the table of advances anew")

// measured are the stretches of characters that the table has: Latin, Greek,
// Cyrillic, punctuation, currency, letter-like signs, fractions, arrows, operators
// and shapes.
var measured = [][2]rune{
	{0x20, 0x7e}, {0xa0, 0x24f}, {0x2b0, 0x2ff}, {0x370, 0x3ff}, {0x400, 0x52f}, {0x1e00, 0x1eff}, {0x2010, 0x205e},
	{0x2070, 0x209c}, {0x20a0, 0x20b5}, {0x2100, 0x214b}, {0x2150, 0x215f}, {0x2190, 0x21ff}, {0x2200, 0x22ff}, {0x25a0, 0x25ff}, {0xfffd, 0xfffd},
}

// fonts are the two fonts as the library reads them.
func fonts(t *testing.T) (regular, bold *sfnt.Font) {
	t.Helper()
	var out [2]*sfnt.Font
	for i, data := range [][]byte{dejavusans.TTF, dejavusansbold.TTF} {
		f, err := sfnt.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		out[i] = f
	}
	return out[0], out[1]
}

// glyphAdvance is the advance that golang.org/x/image/font/sfnt reads, 0 for a
// character the font does not have.
func glyphAdvance(t *testing.T, f *sfnt.Font, r rune) int {
	t.Helper()
	var b sfnt.Buffer
	g, err := f.GlyphIndex(&b, r)
	if err != nil {
		t.Fatal(err)
	}
	if g == 0 {
		return 0
	}
	a, err := f.GlyphAdvance(&b, g, fixed.I(int(f.UnitsPerEm())), font.HintingNone)
	if err != nil {
		t.Fatal(err)
	}
	return a.Round()
}

// TestAdvancesAreThoseOfTheFont: the table against the font itself, read by
// another library.
func TestAdvancesAreThoseOfTheFont(t *testing.T) {
	regular, bold := fonts(t)
	if *update {
		writeAdvances(t, regular, bold)
		t.Skip("table written; run again")
	}
	count := 0
	for _, stretch := range measured {
		for r := stretch[0]; r <= stretch[1]; r++ {
			for _, f := range []struct {
				font *sfnt.Font
				bold bool
			}{{regular, false}, {bold, true}} {
				want := glyphAdvance(t, f.font, r)
				if want == 0 {
					want = widest
				}
				count++
				if got := advance(r, f.bold); got != want {
					t.Errorf("advance(%U, bold %v) = %d, want %d", r, f.bold, got, want)
				}
			}
		}
	}
	if count < 3000 {
		t.Errorf("%d advances compared, want the whole table", count)
	}
	if regular.UnitsPerEm() != unitsPerEm || bold.UnitsPerEm() != unitsPerEm {
		t.Errorf("the fonts have %d and %d units, want %d", regular.UnitsPerEm(), bold.UnitsPerEm(), unitsPerEm)
	}
}

// TestNoGlyphIsWiderThanTheWidest so that an unknown character never reaches out
// of the box it was given.
func TestNoGlyphIsWiderThanTheWidest(t *testing.T) {
	regular, bold := fonts(t)
	for r := rune(0x20); r < 0x20000; r++ {
		for _, f := range []*sfnt.Font{regular, bold} {
			if got := glyphAdvance(t, f, r); got > widest || got > advance(r, f == bold) {
				t.Fatalf("%U is %d wide, taken for %d", r, got, advance(r, f == bold))
			}
		}
	}
}

func TestWidthAddsUp(t *testing.T) {
	// DejaVu Sans: digits 1303, Bold: digits 1425 units of 2048 (hmtx).
	if got, want := Width(Body, 2048, "12"), 2*1303.0; got != want {
		t.Errorf("Width(Body) = %g, want %g", got, want)
	}
	if got, want := Width(Label, 10, "7"), 10*1425.0/2048; got != want {
		t.Errorf("Width(Label) = %g, want %g", got, want)
	}
	if Known("漢") || !Known("Zanja Ñ −½″") {
		t.Error("Known does not tell what the table has")
	}
}

// writeAdvances writes the table.
func writeAdvances(t *testing.T, regular, bold *sfnt.Font) {
	t.Helper()
	var b bytes.Buffer
	b.WriteString("package draw\n\n// advances is the advances of DejaVu Sans 2.37 and DejaVu Sans Bold, 0 where the\n// font lacks the character. `go test ./engine/draw -update` writes it.\nvar advances = []run{\n")
	for _, stretch := range measured {
		fmt.Fprintf(&b, "\t{first: 0x%x", stretch[0])
		for _, f := range []struct {
			name string
			font *sfnt.Font
		}{{"regular", regular}, {"bold", bold}} {
			fmt.Fprintf(&b, ", %s: []uint16{", f.name)
			for r, n := stretch[0], 0; r <= stretch[1]; r, n = r+1, n+1 {
				if n%24 == 0 {
					b.WriteString("\n\t\t")
				}
				fmt.Fprintf(&b, "%d, ", glyphAdvance(t, f.font, r))
			}
			b.WriteString("\n\t}")
		}
		b.WriteString("},\n")
	}
	b.WriteString("}\n")
	out, err := format.Source(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("advance.go", out, 0o644); err != nil {
		t.Fatal(err)
	}
}
