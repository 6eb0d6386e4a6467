package sheet

import (
	_ "embed" // the fonts
	"encoding/binary"
)

// The fonts of paper, cut down to what they draw (font/README.md).
var (
	//go:embed font/regular.ttf
	regularTTF []byte
	//go:embed font/bold.ttf
	boldTTF []byte
)

// typeface is a TrueType font read as far as embedding needs (OpenType 1.9).
type typeface struct {
	name     string
	tables   map[string][]byte
	longLoca bool
	glyphs   int // in the font
	metrics  int // full rows of hmtx
}

// The two fonts of paper.
func regularFace() *typeface { return readTypeface("DejaVuSans", regularTTF) }
func boldFace() *typeface    { return readTypeface("DejaVuSans-Bold", boldTTF) }

// readTypeface reads one of the fonts that are built in; it trusts their bytes.
func readTypeface(name string, data []byte) *typeface {
	f := &typeface{name: name, tables: map[string][]byte{}}
	for i := range u16(data, 4) {
		row := data[12+16*i:]
		at, n := u32(row, 8), u32(row, 12)
		f.tables[string(row[:4])] = data[at : at+n]
	}
	f.longLoca = u16(f.tables["head"], 50) == 1
	f.glyphs = u16(f.tables["maxp"], 4)
	f.metrics = u16(f.tables["hhea"], 34)
	return f
}

func u16(b []byte, at int) int { return int(binary.BigEndian.Uint16(b[at:])) }
func u32(b []byte, at int) int { return int(binary.BigEndian.Uint32(b[at:])) }

// glyph is the glyph of a character, 0 (a box) for one the font does not have.
func (f *typeface) glyph(r rune) int {
	cmap := f.tables["cmap"]
	for i := range u16(cmap, 2) {
		row := cmap[4+8*i:]
		sub := cmap[u32(row, 4):]
		if u16(row, 0) == 3 && u16(row, 2) == 10 && u16(sub, 0) == 12 {
			return glyphOf12(sub, int(r))
		}
	}
	return 0
}

// glyphOf12 looks a character up in a subtable of format 12.
func glyphOf12(sub []byte, r int) int {
	low, high := 0, u32(sub, 12)
	for low < high {
		m := (low + high) / 2
		group := sub[16+12*m:]
		switch first, last := u32(group, 0), u32(group, 4); {
		case r < first:
			high = m
		case r > last:
			low = m + 1
		default:
			return u32(group, 8) + r - first
		}
	}
	return 0
}

// advance is the advance of a glyph in units of the font, 2048 to the em.
func (f *typeface) advance(glyph int) int {
	return u16(f.tables["hmtx"], 4*min(glyph, f.metrics-1))
}

// outline is the bytes of a glyph in glyf, empty for a blank.
func (f *typeface) outline(glyph int) []byte {
	loca, glyf := f.tables["loca"], f.tables["glyf"]
	if f.longLoca {
		return glyf[u32(loca, 4*glyph):u32(loca, 4*glyph+4)]
	}
	return glyf[2*u16(loca, 2*glyph) : 2*u16(loca, 2*glyph+2)]
}

// Flags of a component of a composite glyph (OpenType, glyf).
const (
	argsAreWords   = 0x0001
	hasScale       = 0x0008
	moreComponents = 0x0020
	hasXYScale     = 0x0040
	hasTwoByTwo    = 0x0080
	componentHead  = 10 // bytes before the first component
)

// eachComponent calls visit with the place of every component's glyph in the
// bytes of a composite glyph.
func eachComponent(outline []byte, visit func(at int)) {
	if len(outline) < componentHead || int16(binary.BigEndian.Uint16(outline)) >= 0 {
		return
	}
	for at := componentHead; ; {
		flags := u16(outline, at)
		visit(at + 2)
		at += 6
		if flags&argsAreWords != 0 {
			at += 2
		}
		switch {
		case flags&hasScale != 0:
			at += 2
		case flags&hasXYScale != 0:
			at += 4
		case flags&hasTwoByTwo != 0:
			at += 8
		}
		if flags&moreComponents == 0 {
			return
		}
	}
}
