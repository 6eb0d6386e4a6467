package record

import (
	"bytes"
	"math"
	"strconv"
)

// appendNumber appends a finite number as ECMAScript writes it (RFC 8785,
// 3.2.2.3): the fewest digits that give it back, plain from 1e-6 to 1e21, zero
// without a sign.
func appendNumber(dst []byte, v float64) []byte {
	if v == 0 {
		return append(dst, '0')
	}
	if a := math.Abs(v); a >= 1e-6 && a < 1e21 {
		return strconv.AppendFloat(dst, v, 'f', -1, 64)
	}
	from := len(dst)
	dst = strconv.AppendFloat(dst, v, 'e', -1, 64)
	if i := bytes.IndexByte(dst[from:], 'e') + from + 2; dst[i] == '0' { // e-07 is written e-7
		dst = append(dst[:i], dst[i+1:]...)
	}
	return dst
}
