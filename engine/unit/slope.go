package unit

import (
	"math"
	"math/big"
	"strings"
)

// Slope is a grade as written: an exact ratio and its own words. 1/4 in/ft and
// 2 % are different slopes.
type Slope struct {
	Rise, Run int64 // in lowest terms, Run > 0, |Rise| ≤ Run
	Words     string
}

// Grade is the nearest float64.
func (s Slope) Grade() Grade {
	x := exact{neg: s.Rise < 0, r: ratio{magnitude(s.Rise), magnitude(s.Run)}}
	return Grade(x.float64())
}

// Reversed is the slope walked the other way. Its words get or lose a minus.
func (s Slope) Reversed() Slope {
	out := Slope{Rise: -s.Rise, Run: s.Run, Words: "-" + s.Words}
	if s.Words != "" && s.Words[0] == '-' {
		out.Words = s.Words[1:]
	}
	return out
}

// String is the words, or the ratio where there are none; a dash for the zero
// Slope, which is none.
func (s Slope) String() string {
	switch {
	case s.Words != "":
		return s.Words
	case s.Run == 0:
		return unknown
	}
	return exact{neg: s.Rise < 0, r: ratio{magnitude(s.Rise), magnitude(s.Run)}}.rat().RatString()
}

func magnitude(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}

// Slope reads the grade of a line or plane, rise over horizontal run: 2 %,
// 1/4 in/ft, 1/4" per foot, 1:80, 1 in 80, 8 mm/m, 2 in/100 ft, 1/4 in in
// 10 ft, 1/48. With a colon the rise comes first. Beyond ±100 % it refuses, so
// that the 1.5:1 of a side is not taken for a grade (see Batter). A bare number
// up to 0.04 is rise over run, since as a percentage it would be flatter than
// 1/2 in in 100 ft, which nobody builds; between that and 1 it is ambiguous,
// and so is a bare fraction of an inch such as 1/4.
func (r Reader) Slope(text string) (Slope, error) { return r.slope(text, false) }

// Ratio is Slope where a bare decimal is rise over run.
func (r Reader) Ratio(text string) (Slope, error) { return r.slope(text, true) }

func (r Reader) slope(text string, bare bool) (Slope, error) {
	v, err := r.slopeRatio(text, "slope", bare)
	if err != nil {
		return Slope{}, err
	}
	if one.less(v.r) {
		return Slope{}, &ParseError{Kind: TooLarge, Quantity: "slope", Text: shorten(text), Limit: "100 %"}
	}
	if v.r.num > math.MaxInt64 || v.r.den > math.MaxInt64 {
		return Slope{}, &ParseError{Kind: Digits, Quantity: "slope", Text: shorten(text)}
	}
	s := Slope{Rise: int64(v.r.num), Run: int64(v.r.den), Words: strings.TrimSpace(text)}
	if v.neg {
		s.Rise = -s.Rise
	}
	return s, nil
}

// slopeRatio is the ratio in lowest terms.
func (r Reader) slopeRatio(text, quantity string, bare bool) (exact, error) {
	v, p := r.slopeText(text, bare)
	if p.kind != Ambiguous {
		if p.kind != "" {
			return exact{}, p.error(text, quantity)
		}
		return exact{neg: v.neg, r: v.r.reduced()}, nil
	}
	e := &ParseError{Kind: Ambiguous, Quantity: quantity, Text: shorten(text)}
	var taken []exact
	r.settleSlope(p, e, &taken, 0)
	switch {
	case len(e.Readings) == 1 && len(taken) == 1:
		return exact{neg: taken[0].neg, r: taken[0].r.reduced()}, nil
	case len(e.Readings) < 2:
		e.Kind = MissingUnit
	}
	return exact{}, e
}

// settleSlope lists the alternatives that are slopes of at most 100 %.
func (r Reader) settleSlope(p problem, e *ParseError, taken *[]exact, depth int) {
	for _, a := range p.alts {
		v, q := r.slopeTokens(a.text, a.improper)
		if q.kind == Ambiguous && depth < maxDepth {
			r.settleSlope(q, e, taken, depth+1)
		}
		if q.kind != "" || one.less(v.r) {
			continue
		}
		if e.add(a.text+inPercent(a.text, v)) && !a.only {
			*taken = append(*taken, v)
		}
	}
}

// inPercent is " (2.0833 %)", nothing where the text is in percent already.
func inPercent(text string, v exact) string {
	if strings.HasSuffix(text, "%") {
		return ""
	}
	return " (" + trimmed(new(big.Rat).Mul(v.rat(), big.NewRat(100, 1)), 4) + " %)"
}

// slopeText reads a slope, or a bare number where those are allowed.
func (r Reader) slopeText(text string, bare bool) (exact, problem) {
	if d, neg, ok := bareDecimal(text, r.Comma); ok && bare {
		v, fits := d.ratio()
		if !fits {
			return exact{}, problem{kind: Digits}
		}
		return exact{neg: neg, r: v}, problem{}
	}
	return r.slopeTokens(text, false)
}

// slopeTokens reads [sign] number and what says what it is a number of.
func (r Reader) slopeTokens(text string, improper bool) (exact, problem) {
	var ts tokens
	if p := ts.read(text, r.Comma); p.kind != "" {
		return exact{}, ts.quote(p)
	}
	if p := ts.either(); p.kind != "" {
		return exact{}, p
	}
	i, neg := ts.sign()
	v, p := ts.slope(i, improper)
	return exact{neg: neg, r: v}, ts.quote(p)
}

// slope reads a slope without its sign at token i.
func (ts *tokens) slope(i int, improper bool) (ratio, problem) {
	m, j, p := ts.hyphened(i, improper)
	if p.kind != "" {
		return one, p
	}
	rise, ok := m.ratio()
	if !ok {
		return one, problem{kind: Digits}
	}
	if part, ok := ts.partOf(j); ok {
		return over(rise, part, ts.end(j+1))
	}
	if _, isUnit := ts.lengthUnit(j); isUnit && !ts.oneIn(j) {
		return ts.slopePer(rise, j)
	}
	switch {
	case j >= ts.n:
		return ts.bareSlope(m, rise, i)
	case ts.kind(j) == ':' || ts.kind(j) == '/' || ts.oneIn(j):
		return ts.slopeTo(rise, i, j)
	}
	return one, ts.notUnit(j)
}

// hyphened reads a number whose fraction may hang on a hyphen: 1-1/2 in/ft.
func (ts *tokens) hyphened(i int, improper bool) (m mixed, next int, p problem) {
	m, next, p = ts.mixed(i, improper)
	if p.kind != "" || !m.integer() || ts.kind(next) != '-' || !ts.fraction(next+1) {
		return m, next, p
	}
	f, next, p := ts.pureFraction(next+1, true)
	if p.kind == "" && f.num >= f.den {
		p = ts.at(BadFraction, next-1)
	}
	m.num, m.den = f.num, f.den
	return m, next, p
}

// end is the problem of a token at i where the text should end.
func (ts *tokens) end(i int) problem {
	if i < ts.n {
		return ts.notUnit(i)
	}
	return problem{}
}

// over is rise/run unless there is a problem or a run of 0.
func over(rise, run ratio, p problem) (ratio, problem) {
	if p.kind != "" {
		return one, p
	}
	if run.num == 0 {
		return one, problem{kind: BadFraction}
	}
	v, ok := rise.times(ratio{run.den, run.num})
	if !ok {
		rise, run = rise.reduced(), run.reduced()
		if v, ok = rise.times(ratio{run.den, run.num}); !ok {
			return one, problem{kind: Digits}
		}
	}
	return v, problem{}
}

// partOf is 100 for percent, 1000 for per mille.
func (ts *tokens) partOf(i int) (ratio, bool) {
	switch string(ts.word(i)) {
	case "percent", "pct", "porciento":
		return ratio{100, 1}, true
	case "per_mille":
		return ratio{1000, 1}, true
	}
	return ratio{100, 1}, ts.kind(i) == '%'
}

// oneIn says that token i is the "in" of 1 in 80.
func (ts *tokens) oneIn(i int) bool {
	switch string(ts.word(i)) {
	case "in", "en":
		return ts.kind(i+1) == numberToken
	}
	return false
}

// slopeTo reads ":run", "/run" or "in run" at token j. After "in" a unit makes
// it ambiguous: 2 in 100 ft is inches or a ratio.
func (ts *tokens) slopeTo(rise ratio, i, j int) (ratio, problem) {
	m, k, p := ts.mixed(j+1, false)
	if p.kind != "" {
		return one, p
	}
	if u, ok := ts.lengthUnit(k); ok && ts.kind(j) == wordToken && k == ts.n-1 {
		left, right := ts.text(0, j), ts.text(j+1, k)
		return one, problem{kind: Ambiguous, alts: []alternative{
			{text: left + " in per " + right + " " + u.name},
			{text: left + " " + u.name + " per " + right + " " + u.name}}}
	}
	run, ok := m.ratio()
	if !ok {
		return one, problem{kind: Digits}
	}
	return over(rise, run, ts.end(k))
}

// slopePer reads "unit per [number] unit" at token j.
func (ts *tokens) slopePer(rise ratio, j int) (ratio, problem) {
	u, _ := ts.lengthUnit(j)
	j++
	if !ts.per(j) {
		if j >= ts.n {
			return one, problem{kind: MissingUnit}
		}
		return one, ts.notUnit(j)
	}
	j++
	run := one
	if ts.kind(j) == numberToken {
		m, next, p := ts.mixed(j, false)
		if p.kind != "" {
			return one, p
		}
		var ok bool
		if run, ok = m.ratio(); !ok {
			return one, problem{kind: Digits}
		}
		j = next
	}
	w, ok := ts.lengthUnit(j)
	if !ok {
		if j >= ts.n {
			return one, problem{kind: MissingUnit}
		}
		return one, ts.notUnit(j)
	}
	rise, okRise := rise.times(u.size)
	run, okRun := run.times(w.size)
	if !okRise || !okRun {
		return one, problem{kind: Digits}
	}
	return over(rise, run, ts.end(j+1))
}

// per says that token i joins rise and run.
func (ts *tokens) per(i int) bool {
	switch string(ts.word(i)) {
	case "per", "in", "por", "en", "at", "cada":
		return true
	}
	return ts.kind(i) == '/' || ts.kind(i) == '@'
}

// flattest is the bare number up to which it can only be rise over run.
var flattest = ratio{4, 100}

// bareSlope decides a number without anything after it.
func (ts *tokens) bareSlope(m mixed, rise ratio, i int) (ratio, problem) {
	plain := ts.text(0, ts.n)
	switch {
	case m.pure() && inchPart(m.den):
		// 10/1 may be a batter or a run over its rise: inches are not its only reading.
		return one, problem{kind: Ambiguous, alts: []alternative{
			{text: plain + " in/ft", only: one.less(rise)}, {text: ts.text(0, i+1) + ":" + ts.text(i+2, ts.n)}}}
	case m.den > 0 && m.whole:
		return one, problem{kind: Ambiguous, alts: []alternative{
			{text: plain + " in/ft"}, {text: plain + " %"}}}
	case m.pure(), !flattest.less(rise):
		return rise, problem{}
	}
	return one, problem{kind: Ambiguous, alts: []alternative{
		{text: plain + " %", only: true}, {text: plain + ":1", only: true}}}
}

// inchPart says that inches are divided into den parts.
func inchPart(den uint64) bool { return den <= 64 && den&(den-1) == 0 }
