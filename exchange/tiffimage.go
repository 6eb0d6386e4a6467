package exchange

import (
	"math"

	"spadework/engine/phrase"
)

// tiffImage is how the samples of an image lie in its file: in blocks, which are
// tiles, or strips as wide as the image.
type tiffImage struct {
	file                 *tiffFile
	cols, rows           int
	blockCols, blockRows int
	tiled                bool
	bytes                int    // of a sample
	format               uint64 // unsigned, signed or float, as tag 339 has them
	compression          uint64
	predictor            uint64
	offsets, counts      []uint64
}

// The values of tags that are read (TIFF 6.0, and its Technical Notes).
const (
	formatUnsigned = 1
	formatSigned   = 2
	formatFloat    = 3

	compressionNone       = 1
	compressionLZW        = 5
	compressionDeflate    = 8
	compressionOldDeflate = 32946
	compressionPackBits   = 32773

	predictorNone       = 1
	predictorHorizontal = 2
	predictorFloat      = 3
)

// readImage reads how an image lies, and refuses what is no grid of elevations.
func readImage(f *tiffFile, tags tiffTags) (*tiffImage, *phrase.Fault) {
	m := &tiffImage{file: f}
	for _, step := range []func(tiffTags) *phrase.Fault{m.readSize, m.readSamples, m.readCoding, m.readBlocks} {
		if fault := step(tags); fault != nil {
			return nil, fault
		}
	}
	return m, m.believable()
}

func (m *tiffImage) readSize(tags tiffTags) *phrase.Fault {
	cols, ok := m.file.whole(tags, tagWidth, 0)
	rows, fine := m.file.whole(tags, tagHeight, 0)
	if !ok || !fine || cols < 2 || rows < 2 {
		return tiffFault("exchange.tiff_size", tagPlace(tagWidth), phrase.With("cols", int(cols)), phrase.With("rows", int(rows)))
	}
	if cols > maxGridNodes || rows > maxGridNodes/cols {
		return tiffFault("exchange.grid_large", tagPlace(tagWidth), phrase.With("limit", maxGridNodes))
	}
	m.cols, m.rows = int(cols), int(rows)
	return nil
}

// readSamples wants one figure a cell, whole or a float.
func (m *tiffImage) readSamples(tags tiffTags) *phrase.Fault {
	if n, ok := m.file.whole(tags, tagSamples, 1); !ok || n != 1 {
		return tiffFault("exchange.tiff_bands", tagPlace(tagSamples), phrase.With("count", int(n)))
	}
	if p, ok := m.file.whole(tags, tagPhotometric, 1); !ok || p != 1 {
		return tiffFault("exchange.tiff_photometric", tagPlace(tagPhotometric), phrase.With("value", int(p)))
	}
	bits, ok := m.file.whole(tags, tagBits, 1)
	format, fine := m.file.whole(tags, tagSampleFormat, formatUnsigned)
	known := bits == 32 || bits == 64 || format != formatFloat && (bits == 8 || bits == 16)
	if !ok || !fine || !known || format < formatUnsigned || format > formatFloat {
		return tiffFault("exchange.tiff_sample", tagPlace(tagBits), phrase.With("bits", int(bits)), phrase.With("format", int(format)))
	}
	m.bytes, m.format = int(bits/8), format
	return nil
}

func (m *tiffImage) readCoding(tags tiffTags) *phrase.Fault {
	var ok bool
	m.compression, ok = m.file.whole(tags, tagCompression, compressionNone)
	if !ok || mostBytes[m.compression] == 0 {
		return tiffFault("exchange.tiff_compression", tagPlace(tagCompression), phrase.With("value", int(m.compression)))
	}
	if order, ok := m.file.whole(tags, tagFillOrder, 1); !ok || order != 1 {
		return tiffFault("exchange.tiff_fill", tagPlace(tagFillOrder))
	}
	m.predictor = predictorNone
	if m.compression != compressionNone && m.compression != compressionPackBits {
		m.predictor, ok = m.file.whole(tags, tagPredictor, predictorNone)
	}
	if !ok || m.predictor < predictorNone || m.predictor > predictorFloat || m.predictor == predictorFloat && m.format != formatFloat {
		return tiffFault("exchange.tiff_predictor", tagPlace(tagPredictor), phrase.With("value", int(m.predictor)))
	}
	return nil
}

// readBlocks reads tiles or strips.
func (m *tiffImage) readBlocks(tags tiffTags) *phrase.Fault {
	offsets, counts := uint16(tagStripOffsets), uint16(tagStripBytes)
	width, height := uint64(m.cols), uint64(m.rows)
	ok, fine := true, true
	if _, m.tiled = tags[tagTileWidth]; m.tiled {
		offsets, counts = tagTileOffsets, tagTileBytes
		width, ok = m.file.whole(tags, tagTileWidth, 0)
		height, fine = m.file.whole(tags, tagTileHeight, 0)
	} else {
		height, fine = m.file.whole(tags, tagStripRows, math.MaxUint32)
		height = min(height, uint64(m.rows))
	}
	if !ok || !fine || width == 0 || height == 0 || width > maxGridNodes || height > maxGridNodes/width {
		return tiffFault("exchange.tiff_blocks", tagPlace(offsets))
	}
	m.blockCols, m.blockRows = int(width), int(height)
	m.offsets, m.counts = m.file.wholes(tags, offsets), m.file.wholes(tags, counts)
	if n := m.across() * m.down(); len(m.offsets) != n || len(m.counts) != n {
		return tiffFault("exchange.tiff_blocks", tagPlace(offsets))
	}
	return nil
}

func (m *tiffImage) across() int { return (m.cols + m.blockCols - 1) / m.blockCols }
func (m *tiffImage) down() int   { return (m.rows + m.blockRows - 1) / m.blockRows }

// mostBytes is how many bytes one byte can stand for, by compression: PackBits
// repeats 128 bytes in two; Deflate's longest match is 258 bytes in two bits; an
// LZW code of twelve bits stands for at most 4096.
var mostBytes = map[uint64]uint64{
	compressionNone: 1, compressionPackBits: 64, compressionLZW: 2731, compressionDeflate: 1032, compressionOldDeflate: 1032,
}

// believable refuses an image that promises more figures than its bytes can
// hold, before memory is asked for. Blocks that a file leaves out count too: a
// file with hardly anything in it is no survey.
func (m *tiffImage) believable() *phrase.Fault {
	sparse := uint64(0)
	for i := range m.offsets {
		need := uint64(m.blockBytes(i))
		if m.absent(i) {
			sparse += need
			continue
		}
		if m.file.at(m.offsets[i], m.counts[i]) == nil || need > m.counts[i]*mostBytes[m.compression] {
			return m.short(i)
		}
	}
	if sparse > 1<<20+4096*uint64(len(m.file.data)) {
		return m.short(0)
	}
	return nil
}

// absent says that a file leaves a block out: it has no data.
func (m *tiffImage) absent(i int) bool { return m.offsets[i] == 0 && m.counts[i] == 0 }

func (m *tiffImage) short(block int) *phrase.Fault {
	return tiffFault("exchange.tiff_short", phrase.Place{}, phrase.With("block", block+1))
}

// blockBytes are the bytes of a block's samples; the last strip has the rows that
// are left.
func (m *tiffImage) blockBytes(i int) int {
	rows := m.blockRows
	if !m.tiled {
		rows = min(rows, m.rows-i*m.blockRows)
	}
	return m.blockCols * rows * m.bytes
}
