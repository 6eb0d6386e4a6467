package exchange

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
	"math"

	"golang.org/x/image/tiff/lzw"

	"spadework/engine/phrase"
)

// samples reads every figure, row by row from the first, which GeoTIFF has in
// the north. Figures of blocks that are left out are NaN.
func (m *tiffImage) samples() ([]float64, *phrase.Fault) {
	out := make([]float64, m.cols*m.rows)
	var block []byte
	for i := range m.offsets {
		if m.absent(i) {
			m.fill(out, i, func(int) float64 { return math.NaN() })
			continue
		}
		need := m.blockBytes(i)
		if cap(block) < need {
			block = make([]byte, need)
		}
		block = block[:need]
		packed := m.file.at(m.offsets[i], m.counts[i])
		if err := unpack(block, packed, m.compression); err != nil {
			return nil, m.short(i)
		}
		m.undoPredictor(block)
		m.fill(out, i, func(k int) float64 { return m.sample(block[k*m.bytes:]) })
	}
	return out, nil
}

// fill sets the cells of the image that lie in block i.
func (m *tiffImage) fill(out []float64, i int, figure func(k int) float64) {
	left, top := i%m.across()*m.blockCols, i/m.across()*m.blockRows
	for r := range min(m.blockRows, m.rows-top) {
		for c := range min(m.blockCols, m.cols-left) {
			out[(top+r)*m.cols+left+c] = figure(r*m.blockCols + c)
		}
	}
}

// unpack fills out from packed bytes; what is left of them is passed over.
func unpack(out, packed []byte, compression uint64) error {
	var from io.Reader = bytes.NewReader(packed)
	switch compression {
	case compressionPackBits:
		return unpackBits(out, packed)
	case compressionLZW:
		from = lzw.NewReader(from, lzw.MSB, 8)
	case compressionDeflate, compressionOldDeflate:
		z, err := zlib.NewReader(from)
		if err != nil {
			return err
		}
		from = z
	}
	_, err := io.ReadFull(from, out)
	return err
}

// unpackBits undoes PackBits (TIFF 6.0 section 9): a byte n from 0 to 127 leads
// n + 1 bytes as they are, one from 129 to 255 repeats the next 257 − n times.
func unpackBits(out, packed []byte) error {
	for len(out) > 0 {
		if len(packed) < 2 {
			return io.ErrUnexpectedEOF
		}
		n := int(packed[0])
		packed = packed[1:]
		switch {
		case n < 128:
			k := copy(out, packed[:min(n+1, len(packed))])
			out, packed = out[k:], packed[k:]
		case n > 128:
			k := min(257-n, len(out))
			for i := range k {
				out[i] = packed[0]
			}
			out, packed = out[k:], packed[1:]
		}
	}
	return nil
}

// undoPredictor turns differences along each row into the samples themselves.
func (m *tiffImage) undoPredictor(block []byte) {
	width := m.blockCols * m.bytes
	var planes []byte
	for ; len(block) >= width; block = block[width:] {
		switch m.predictor {
		case predictorHorizontal:
			m.addAlong(block[:width])
		case predictorFloat:
			planes = append(planes[:0], block[:width]...)
			m.joinPlanes(block[:width], planes)
		}
	}
}

// addAlong undoes horizontal differencing (TIFF 6.0 section 14): each sample is
// told as its difference from the one before, as whole numbers of its size that
// wrap around.
func (m *tiffImage) addAlong(row []byte) {
	order := m.file.order
	for k := m.bytes; k < len(row); k += m.bytes {
		before, here := row[k-m.bytes:], row[k:]
		switch m.bytes {
		case 1:
			here[0] += before[0]
		case 2:
			order.PutUint16(here, order.Uint16(here)+order.Uint16(before))
		case 4:
			order.PutUint32(here, order.Uint32(here)+order.Uint32(before))
		case 8:
			order.PutUint64(here, order.Uint64(here)+order.Uint64(before))
		}
	}
}

// joinPlanes undoes the predictor of floats (TIFF Technical Note 3): the bytes of
// a row, told as differences, lie in planes from the most significant on.
func (m *tiffImage) joinPlanes(row, planes []byte) {
	for k := 1; k < len(planes); k++ {
		planes[k] += planes[k-1]
	}
	cols := len(row) / m.bytes
	for c := range cols {
		for b := range m.bytes {
			at := b
			if m.file.order == binary.ByteOrder(binary.LittleEndian) {
				at = m.bytes - 1 - b
			}
			row[c*m.bytes+at] = planes[b*cols+c]
		}
	}
}

// sample is a figure of the image.
func (m *tiffImage) sample(b []byte) float64 {
	order := m.file.order
	switch m.bytes {
	case 1:
		if m.format == formatSigned {
			return float64(int8(b[0]))
		}
		return float64(b[0])
	case 2:
		v := order.Uint16(b)
		if m.format == formatSigned {
			return float64(int16(v))
		}
		return float64(v)
	case 4:
		v := order.Uint32(b)
		switch m.format {
		case formatSigned:
			return float64(int32(v))
		case formatFloat:
			return float64(math.Float32frombits(v))
		}
		return float64(v)
	}
	v := order.Uint64(b)
	switch m.format {
	case formatSigned:
		return float64(int64(v))
	case formatFloat:
		return math.Float64frombits(v)
	}
	return float64(v)
}
