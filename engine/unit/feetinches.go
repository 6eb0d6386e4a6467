package unit

import "strconv"

// FeetInches is a length in feet, inches and a fraction of an inch in lowest
// terms, as a screen stacks it. Num is 0 where there is no fraction; Den then
// is 1. Neg is false for zero.
type FeetInches struct {
	Neg                    bool
	Feet, Inches, Num, Den int
}

// Split rounds a length once to 1/Fraction inch (whole inches where Fraction is
// not positive). ok is false for NaN and lengths that no job has.
func (s Style) Split(l Length) (f FeetInches, ok bool) {
	den := int64(max(s.Fraction, 1))
	n, ok := steps(float64(l) * float64(den) / float64(Inch))
	if !ok {
		return FeetInches{Den: 1}, false
	}
	f.Neg = n < 0
	n = int64(magnitude(n))
	inches, part := n/den, n%den
	g := int64(gcd(uint64(part), uint64(den)))
	f.Feet, f.Inches = int(inches/12), int(inches%12)
	f.Num, f.Den = int(part/g), int(den/g)
	return f, true
}

// String is 2'-4 1/2", and 4 1/2" under a foot.
func (f FeetInches) String() string {
	out := strconv.Itoa(f.Inches)
	if f.Num > 0 {
		fraction := strconv.Itoa(f.Num) + "/" + strconv.Itoa(f.Den)
		if out += " " + fraction; f.Inches == 0 && f.Feet == 0 {
			out = fraction
		}
	}
	out += `"`
	if f.Feet > 0 {
		out = strconv.Itoa(f.Feet) + "'-" + out
	}
	if f.Neg {
		return "-" + out
	}
	return out
}
