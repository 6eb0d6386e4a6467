package unit

// A dash between numbers without a unit at the first can join feet to inches
// (2-4-1/2, 100-0), a whole number to its fraction (1-1/2) or the ends of a
// range (2-4). What is possible is told from the numbers; only a single
// possibility is taken.

// dashed says that a dash stands right after a number before any unit.
func (ts *tokens) dashed(i int) bool {
	for ; i < ts.n; i++ {
		switch ts.kind(i) {
		case numberToken, '/':
		case '-':
			return ts.kind(i-1) == numberToken
		default:
			return false
		}
	}
	return false
}

// dashes are the parts of a dashed text.
type dashes struct {
	a, b, c    mixed // c only where three parts stand
	three      bool
	i, j, k, l int // where a, b, c and the unit begin
	end        int // after the unit
	unit       lengthUnit
	named      bool // a unit stands at the end
}

// readDashes splits a dashed text.
func (ts *tokens) readDashes(i int, improper bool) (d dashes, p problem) {
	d.i = i
	if d.a, d.j, p = ts.mixed(i, improper); p.kind != "" {
		return d, p
	}
	if ts.kind(d.j) != '-' {
		return d, ts.at(BadNumber, d.j)
	}
	d.j++
	if d.b, d.l, p = ts.mixed(d.j, improper); p.kind != "" {
		return d, p
	}
	if ts.kind(d.l) == '-' && d.b.integer() {
		d.three, d.k = true, d.l+1
		if d.c, d.l, p = ts.mixed(d.k, improper); p.kind != "" {
			return d, p
		}
		if !d.c.pure() {
			return d, ts.at(BadNumber, d.k)
		}
	}
	if d.end = d.l; d.l < ts.n {
		if d.unit, d.named = ts.lengthUnit(d.l); !d.named {
			return d, ts.notUnit(d.l)
		}
		d.end++
	}
	if d.end < ts.n {
		return d, ts.at(BadNumber, d.end)
	}
	return d, problem{}
}

// dashed reads a dashed text where it has one meaning, else lists what it has.
func (r Reader) dashed(ts *tokens, i int, improper bool) (sum, problem) {
	d, p := ts.readDashes(i, improper)
	if p.kind != "" {
		return sum{}, p
	}
	if d.b.pure() && !d.three && d.a.integer() {
		return r.joined(ts, d)
	}
	p = problem{kind: Ambiguous}
	if !d.named || d.unit == inches {
		p.alts = append(p.alts, r.feetInches(ts, d)...)
	}
	if !d.three && rises(d.a, d.b) {
		u := r.Bare.unit()
		if d.named {
			u = d.unit
		}
		p.alts = append(p.alts, alternative{only: true,
			text: ts.text(0, d.j-1) + " " + u.name + " … " + ts.text(d.j, d.l) + " " + u.name})
	}
	if len(p.alts) == 0 {
		return sum{}, ts.at(BadNumber, d.j-1)
	}
	return sum{}, p
}

// joined is 1-1/2: with a unit it is a mixed number, without one it may be
// inches, the reader's scale, or feet and a part of an inch.
func (r Reader) joined(ts *tokens, d dashes) (sum, problem) {
	plain := ts.text(0, d.j-1) + " " + ts.text(d.j, d.l)
	if !d.named {
		return sum{}, problem{kind: Ambiguous, alts: []alternative{
			{text: plain + " in"}, {text: plain + " " + r.Bare.unit().name},
			{text: ts.text(0, d.j-1) + "'-0 " + ts.text(d.j, d.l) + "\""}}}
	}
	_, neg := ts.sign()
	s := sum{neg: neg}
	if d.b.num >= d.b.den {
		return s, ts.at(BadFraction, d.j)
	}
	m := mixed{d: d.a.d, num: d.b.num, den: d.b.den, whole: true}
	s.add(term{m, d.unit})
	return s, problem{}
}

// feetInches is the alternative that takes the first dash for the foot mark.
// Where a bare number is not in feet it needs an inch mark to be accepted.
func (r Reader) feetInches(ts *tokens, d dashes) []alternative {
	rest := ts.text(d.j, d.l)
	if d.three {
		rest = ts.text(d.j, d.k-1) + " " + ts.text(d.k, d.l)
	}
	text := ts.text(0, d.j-1) + "'-" + rest + "\""
	if _, p := r.length(text, false); p.kind != "" {
		return nil
	}
	return []alternative{{text: text, only: !d.named && r.Bare != Feet}}
}

// rises says that a range from a to b is possible: people write the smaller
// first.
func rises(a, b mixed) bool {
	va, okA := a.ratio()
	vb, okB := b.ratio()
	return !okA || !okB || va.less(vb)
}
