package unit

import (
	"math"
	"strconv"
)

// unknown is what prints for NaN and for figures that no job has.
const unknown = "—"

// tie is how near to half a step, in steps, a figure counts as the half. A
// float64 cannot hold 1 1/2 in, which is exactly 0.125 ft; without this it
// would print as 0.12 or 0.13 by its last bit. A millionth of the finest step
// is under a nanometre.
const tie = 1e-6

// maxSteps keeps steps exact in a float64 and in an int64.
const maxSteps = 1 << 53

// steps is x, in steps, as a whole number, halves away from zero; ok is false
// for NaN and for what does not fit.
func steps(x float64) (n int64, ok bool) {
	if !(math.Abs(x) < maxSteps) {
		return 0, false
	}
	whole, part := math.Modf(math.Abs(x))
	n = int64(whole)
	if part >= 0.5-tie {
		n++
	}
	if x < 0 {
		n = -n
	}
	return n, true
}

// fixed prints n/10^places.
func (s Style) fixed(n int64, places int) string {
	digits := strconv.FormatUint(magnitude(n), 10)
	for len(digits) <= places {
		digits = "0" + digits
	}
	if places > 0 {
		at := len(digits) - places
		digits = digits[:at] + s.mark() + digits[at:]
	}
	if n < 0 {
		return "-" + digits
	}
	return digits
}

// mark is the decimal mark.
func (s Style) mark() string {
	if s.Comma {
		return ","
	}
	return "."
}

// Fixed prints a bare figure with a fixed number of decimals, 0 to 6; fewer or
// more count as those. It rounds once, halves away from zero; NaN and infinities
// print as a dash.
func (s Style) Fixed(x float64, places int) string {
	places = max(0, min(places, 6))
	n, ok := steps(x * float64(powersOfTen[places]))
	if !ok {
		return unknown
	}
	return s.fixed(n, places)
}

// short prints x to at most some places, without zeros at the end.
func (s Style) short(x float64, places int) string {
	n, ok := steps(x * float64(powersOfTen[places]))
	if !ok {
		return unknown
	}
	for places > 0 && n%10 == 0 {
		n, places = n/10, places-1
	}
	return s.fixed(n, places)
}
