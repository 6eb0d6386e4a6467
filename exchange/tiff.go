package exchange

import (
	"encoding/binary"
	"math"
	"strconv"

	"spadework/engine/phrase"
)

// The tags of TIFF 6.0 (1992) that a grid of elevations needs, and those of
// GeoTIFF 1.1 (OGC 19-008r4, annex D) and GDAL that say where it lies.
const (
	tagSubfile      = 254
	tagWidth        = 256
	tagHeight       = 257
	tagBits         = 258
	tagCompression  = 259
	tagPhotometric  = 262
	tagFillOrder    = 266
	tagStripOffsets = 273
	tagSamples      = 277
	tagStripRows    = 278
	tagStripBytes   = 279
	tagPredictor    = 317
	tagTileWidth    = 322
	tagTileHeight   = 323
	tagTileOffsets  = 324
	tagTileBytes    = 325
	tagSampleFormat = 339

	tagPixelScale     = 33550
	tagTiepoint       = 33922
	tagTransformation = 34264
	tagGeoKeys        = 34735
	tagGeoDoubles     = 34736
	tagGDALMetadata   = 42112
	tagGDALNoData     = 42113
)

// maxDirectories bounds the chain of images of a file.
const maxDirectories = 64

// tiffFile is the bytes of a TIFF or BigTIFF file.
type tiffFile struct {
	data  []byte
	order binary.ByteOrder
	big   bool // BigTIFF: offsets of eight bytes
}

// tiffTag is the values of one tag as they lie in the file.
type tiffTag struct {
	kind  uint16
	count uint64
	data  []byte
}

// tiffTags are the tags of one image.
type tiffTags map[uint16]tiffTag

// tagPlace is where the fault of a tag is told to be.
func tagPlace(tag uint16) phrase.Place { return phrase.Place{Path: "tag " + strconv.Itoa(int(tag))} }

func tiffFault(key phrase.Key, at phrase.Place, args ...phrase.Arg) *phrase.Fault {
	return phrase.NewFault(phrase.New(key, args...), phrase.New(key+".remedy", args...)).At(at)
}

// isTIFF says that the bytes begin as a TIFF file does.
func isTIFF(data []byte) bool {
	if len(data) < 4 {
		return false
	}
	switch string(data[:4]) {
	case "II*\x00", "MM\x00*", "II+\x00", "MM\x00+":
		return true
	}
	return false
}

// readTIFF reads the tags of the one full image of a file. Images made smaller
// from it (NewSubfileType, bit 0) are passed over.
func readTIFF(data []byte) (*tiffFile, tiffTags, *phrase.Fault) {
	if !isTIFF(data) {
		return nil, nil, tiffFault("exchange.tiff", phrase.Place{})
	}
	f := &tiffFile{data: data, order: binary.LittleEndian}
	if data[0] == 'M' {
		f.order = binary.BigEndian
	}
	f.big = f.order.Uint16(data[2:]) == 43
	at, ok := f.first()
	var image tiffTags
	for n := 0; ok && at != 0; n++ {
		var tags tiffTags
		if n == maxDirectories {
			return nil, nil, tiffFault("exchange.tiff_images", phrase.Place{})
		}
		if tags, at, ok = f.directory(at); !ok {
			break
		}
		kind, _ := f.whole(tags, tagSubfile, 0)
		if kind&1 != 0 {
			continue
		}
		if image != nil || kind != 0 {
			return nil, nil, tiffFault("exchange.tiff_images", phrase.Place{})
		}
		image = tags
	}
	if !ok || image == nil {
		return nil, nil, tiffFault("exchange.tiff", phrase.Place{})
	}
	return f, image, nil
}

// at is n bytes from an offset, nil beyond the file.
func (f *tiffFile) at(offset, n uint64) []byte {
	size := uint64(len(f.data))
	if offset > size || n > size-offset {
		return nil
	}
	return f.data[offset : offset+n]
}

// first is the offset of the first directory.
func (f *tiffFile) first() (uint64, bool) {
	if !f.big {
		b := f.at(4, 4)
		if b == nil {
			return 0, false
		}
		return uint64(f.order.Uint32(b)), true
	}
	b := f.at(4, 12)
	if b == nil || f.order.Uint16(b) != 8 || f.order.Uint16(b[2:]) != 0 {
		return 0, false
	}
	return f.order.Uint64(b[4:]), true
}

// directory reads the tags at an offset and gives the offset of the next.
func (f *tiffFile) directory(at uint64) (tags tiffTags, next uint64, ok bool) {
	head, entry, word := uint64(2), uint64(12), uint64(4)
	if f.big {
		head, entry, word = 8, 20, 8
	}
	b := f.at(at, head)
	if b == nil {
		return nil, 0, false
	}
	n := uint64(f.order.Uint16(b))
	if f.big {
		n = f.order.Uint64(b)
	}
	if n > math.MaxUint16 {
		return nil, 0, false
	}
	list := f.at(at+head, n*entry+word)
	if list == nil {
		return nil, 0, false
	}
	tags = tiffTags{}
	for i := range n {
		id, tag, ok := f.entry(list[i*entry : (i+1)*entry])
		if !ok {
			return nil, 0, false
		}
		tags[id] = tag
	}
	return tags, f.word(list[n*entry:]), true
}

// word is an offset or a count.
func (f *tiffFile) word(b []byte) uint64 {
	if f.big {
		return f.order.Uint64(b)
	}
	return uint64(f.order.Uint32(b))
}

// kindSizes are the bytes of a value by its type (TIFF 6.0 section 2, BigTIFF).
var kindSizes = [19]uint64{1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4, 16: 8, 17: 8, 18: 8}

// entry reads one tag; values that do not fit the entry lie at its offset. A tag
// of an unknown type is kept without values.
func (f *tiffFile) entry(b []byte) (uint16, tiffTag, bool) {
	id := f.order.Uint16(b)
	t := tiffTag{kind: f.order.Uint16(b[2:]), count: f.word(b[4:])}
	if int(t.kind) >= len(kindSizes) || kindSizes[t.kind] == 0 {
		return id, tiffTag{}, true
	}
	if t.count > uint64(len(f.data)) {
		return id, t, false
	}
	size := t.count * kindSizes[t.kind]
	value := b[8:]
	if f.big {
		value = b[12:]
	}
	if size <= uint64(len(value)) {
		t.data = value[:size]
		return id, t, true
	}
	t.data = f.at(f.word(value), size)
	return id, t, t.data != nil
}

// wholes are the values of a tag of whole numbers, nil where it has none.
func (f *tiffFile) wholes(tags tiffTags, tag uint16) []uint64 {
	t := tags[tag]
	var read func(b []byte) uint64
	switch t.kind {
	case 1:
		read = func(b []byte) uint64 { return uint64(b[0]) }
	case 3:
		read = func(b []byte) uint64 { return uint64(f.order.Uint16(b)) }
	case 4, 13:
		read = func(b []byte) uint64 { return uint64(f.order.Uint32(b)) }
	case 16, 18:
		read = f.order.Uint64
	default:
		return nil
	}
	out := make([]uint64, t.count)
	for i := range out {
		out[i] = read(t.data[uint64(i)*kindSizes[t.kind]:])
	}
	return out
}

// whole is the one value of a tag, otherwise where it is absent. ok is false
// where it has several or is no whole number.
func (f *tiffFile) whole(tags tiffTags, tag uint16, otherwise uint64) (v uint64, ok bool) {
	if _, there := tags[tag]; !there {
		return otherwise, true
	}
	list := f.wholes(tags, tag)
	if len(list) != 1 {
		return otherwise, false
	}
	return list[0], true
}

// doubles are the values of a tag of doubles, nil where it is absent or not of
// finite figures.
func (f *tiffFile) doubles(tags tiffTags, tag uint16) []float64 {
	t := tags[tag]
	if t.kind != 12 {
		return nil
	}
	out := make([]float64, t.count)
	for i := range out {
		out[i] = math.Float64frombits(f.order.Uint64(t.data[8*i:]))
		if out[i]-out[i] != 0 {
			return nil
		}
	}
	return out
}

// text is the value of a tag of text without its end mark.
func (tags tiffTags) text(tag uint16) (string, bool) {
	t, there := tags[tag]
	if !there || t.kind != 2 {
		return "", there
	}
	b := t.data
	for len(b) > 0 && b[len(b)-1] == 0 {
		b = b[:len(b)-1]
	}
	return string(b), true
}
