package sheet

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/dejavu/dejavusansbold"

	"spadework/engine/phrase"
)

// keptBlocks are the blocks of Unicode that paper draws.
var keptBlocks = [][2]rune{
	{0x20, 0x24f}, {0x2b0, 0x36f}, // Latin, modifiers, combining marks
	{0x370, 0x3ff}, {0x400, 0x4ff}, // Greek, Cyrillic
	{0x1d00, 0x1dbf}, {0x1e00, 0x1eff}, // raised and lowered letters, more Latin
	{0x2000, 0x22ff},                   // punctuation, raised figures, currency, letters, fractions, arrows, mathematics
	{0x2300, 0x23ff}, {0x2500, 0x26ff}, // technical signs, lines, shapes, signs
}

func keeps(r rune) bool {
	for _, b := range keptBlocks {
		if r >= b[0] && r <= b[1] {
			return true
		}
	}
	return false
}

// cutDown is a font with the kept blocks, its glyphs under their numbers.
func cutDown(data []byte) []byte {
	f := readTypeface("", data)
	kept := map[int]bool{}
	var keep func(glyph int)
	keep = func(glyph int) {
		kept[glyph] = true
		outline := f.outline(glyph)
		eachComponent(outline, func(at int) { keep(u16(outline, at)) })
	}
	keep(0)
	groups := []uint32{}
	for r := rune(0); r < 0x10000; r++ {
		glyph := f.glyph(r)
		if !keeps(r) || glyph == 0 {
			continue
		}
		keep(glyph)
		if n := len(groups); n > 0 && groups[n-2]+1 == uint32(r) && groups[n-1]+groups[n-2]-groups[n-3]+1 == uint32(glyph) {
			groups[n-2] = uint32(r)
		} else {
			groups = append(groups, uint32(r), uint32(r), uint32(glyph))
		}
	}
	var glyf, loca []byte
	for g := range f.glyphs {
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		if kept[g] {
			glyf = append(glyf, f.outline(g)...)
		}
	}
	head := bytes.Clone(f.tables["head"])
	binary.BigEndian.PutUint16(head[50:], 1) // long loca
	tables := map[string][]byte{"head": head, "loca": binary.BigEndian.AppendUint32(loca, uint32(len(glyf))), "glyf": glyf, "cmap": cmapOf(groups)}
	for _, name := range append([]string{"hhea", "maxp", "hmtx"}, copiedTables...) {
		if t, ok := f.tables[name]; ok {
			tables[name] = t
		}
	}
	return assemble(tables)
}

// cmapOf is a table of characters with one subtable of format 12 (OpenType 1.9);
// groups are first, last and first's glyph.
func cmapOf(groups []uint32) []byte {
	out := binary.BigEndian.AppendUint32(nil, 1)       // version 0, one subtable
	out = binary.BigEndian.AppendUint32(out, 3<<16|10) // Windows, full Unicode
	out = binary.BigEndian.AppendUint32(out, 12)
	out = binary.BigEndian.AppendUint32(out, 12<<16)
	for _, v := range []uint32{uint32(16 + 4*len(groups)), 0, uint32(len(groups) / 3)} {
		out = binary.BigEndian.AppendUint32(out, v)
	}
	for _, v := range groups {
		out = binary.BigEndian.AppendUint32(out, v)
	}
	return out
}

// TestFontsAreCutFromTheWholeOnes holds the files against a cut made now, and the
// cut against the whole font: each kept character has its outline and advance,
// each other one is the box.
func TestFontsAreCutFromTheWholeOnes(t *testing.T) {
	for _, c := range []struct {
		file  string
		whole []byte
		cut   *typeface
	}{{"regular.ttf", dejavusans.TTF, regularFace()}, {"bold.ttf", dejavusansbold.TTF, boldFace()}} {
		path, want := filepath.Join("font", c.file), cutDown(c.whole)
		if *update {
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s, %v, is not the whole font cut down; run go test ./sheet -run Cut -update", path, err)
		}
		whole, kept := readTypeface("", c.whole), 0
		for r := rune(0x20); r < 0x20000; r++ {
			glyph := c.cut.glyph(r)
			if !keeps(r) {
				if glyph != 0 {
					t.Errorf("%s has %U, which it should not", c.file, r)
				}
				continue
			}
			if glyph != whole.glyph(r) || c.cut.advance(glyph) != whole.advance(glyph) || !bytes.Equal(c.cut.outline(glyph), whole.outline(glyph)) {
				t.Errorf("%s draws %U otherwise than the whole font", c.file, r)
			}
			if glyph != 0 {
				kept++
			}
		}
		if kept < 1500 {
			t.Errorf("%s has %d characters, want the kept blocks", c.file, kept)
		}
	}
}

// TestFontsHaveEveryCharacterOfTheTexts looks every character of both languages up.
func TestFontsHaveEveryCharacterOfTheTexts(t *testing.T) {
	for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
		files, err := filepath.Glob("../engine/phrase/text/" + string(lang) + "/*.txt")
		if err != nil || len(files) < 10 {
			t.Fatalf("%d files of texts, %v", len(files), err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range strings.ReplaceAll(string(data), "\n", "") {
				if regularFace().glyph(r) == 0 || boldFace().glyph(r) == 0 {
					t.Errorf("%s has %U %q, which the fonts of paper do not", file, r, r)
				}
			}
		}
	}
}
