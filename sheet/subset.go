package sheet

import (
	"encoding/binary"
	"slices"
)

// subset is a font cut down to some glyphs, numbered anew from 0.
type subset struct {
	face   *typeface
	glyphs []int       // of the whole font, by new number
	number map[int]int // new numbers, by glyph of the whole font
}

// newSubset is the box alone.
func newSubset(f *typeface) *subset {
	return &subset{face: f, glyphs: []int{0}, number: map[int]int{0: 0}}
}

// take is the new number of a glyph, which is taken in with its components.
func (s *subset) take(glyph int) int {
	if n, ok := s.number[glyph]; ok {
		return n
	}
	n := len(s.glyphs)
	s.glyphs, s.number[glyph] = append(s.glyphs, glyph), n
	outline := s.face.outline(glyph)
	eachComponent(outline, func(at int) { s.take(u16(outline, at)) })
	return n
}

// copiedTables are the tables that a PDF reader needs as they are (ISO 32000-1, 9.9).
var copiedTables = []string{"cvt ", "fpgm", "prep"}

// bytes is the font as a file.
func (s *subset) bytes() []byte {
	glyf, loca := s.outlines()
	head := slices.Clone(s.face.tables["head"])
	binary.BigEndian.PutUint16(head[50:], 1) // long loca
	binary.BigEndian.PutUint32(head[8:], 0)  // checksum of the whole, set at the end
	hhea := slices.Clone(s.face.tables["hhea"])
	binary.BigEndian.PutUint16(hhea[34:], uint16(len(s.glyphs)))
	maxp := slices.Clone(s.face.tables["maxp"])
	binary.BigEndian.PutUint16(maxp[4:], uint16(len(s.glyphs)))
	tables := map[string][]byte{"glyf": glyf, "loca": loca, "head": head, "hhea": hhea, "maxp": maxp, "hmtx": s.hmtx()}
	for _, name := range copiedTables {
		if t, ok := s.face.tables[name]; ok {
			tables[name] = t
		}
	}
	return assemble(tables)
}

// outlines are the glyphs with their components numbered anew, and where each
// begins.
func (s *subset) outlines() (glyf, loca []byte) {
	for _, g := range s.glyphs {
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		outline := slices.Clone(s.face.outline(g))
		eachComponent(outline, func(at int) {
			binary.BigEndian.PutUint16(outline[at:], uint16(s.number[u16(outline, at)]))
		})
		glyf = append(glyf, outline...)
		for len(glyf)%4 != 0 {
			glyf = append(glyf, 0)
		}
	}
	return glyf, binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
}

// hmtx is advance and left bearing of every glyph.
func (s *subset) hmtx() []byte {
	var out []byte
	table := s.face.tables["hmtx"]
	for _, g := range s.glyphs {
		bearing := 4*g + 2
		if g >= s.face.metrics {
			bearing = 4*s.face.metrics + 2*(g-s.face.metrics)
		}
		out = binary.BigEndian.AppendUint16(out, uint16(s.face.advance(g)))
		out = append(out, table[bearing:bearing+2]...)
	}
	return out
}

// assemble writes tables as a TrueType file, by name.
func assemble(tables map[string][]byte) []byte {
	var names []string
	for name := range tables {
		names = append(names, name)
	}
	slices.Sort(names)
	n, power, steps := len(names), 1, 0
	for power*2 <= n {
		power, steps = power*2, steps+1
	}
	out := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range []int{n, 16 * power, steps, 16 * (n - power)} {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	at, headAt := 12+16*n, 0
	for _, name := range names {
		if name == "head" {
			headAt = at
		}
		out = append(out, name...)
		for _, v := range []uint32{checksum(tables[name]), uint32(at), uint32(len(tables[name]))} {
			out = binary.BigEndian.AppendUint32(out, v)
		}
		at += (len(tables[name]) + 3) &^ 3
	}
	for _, name := range names {
		out = append(out, tables[name]...)
		for len(out)%4 != 0 {
			out = append(out, 0)
		}
	}
	binary.BigEndian.PutUint32(out[headAt+8:], 0xB1B0AFBA-checksum(out)) // OpenType, head
	return out
}

// checksum is the sum of a table's words (OpenType, "Calculating Checksums").
func checksum(table []byte) uint32 {
	var sum uint32
	for i := 0; i < len(table); i += 4 {
		var word [4]byte
		copy(word[:], table[i:])
		sum += binary.BigEndian.Uint32(word[:])
	}
	return sum
}
