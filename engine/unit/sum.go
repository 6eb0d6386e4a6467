package unit

import "math/big"

// maxTerms is how many units one length is written in: yards, feet, inches.
const maxTerms = 4

// term is a number of units.
type term struct {
	m    mixed
	unit lengthUnit
}

// value is the term in metres; ok is false where it does not fit.
func (t term) value() (ratio, bool) {
	r, ok := t.m.ratio()
	if !ok {
		return r, false
	}
	return r.times(t.unit.size)
}

// rat is the term in metres.
func (t term) rat() *big.Rat {
	r := t.m.d.rat()
	if t.m.den > 0 {
		r.Add(r, ratio{t.m.num, t.m.den}.rat())
	}
	return r.Mul(r, t.unit.size.rat())
}

// sum is a length as written.
type sum struct {
	neg   bool
	terms [maxTerms]term
	n     int
}

// add appends a term and reports whether there was room.
func (s *sum) add(t term) bool {
	if s.n == maxTerms {
		return false
	}
	s.terms[s.n] = t
	s.n++
	return true
}

// exact is the value in metres.
func (s *sum) exact() exact {
	total := ratio{0, 1}
	for _, t := range s.terms[:s.n] {
		v, ok := t.value()
		if ok {
			total, ok = total.plus(v)
		}
		if !ok {
			return exact{neg: s.neg, big: s.rat()}
		}
	}
	return exact{neg: s.neg, r: total}
}

// rat is the value without its sign.
func (s *sum) rat() *big.Rat {
	total := new(big.Rat)
	for _, t := range s.terms[:s.n] {
		total.Add(total, t.rat())
	}
	return total
}
