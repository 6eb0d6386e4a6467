package sheet

import (
	"bytes"
	"compress/zlib"
	"encoding/hex"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/dejavu/dejavusansbold"
	"spadework/engine/draw"
	"spadework/engine/geom"
)

// pdfObjects reads a PDF by its table of objects (ISO 32000-1, 7.5.4) and fails
// where an offset does not lead to its object.
func pdfObjects(t testing.TB, data []byte) map[int]string {
	t.Helper()
	m := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`).FindSubmatch(data)
	if m == nil {
		t.Fatal("no startxref")
	}
	at, _ := strconv.Atoi(string(m[1]))
	lines := strings.Split(string(data[at:]), "\n")
	var first, count int
	if _, err := fmt.Sscanf(lines[1], "%d %d", &first, &count); err != nil || lines[0] != "xref" || first != 0 {
		t.Fatalf("table of objects begins %q", lines[:2])
	}
	out := map[int]string{}
	for n := 1; n < count; n++ {
		offset, err := strconv.Atoi(lines[2+n][:10])
		if err != nil || len(lines[2+n]) != 19 {
			t.Fatalf("row %d is %q", n, lines[2+n])
		}
		head := strconv.Itoa(n) + " 0 obj\n"
		body := data[offset:]
		if !bytes.HasPrefix(body, []byte(head)) {
			t.Fatalf("object %d is not at %d", n, offset)
		}
		end := bytes.Index(body, []byte("\nendobj\n"))
		out[n] = string(body[len(head):end])
	}
	return out
}

// inflate is the bytes of a stream object.
func inflate(t testing.TB, object string) []byte {
	t.Helper()
	head, rest, _ := strings.Cut(object, "\nstream\n")
	m := regexp.MustCompile(`/Length (\d+)`).FindStringSubmatch(head)
	n, _ := strconv.Atoi(m[1])
	if !strings.HasPrefix(rest[n:], "\nendstream") {
		t.Fatalf("a stream is not %d bytes long", n)
	}
	z, err := zlib.NewReader(strings.NewReader(rest[:n]))
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// pdfFonts are the embedded fonts with the map by which a reader copies text.
type pdfEmbedded struct {
	ttf     []byte
	unicode map[string]string // by glyph number in hex
	widths  []float64
}

func follow(t testing.TB, objects map[int]string, in, key string) string {
	t.Helper()
	m := regexp.MustCompile(`/` + key + ` \[?(\d+) 0 R`).FindStringSubmatch(in)
	if m == nil {
		t.Fatalf("no %s in %s", key, in)
	}
	n, _ := strconv.Atoi(m[1])
	return objects[n]
}

func embedded(t testing.TB, objects map[int]string, in, name string) pdfEmbedded {
	t.Helper()
	type0 := follow(t, objects, in, name)
	descendant := follow(t, objects, type0, "DescendantFonts")
	out := pdfEmbedded{ttf: inflate(t, follow(t, objects, follow(t, objects, descendant, "FontDescriptor"), "FontFile2")), unicode: map[string]string{}}
	for _, m := range regexp.MustCompile(`<([0-9a-f]{4})> <([0-9a-f]+)>`).FindAllStringSubmatch(string(inflate(t, follow(t, objects, type0, "ToUnicode"))), -1) {
		if m[1] == "0000" && m[2] == "ffff" {
			continue
		}
		raw, _ := hex.DecodeString(m[2])
		var units []uint16
		for i := 0; i+1 < len(raw); i += 2 {
			units = append(units, uint16(raw[i])<<8|uint16(raw[i+1]))
		}
		out.unicode[m[1]] = string(utf16.Decode(units))
	}
	w := regexp.MustCompile(`/W \[0 \[([0-9 ]+)\]\]`).FindStringSubmatch(descendant)
	for f := range strings.FieldsSeq(w[1]) {
		v, _ := strconv.ParseFloat(f, 64)
		out.widths = append(out.widths, v)
	}
	return out
}

// pageTexts are the texts of every page as a reader would copy them, each once
// for every time it is painted.
func pageTexts(t testing.TB, data []byte) (pages [][]string, fonts map[string]pdfEmbedded) {
	t.Helper()
	objects := pdfObjects(t, data)
	fonts = map[string]pdfEmbedded{}
	for n := 1; n <= len(objects); n++ {
		page := objects[n]
		if !strings.Contains(page, "/Type /Page ") {
			continue
		}
		resources := follow(t, objects, page, "Resources")
		for _, name := range []string{"R", "B"} {
			fonts[name] = embedded(t, objects, resources, name)
		}
		var texts []string
		for _, m := range regexp.MustCompile(`BT /([RB]) .*? Tm <([0-9a-f]*)> Tj ET`).FindAllStringSubmatch(string(inflate(t, follow(t, objects, page, "Contents"))), -1) {
			text := ""
			for i := 0; i < len(m[2]); i += 4 {
				text += fonts[m[1]].unicode[m[2][i:i+4]]
			}
			texts = append(texts, text)
		}
		pages = append(pages, texts)
	}
	return pages, fonts
}

// TestAPDFReadsBackAsItsPages: its table leads to its objects, and the texts a
// reader copies are those of the display list, in order.
func TestAPDFReadsBackAsItsPages(t *testing.T) {
	for _, e := range []int{0, 7, 15} {
		d := editions(t, nil)[e].printed(t)
		pages, _ := pageTexts(t, PDF(d))
		if len(pages) != len(d.Pages) {
			t.Fatalf("%d pages read back, want %d", len(pages), len(d.Pages))
		}
		for i, page := range d.Pages {
			var want []string
			for _, it := range page.Items {
				if it.Text == "" {
					continue
				}
				want = append(want, Unbroken(it.Text))
				if it.Set == draw.Label { // once for its halo
					want = append(want, Unbroken(it.Text))
				}
			}
			if got := pages[i]; strings.Join(got, "\n") != strings.Join(want, "\n") {
				t.Fatalf("page %d reads back\n%q\nwant\n%q", i+1, got, want)
			}
		}
	}
}

// TestEmbeddedFontsAreTheFonts: the fonts cut down, read by
// golang.org/x/image/font/sfnt, have the outlines and advances of the whole ones,
// and the widths that the file tells are those the layout measured by.
func TestEmbeddedFontsAreTheFonts(t *testing.T) {
	text := "0123456789 ½ Ñandú Ž ÀÉÎÕü “ábc” − ′ ″ × gjpqy fi Łódź"
	page := Page{Scene: draw.Scene{Width: 100, Height: 50}}
	for i, set := range []draw.Setting{draw.Body, draw.Strong} {
		page.Items = append(page.Items, draw.Item{Pen: draw.Ink, Set: set, Size: 3, Anchor: draw.Start, Points: []geom.Point{{X: 1, Y: 10 + 10*float64(i)}}, Text: text})
	}
	_, fonts := pageTexts(t, PDF(Document{Title: "fonts", Pages: []Page{page}}))
	for _, f := range []struct {
		name  string
		whole []byte
		set   draw.Setting
	}{{"R", dejavusans.TTF, draw.Body}, {"B", dejavusansbold.TTF, draw.Strong}} {
		whole, err := sfnt.Parse(f.whole)
		if err != nil {
			t.Fatal(err)
		}
		cut, err := sfnt.Parse(withCmap(fonts[f.name].ttf))
		if err != nil {
			t.Fatalf("%s: %v", f.name, err)
		}
		compared := 0
		for number, characters := range fonts[f.name].unicode {
			n, _ := strconv.ParseInt(number, 16, 32)
			compared++
			r := []rune(characters)[0]
			var a, b sfnt.Buffer
			g, _ := whole.GlyphIndex(&a, r)
			want, err := whole.LoadGlyph(&a, g, fixed.I(2048), nil)
			if err != nil {
				t.Fatal(err)
			}
			got, err := cut.LoadGlyph(&b, sfnt.GlyphIndex(n), fixed.I(2048), nil)
			if err != nil || fmt.Sprint(got) != fmt.Sprint(want) {
				t.Errorf("%s: %q has another outline (%v)", f.name, characters, err)
			}
			advance, err := cut.GlyphAdvance(&b, sfnt.GlyphIndex(n), fixed.I(2048), font.HintingNone)
			if wide := draw.Width(f.set, 2048, characters); err != nil || math.Abs(float64(advance.Round())-wide) > 1e-9 {
				t.Errorf("%s: %q is %v wide, laid out as %g", f.name, characters, advance, wide)
			}
			if told := fonts[f.name].widths[n]; math.Abs(told-draw.Width(f.set, 1000, characters)) > 0.5 { // told in whole thousandths
				t.Errorf("%s: %q is told to be %g wide, laid out as %g", f.name, characters, told, draw.Width(f.set, 1000, characters))
			}
		}
		if compared < 40 {
			t.Errorf("%s: %d glyphs compared", f.name, compared)
		}
	}
}

// withCmap adds the empty tables that sfnt asks for and a PDF does not need: a
// cmap of no characters, names and PostScript data.
func withCmap(ttf []byte) []byte {
	f := readTypeface("", ttf)
	f.tables["cmap"] = []byte{0, 0, 0, 1, 0, 3, 0, 10, 0, 0, 0, 12, 0, 12, 0, 0, 0, 0, 0, 16, 0, 0, 0, 0, 0, 0, 0, 0}
	f.tables["name"] = []byte{0, 0, 0, 0, 0, 6}
	f.tables["post"] = append([]byte{0, 3, 0, 0}, make([]byte, 28)...)
	f.tables["OS/2"] = make([]byte, 96)
	return assemble(f.tables)
}

// TestAnyNameGoesIntoAPDF: whatever an id holds, the file reads back and is the
// same again.
func TestAnyNameGoesIntoAPDF(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		name := rapid.String().Draw(r, "name")
		page := Page{Title: name, Links: []Link{{Address: name}}, Scene: draw.Scene{Width: 50, Height: 20, Items: []draw.Item{
			{Pen: draw.Ink, Set: draw.Body, Size: 3, Anchor: draw.Middle, Points: []geom.Point{{X: 25, Y: 10}}, Text: "x" + name},
		}}}
		d := Document{Title: name, Date: "2026-05-06", Pages: []Page{page}}
		data := PDF(d)
		if len(pdfObjects(t, data)) < 10 || !bytes.Equal(data, PDF(d)) || !bytes.Contains(data, []byte("/CreationDate (D:20260506)")) {
			t.Fatalf("%q makes a file that does not read back", name)
		}
	})
}

func TestADateThatIsNotToldIsNotInvented(t *testing.T) {
	if data := PDF(Document{Title: "x"}); bytes.Contains(data, []byte("CreationDate")) {
		t.Error("a document without a date has one")
	}
}
