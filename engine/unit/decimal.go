package unit

import "math/big"

// maxDigits is how many significant digits fit a uint64 whatever they are.
const maxDigits = 18

// decimal is mant/10^scale.
type decimal struct {
	mant  uint64
	scale int
	whole int  // digits before the mark
	lead0 bool // written with a leading zero, as no thousands are
}

// powersOfTen fit a uint64.
var powersOfTen = [...]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
	1e16, 1e17, 1e18, 1e19}

// ratio is d as a ratio; ok is false where it does not fit.
func (d decimal) ratio() (out ratio, ok bool) {
	if d.scale >= len(powersOfTen) {
		return one, false
	}
	return ratio{d.mant, powersOfTen[d.scale]}, true
}

// rat is d in arbitrary precision.
func (d decimal) rat() *big.Rat {
	den := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(d.scale)), nil)
	return new(big.Rat).SetFrac(new(big.Int).SetUint64(d.mant), den)
}

// push adds a digit; it reports whether there is room.
func (d *decimal) push(digit byte, fraction bool) bool {
	if d.mant >= powersOfTen[maxDigits-1] {
		return false
	}
	d.mant = d.mant*10 + uint64(digit-'0')
	if fraction {
		d.scale++
	} else {
		d.whole++
	}
	return true
}

// bareDecimal reads [-+]digits[.digits], nothing else: what most numbers of a
// job file are. It does not allocate. The comma stands for the point if asked.
func bareDecimal(text string, comma bool) (d decimal, neg, ok bool) {
	if len(text) > maxText {
		return d, false, false // as with blanks around it
	}
	if text != "" && (text[0] == '-' || text[0] == '+') {
		neg, text = text[0] == '-', text[1:]
	}
	mark, point := byte('.'), -1
	if comma {
		mark = ','
	}
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case c == mark && point < 0:
			point = i
		case c < '0' || c > '9' || !d.push(c, point >= 0):
			return d, neg, false
		}
	}
	return d, neg, d.whole > 0 && (point < 0 || d.scale > 0)
}

// marks is the place of the decimal mark in a run of digits, points and
// commas, and the mark that groups thousands, 0 if none. With ambiguous set the
// only mark may be either, and stands at point.
type marks struct {
	point     int
	group     byte
	ambiguous bool
}

// findMarks decides what the points and commas of a run mean. A lone point is
// decimal; a lone comma is decimal unless it could group thousands; with comma
// set it is the other way round. Two sorts: the last is decimal. One sort
// twice: thousands.
func findMarks(run []byte, comma bool) (m marks, ok bool) {
	var last byte
	at, points, commas := -1, 0, 0
	for i, c := range run {
		switch c {
		case '.':
			points++
		case ',':
			commas++
		default:
			continue
		}
		last, at = c, i
	}
	switch {
	case points+commas == 0:
		return marks{point: -1}, true
	case points+commas == 1:
		other := (last == '.') == comma
		return marks{point: at, ambiguous: other && grouped(run, last)}, at < len(run)-1
	case points == 0 || commas == 0:
		return marks{point: -1, group: last}, grouped(run, last)
	}
	group := byte('.')
	if last == '.' {
		group = ','
	}
	one := last == '.' && points == 1 || last == ',' && commas == 1
	return marks{point: at, group: group}, one && at < len(run)-1 && grouped(run[:at], group)
}

// grouped says that mark splits run into thousands: one to three digits without
// a leading zero, then threes.
func grouped(run []byte, mark byte) bool {
	size, first := 0, true
	for _, c := range run {
		if c != mark {
			size++
			continue
		}
		if first && (size == 0 || size > 3) || !first && size != 3 {
			return false
		}
		size, first = 0, false
	}
	return !first && size == 3 && run[0] != '0'
}

// readDecimal reads a run of digits, points and commas.
func readDecimal(run []byte, comma bool) (d decimal, ambiguous bool, bad Kind) {
	m, ok := findMarks(run, comma)
	if !ok {
		return d, false, BadNumber
	}
	d.lead0 = len(run) > 1 && run[0] == '0' && m.point != 1
	for i, c := range run {
		if i == m.point || c == m.group {
			continue
		}
		if !d.push(c, m.point >= 0 && i > m.point) {
			return d, false, Digits
		}
	}
	return d, m.ambiguous, ""
}
