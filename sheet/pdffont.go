package sheet

import (
	"slices"
	"strconv"
	"strings"
)

// pdfFont is a font as far as a document uses it.
type pdfFont struct {
	*subset
	of   map[rune]int // new number of the glyph of a character
	seen map[int]rune // a character of a new number
}

func newPDFFont(f *typeface) *pdfFont {
	return &pdfFont{subset: newSubset(f), of: map[rune]int{}, seen: map[int]rune{}}
}

// number is the number by which the document knows the glyph of a character.
func (f *pdfFont) numberOf(r rune) int {
	if n, ok := f.of[r]; ok {
		return n
	}
	n := f.take(f.face.glyph(r))
	f.of[r] = n
	if _, ok := f.seen[n]; !ok {
		f.seen[n] = r
	}
	return n
}

// thousandths is an advance in thousandths of the size.
func (f *pdfFont) thousandths(n int) int { return (f.face.advance(f.glyphs[n])*1000 + 1024) / 2048 }

// write writes the font's objects (ISO 32000-1, 9.7) and gives its number.
func (f *pdfFont) write(w *pdfWriter) int {
	data := f.bytes()
	file := w.stream(data, " /Length1 "+strconv.Itoa(len(data)))
	name := "/" + f.tag() + "+" + f.face.name
	head, os2 := f.face.tables["head"], f.face.tables["hhea"]
	signed := func(table []byte, at int) string {
		return strconv.Itoa(int(int16(u16(table, at))) * 1000 / 2048)
	}
	descriptor := w.reserve()
	w.object(descriptor, "<< /Type /FontDescriptor /FontName "+name+" /Flags 4 /FontBBox ["+signed(head, 36)+" "+signed(head, 38)+" "+
		signed(head, 40)+" "+signed(head, 42)+"] /ItalicAngle 0 /Ascent "+signed(os2, 4)+" /Descent "+signed(os2, 6)+
		" /CapHeight 729 /StemV 80 /FontFile2 "+reference(file)+" >>")
	descendant := w.reserve()
	w.object(descendant, "<< /Type /Font /Subtype /CIDFontType2 /BaseFont "+name+
		" /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /CIDToGIDMap /Identity /FontDescriptor "+
		reference(descriptor)+" /W [0 ["+f.widths()+"]] >>")
	unicode := w.stream(f.toUnicode(), "")
	n := w.reserve()
	w.object(n, "<< /Type /Font /Subtype /Type0 /BaseFont "+name+" /Encoding /Identity-H /DescendantFonts ["+
		reference(descendant)+"] /ToUnicode "+reference(unicode)+" >>")
	return n
}

// tag is six letters that tell a subset (ISO 32000-1, 9.6.4), from its glyphs by
// FNV-1a.
func (f *pdfFont) tag() string {
	h := uint32(2166136261)
	for _, g := range f.glyphs {
		h = (h ^ uint32(g)) * 16777619
	}
	var out [6]byte
	for i := range out {
		out[i] = 'A' + byte(h%26)
		h /= 26
	}
	return string(out[:])
}

func (f *pdfFont) widths() string {
	out := make([]string, len(f.glyphs))
	for n := range f.glyphs {
		out[n] = strconv.Itoa(f.thousandths(n))
	}
	return strings.Join(out, " ")
}

// mappedAtOnce is the most entries a bfchar block may have (Adobe Technical Note
// 5411).
const mappedAtOnce = 100

// toUnicode is the map by which a reader copies text out.
func (f *pdfFont) toUnicode() []byte {
	var numbers []int
	for n := range f.seen {
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	var b strings.Builder
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <ffff>\nendcodespacerange\n")
	for chunk := range slices.Chunk(numbers, mappedAtOnce) {
		b.WriteString(strconv.Itoa(len(chunk)) + " beginbfchar\n")
		for _, n := range chunk {
			unicode := strings.TrimSuffix(strings.TrimPrefix(pdfText(string(f.seen[n])), "<feff"), ">")
			b.WriteString("<" + hex4(n) + "> <" + unicode + ">\n")
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return []byte(b.String())
}
