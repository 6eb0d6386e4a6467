package unit

import (
	"math"
	"strings"
)

// Batter is the slope of a side as written, Run horizontal to Rise vertical.
type Batter struct {
	Run, Rise int64 // in lowest terms, Rise > 0; Run is 0 for vertical
	Words     string
}

// Ratio is horizontal over vertical, 0 for vertical.
func (b Batter) Ratio() float64 {
	return exact{r: ratio{magnitude(b.Run), magnitude(b.Rise)}}.float64()
}

// batterLimit is horizontal to 1 vertical; flatter is ground, not a side.
const batterLimit = 20

// Batter reads the side of an excavation, horizontal to vertical as 29 CFR 1926
// subpart P writes it: 1.5:1, 3/4:1, 1½:1, vertical. Drawings elsewhere write
// vertical first; so a text whose second number is not 1 is ambiguous unless it
// has letters, 1H:2V or 2V:1H.
func (r Reader) Batter(text string) (Batter, error) {
	var ts tokens
	p := ts.read(text, r.Comma)
	if p.kind == "" {
		p = ts.either()
	}
	var v ratio
	if p.kind == "" {
		v, p = ts.batter()
	}
	if p.kind == "" && (ratio{batterLimit, 1}).less(v) {
		p = problem{kind: TooLarge, limit: "20:1"}
	}
	if p.kind == "" && (v.num > math.MaxInt64 || v.den > math.MaxInt64) {
		p = problem{kind: Digits}
	}
	if p.kind != "" {
		return Batter{}, ts.quote(p).error(text, "batter")
	}
	v = v.reduced()
	return Batter{Run: int64(v.num), Rise: int64(v.den), Words: strings.TrimSpace(text)}, nil
}

// batter is horizontal over vertical.
func (ts *tokens) batter() (ratio, problem) {
	if string(ts.word(0)) == "vertical" && ts.n == 1 {
		return ratio{0, 1}, problem{}
	}
	first, i, p := ts.hyphened(0, false)
	if p.kind != "" {
		return one, p
	}
	a, i := ts.axis(i)
	if i >= ts.n {
		return one, problem{kind: MissingUnit}
	}
	if w := string(ts.word(i)); ts.kind(i) != ':' && w != "to" && w != "a" {
		return one, ts.notUnit(i)
	}
	second, i, p := ts.hyphened(i+1, false)
	if p.kind != "" {
		return one, p
	}
	b, i := ts.axis(i)
	if p := ts.end(i); p.kind != "" {
		return one, p
	}
	return batterOf(side{first, a}, side{second, b})
}

// side is one number of a batter and its letter, h, v or 0.
type side struct {
	m    mixed
	axis byte
}

// axis reads the letter of a number.
func (ts *tokens) axis(i int) (axis byte, next int) {
	if w := ts.word(i); len(w) == 1 && (w[0] == 'h' || w[0] == 'v') {
		return w[0], i + 1
	}
	return 0, i
}

// batterOf puts the horizontal number over the vertical one.
func batterOf(a, b side) (ratio, problem) {
	x, okX := a.m.ratio()
	y, okY := b.m.ratio()
	switch {
	case !okX || !okY:
		return one, problem{kind: Digits}
	case x.num == 0 && y.num == 0, y.num == 0 && a.axis != 'v':
		return one, problem{kind: BadFraction}
	case a.axis == 'v' && b.axis == 'h':
		return over(y, x, problem{})
	case a.axis == 'h' && b.axis == 'v':
		return over(x, y, problem{})
	case a.axis != 0 || b.axis != 0:
		return one, problem{kind: MissingUnit}
	}
	if y.num != y.den && (x.num != y.num || x.den != y.den) {
		p, q := a.m.words(), b.m.words()
		return one, problem{kind: Ambiguous, alts: []alternative{
			{text: p + "H:" + q + "V"}, {text: p + "V:" + q + "H"}}}
	}
	return over(x, y, problem{})
}

// words is the number as a decimal or as a whole number and a fraction.
func (m mixed) words() string {
	if m.den == 0 {
		return trimmed(m.d.rat(), maxDigits)
	}
	f := ratio{m.num, m.den}.rat().RatString()
	if !m.whole {
		return f
	}
	return m.d.rat().RatString() + " " + f
}
