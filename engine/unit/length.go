package unit

// lengthLimit is in metres: no job is larger, and within it whole micrometres
// are exact in a float64.
const lengthLimit = 10_000_000

// Length reads a length as people write it: 16 in, 2'-4 1/2", 1.33', 410 mm,
// 0,41 m; a bare number is in the reader's scale and, where that is feet,
// 2-4-1/2 is feet, inches and a fraction. The result is the float64 nearest to
// what is written. Errors are *ParseError: an ambiguous text (1,234 or 5 1/2
// without a unit), more than 1e7 m, NaN, an exponent, a text that is no length.
func (r Reader) Length(text string) (Length, error) {
	x, err := r.exactLength(text, "length")
	if err != nil {
		return 0, err
	}
	return Length(x.float64()), nil
}

// exactLength reads a length for one of the quantities that are lengths.
func (r Reader) exactLength(text, quantity string) (exact, error) {
	if d, neg, ok := bareDecimal(text, r.Comma); ok {
		s := sum{neg: neg, n: 1}
		s.terms[0] = term{mixed{d: d}, r.Bare.unit()}
		if x := s.exact(); !x.over(lengthLimit) {
			return x, nil
		}
	}
	s, p := r.length(text, false)
	if p.kind == Ambiguous {
		return r.onlyLength(text, quantity, p)
	}
	if p.kind != "" {
		return exact{}, p.error(text, quantity)
	}
	return s.exact(), nil
}

// length reads a text that must have one meaning as it stands.
func (r Reader) length(text string, improper bool) (sum, problem) {
	var ts tokens
	if p := ts.read(text, r.Comma); p.kind != "" {
		return sum{}, ts.quote(p)
	}
	s, p := r.lengthTokens(&ts, improper)
	if p.kind == "" {
		if x := s.exact(); x.over(lengthLimit) {
			p = problem{kind: TooLarge, limit: "10 000 km"}
		}
	}
	return s, ts.quote(p)
}

// lengthTokens reads [sign] term… .
func (r Reader) lengthTokens(ts *tokens, improper bool) (s sum, p problem) {
	if p := ts.either(); p.kind != "" {
		return s, p
	}
	i, neg := ts.sign()
	s.neg = neg
	if ts.dashed(i) {
		return r.dashed(ts, i, improper)
	}
	for first := true; first || i < ts.n; first = false {
		if i, p = r.term(ts, i, &s, improper); p.kind != "" {
			return s, p
		}
	}
	return s, problem{}
}

// term reads number and unit at token i into s.
func (r Reader) term(ts *tokens, i int, s *sum, improper bool) (next int, p problem) {
	if s.n > 0 && ts.kind(i) == '-' {
		i++
	}
	m, next, p := ts.hyphened(i, improper)
	if p.kind != "" {
		return next, p
	}
	t := term{m: m}
	var ok bool
	if t.unit, ok = ts.lengthUnit(next); ok {
		next++
	} else if next < ts.n {
		return next, ts.notUnit(next)
	} else if t.unit, p = r.implied(ts, s, m); p.kind != "" {
		return next, p
	}
	if p := s.follows(ts, t, i); p.kind != "" {
		return next, p
	}
	if !s.add(t) {
		return next, ts.at(MixedUnits, i)
	}
	return next, problem{}
}

// notUnit is the problem of a token that stands where a unit should.
func (ts *tokens) notUnit(i int) problem {
	switch ts.kind(i) {
	case wordToken:
		return ts.at(UnknownUnit, i)
	case '%', degreeMark:
		return ts.at(WrongUnit, i)
	}
	return ts.at(BadNumber, i)
}

// implied is the unit of a last number that has none: inches after feet, else
// the reader's scale. A fraction alone may be of an inch whatever the scale.
func (r Reader) implied(ts *tokens, s *sum, m mixed) (lengthUnit, problem) {
	switch {
	case s.n > 0 && s.terms[s.n-1].unit == feet:
		return inches, problem{}
	case s.n > 0:
		return lengthUnit{}, problem{kind: MissingUnit}
	case m.den > 0:
		plain := ts.text(0, ts.n)
		return lengthUnit{}, problem{kind: Ambiguous,
			alts: []alternative{{text: plain + " in"}, {text: plain + " " + r.Bare.unit().name}}}
	}
	return r.Bare.unit(), problem{}
}

// follows checks a term against the one before it: units of one system fall,
// what comes before the last is whole, and what follows is less than one of
// the unit before.
func (s *sum) follows(ts *tokens, t term, i int) problem {
	if s.n == 0 {
		return problem{}
	}
	before := s.terms[s.n-1]
	falls := t.unit.system == before.unit.system && t.unit.size.less(before.unit.size)
	if !falls && ts.kind(i-1) == '-' {
		return problem{kind: Range}
	}
	if !falls || !before.m.integer() || before.unit == surveyFeet {
		return ts.at(MixedUnits, i)
	}
	if v, ok := t.value(); !ok || !v.less(before.unit.size) {
		return ts.at(InchesOver, i)
	}
	return problem{}
}
