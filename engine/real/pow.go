// Copyright 2009 The Go Authors. All rights reserved.
// Use of this source code is governed by a BSD-style license: see NOTICE.

package real

import "math"

// Pow is x to the y: the whole part of y by squaring, so that small whole powers
// of small numbers are exact, the rest by Exp and Log. Within 3 ulp for
// |y| ≤ 4 at any x; the error grows with |y|. Special cases are those of math.Pow: 1 for
// y = 0 even at NaN, NaN for x < 0 and y not whole.
func Pow(x, y float64) float64 {
	if v, special := powSpecial(x, y); special {
		return v
	}
	whole, part := math.Modf(math.Abs(y))
	if part != 0 && x < 0 {
		return math.NaN()
	}
	if whole >= 1<<63 {
		return powHuge(x, y)
	}
	m, twos := 1.0, 0
	if part != 0 {
		if part > 0.5 {
			part--
			whole++
		}
		m, twos = powPart(x, part)
	}
	m, e := powWhole(m, x, int64(whole))
	e += twos
	if y < 0 {
		m, e = 1/m, -e
	}
	return math.Ldexp(m, e)
}

// powPart is x to a part from −½ to ½, x > 0, as fraction and power of two. The
// two of x are split off first: part·Log(x) as a whole would be large for large x,
// and Exp turns its rounding into many ulp (8 at 4.6e7 to the 2/3).
func powPart(x, part float64) (fraction float64, exponent int) {
	f, e := math.Frexp(x)
	if f < math.Sqrt2/2 {
		f, e = 2*f, e-1
	}
	high := math.Float64frombits(math.Float64bits(part) &^ (1<<13 - 1)) // e·high is exact: 11 + 40 bits
	whole := math.Round(float64(float64(e) * high))
	rest := float64(float64(e)*high) - whole + float64(float64(e)*(part-high))
	return Exp(float64(part*Log(f)) + float64(rest*math.Ln2)), int(whole)
}

// powWhole is m·x to the n, n ≥ 0, as fraction and power of two.
func powWhole(m, x float64, n int64) (fraction float64, exponent int) {
	f, e := math.Frexp(x)
	for ; n != 0; n >>= 1 {
		if e < -1<<12 || 1<<12 < e {
			return m, exponent + e // past every float64
		}
		if n&1 == 1 {
			m = float64(m * f)
			exponent += e
		}
		f = float64(f * f)
		e <<= 1
		if f < 0.5 {
			f += f
			e--
		}
	}
	return m, exponent
}

// powSpecial answers the arguments that need no arithmetic.
func powSpecial(x, y float64) (v float64, special bool) {
	switch {
	case y == 0 || x == 1:
		return 1, true
	case y == 1:
		return x, true
	case math.IsNaN(x) || math.IsNaN(y):
		return math.NaN(), true
	case x == 0:
		return powOfZero(x, y), true
	case math.IsInf(y, 0):
		return powHuge(x, y), true
	case math.IsInf(x, -1):
		return powOfZero(1/x, -y), true
	case math.IsInf(x, 1):
		return powHuge(x, y), true
	case y == 0.5:
		return math.Sqrt(x), true
	case y == -0.5:
		return 1 / math.Sqrt(x), true
	}
	return 0, false
}

// powOfZero is 0 or −0 to the y, y ≠ 0.
func powOfZero(x, y float64) float64 {
	v := 0.0
	if y < 0 {
		v = math.Inf(1)
	}
	if math.Signbit(x) && math.Abs(math.Mod(y, 2)) == 1 {
		return -v
	}
	return v
}

// powHuge is x to the y where the size of y, or of x, leaves 0, 1 or +Inf.
func powHuge(x, y float64) float64 {
	switch {
	case x == -1:
		return 1
	case (math.Abs(x) < 1) == (y > 0):
		return 0
	}
	return math.Inf(1)
}
