package unit

// mixed is a number as written: a decimal, a fraction or a whole number and a
// fraction.
type mixed struct {
	d        decimal
	num, den uint64 // den 0 where there is no fraction
	whole    bool   // a part before the fraction was written
}

// pure says that m is a fraction alone.
func (m mixed) pure() bool { return m.den > 0 && !m.whole }

// integer says that m has neither decimals nor a fraction.
func (m mixed) integer() bool { return m.den == 0 && m.d.scale == 0 }

// ratio is the value; ok is false where it does not fit.
func (m mixed) ratio() (ratio, bool) {
	r, ok := m.d.ratio()
	if m.den == 0 || !ok {
		return r, ok
	}
	return r.plus(ratio{m.num, m.den})
}

// maxDenominator is the largest part of a unit anybody writes as a fraction.
const maxDenominator = 10_000

// mixed reads the number at token i.
func (ts *tokens) mixed(i int, improper bool) (m mixed, next int, p problem) {
	if ts.kind(i) != numberToken {
		return m, i, ts.at(BadNumber, i)
	}
	if ts.fraction(i) {
		return ts.pureFraction(i, improper)
	}
	m.d, m.whole = ts.list[i].d, true
	next = i + 1
	for ts.group(i, next) {
		if !m.d.join(ts.list[next].d) {
			return m, next, ts.at(Digits, next)
		}
		next++
	}
	if !ts.fraction(next) {
		return m, next, problem{}
	}
	if !m.integer() {
		return m, next, ts.at(BadFraction, next)
	}
	f, next, p := ts.pureFraction(next, true)
	if p.kind == "" && f.num >= f.den {
		p = problem{kind: BadFraction, lo: ts.list[i].lo, hi: ts.list[next-1].hi}
	}
	m.num, m.den = f.num, f.den
	return m, next, p
}

// group says that token next continues the thousands that began at token i:
// 1 234.5.
func (ts *tokens) group(i, next int) bool {
	if ts.kind(next) != numberToken || ts.fraction(next) {
		return false
	}
	first, t := ts.list[i].d, ts.list[next]
	shape := first.whole > 0 && first.whole <= 3 && !first.lead0 && first.mant > 0
	return shape && ts.list[next-1].d.scale == 0 && t.spaced && t.d.whole == 3 && !t.ambiguous
}

// join appends the digits of a group of thousands.
func (d *decimal) join(g decimal) bool {
	digits := g.whole + g.scale
	if digits > maxDigits || d.mant >= powersOfTen[maxDigits-1]/powersOfTen[digits] {
		return false
	}
	d.mant = d.mant*powersOfTen[digits] + g.mant
	d.whole += g.whole
	d.scale = g.scale
	return true
}

// fraction says that token i begins whole/whole.
func (ts *tokens) fraction(i int) bool {
	return ts.kind(i) == numberToken && ts.kind(i+1) == '/' && ts.kind(i+2) == numberToken &&
		ts.list[i].integer() && ts.list[i+2].integer()
}

// integer says that the number has no mark at all.
func (t token) integer() bool { return t.d.scale == 0 && !t.ambiguous }

// pureFraction reads whole/whole. Over one with two digits above, 11/2, it may
// be 1 1/2 that lost its space.
func (ts *tokens) pureFraction(i int, improper bool) (m mixed, next int, p problem) {
	next = i + 3
	m.num, m.den = ts.list[i].d.mant, ts.list[i+2].d.mant
	if m.den == 0 || m.den > maxDenominator || m.num > maxDenominator*maxDenominator {
		return m, next, problem{kind: BadFraction, lo: ts.list[i].lo, hi: ts.list[next-1].hi}
	}
	if m.num > m.den && m.num >= 10 && !improper {
		return m, next, ts.lostSpace(i, m)
	}
	return m, next, problem{}
}

// lostSpace lists what 11/2 can mean; zero if it can mean only that.
func (ts *tokens) lostSpace(i int, m mixed) problem {
	before, after := string(ts.buf[:ts.list[i].lo]), string(ts.buf[ts.list[i].lo:ts.size])
	p := problem{kind: Ambiguous, lo: ts.list[i].lo, hi: ts.list[i+2].hi}
	p.alts = append(p.alts, alternative{text: before + after, improper: true})
	digits := ts.list[i].hi - ts.list[i].lo
	for cut := 1; cut < digits; cut++ {
		low := m.num
		if rest := digits - cut; rest < len(powersOfTen) { // more are leading zeros
			low %= powersOfTen[rest]
		}
		if after[cut] != '0' && low < m.den {
			p.alts = append(p.alts, alternative{text: before + after[:cut] + " " + after[cut:]})
		}
	}
	if len(p.alts) == 1 {
		return problem{}
	}
	return p
}

// either lists both meanings of a number whose only mark may be decimal or
// group thousands; zero if there is none.
func (ts *tokens) either() problem {
	for i := 0; i < ts.n; i++ {
		t := ts.list[i]
		if !t.ambiguous {
			continue
		}
		mark, at := ".", t.lo+t.d.whole
		if ts.comma {
			mark = ","
		}
		before, after := string(ts.buf[:at]), string(ts.buf[at+1:ts.size])
		return problem{kind: Ambiguous, lo: t.lo, hi: t.hi,
			alts: []alternative{{text: before + mark + after}, {text: before + after}}}
	}
	return problem{}
}
