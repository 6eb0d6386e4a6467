package unit

import "strings"

// Station reads a station: full hundreds of feet and two digits, 8+50.25, or
// full kilometres and three, 0+125.5; also a plain length, 850 or 850 ft.
func (r Reader) Station(text string) (Station, error) {
	var ts tokens
	if strings.LastIndexByte(text, '+') > 0 && ts.read(text, r.Comma).kind == "" {
		if i, neg := ts.sign(); ts.kind(i) == numberToken && ts.kind(i+1) == '+' {
			return r.plusStation(&ts, text, i, neg)
		}
	}
	x, err := r.exactLength(text, "station")
	if err != nil {
		return 0, err
	}
	return Station(x.float64()), nil
}

// plusStation reads n+n. The digits before the decimal mark are counted, so
// that a comma can only be decimal.
func (r Reader) plusStation(ts *tokens, text string, i int, neg bool) (Station, error) {
	digits, full := 2, ratio{100, 1}
	if r.Bare == Metres {
		digits, full = 3, ratio{1000, 1}
	}
	a, b := ts.list[i], ts.list[i+2]
	bad := ts.at(StationDigits, i+2)
	bad.limit = string(rune('0' + digits))
	switch {
	case ts.kind(i+2) != numberToken:
		bad = ts.at(BadNumber, i+2)
	case !a.integer():
		bad = ts.at(BadNumber, i)
	case i+3 < ts.n:
		bad = ts.at(BadNumber, i+3)
	case b.d.whole == digits:
		s := sum{neg: neg}
		size, _ := full.times(r.Bare.unit().size)
		s.add(term{mixed{d: a.d}, lengthUnit{size: size}})
		s.add(term{mixed{d: b.d}, r.Bare.unit()})
		x := s.exact()
		if !x.over(lengthLimit) {
			return Station(x.float64()), nil
		}
		bad = problem{kind: TooLarge, limit: "10 000 km"}
	}
	return 0, ts.quote(bad).error(text, "station")
}
