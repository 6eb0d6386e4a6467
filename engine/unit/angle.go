package unit

// Angle reads degrees, 12.5 or 12.5°, or degrees, minutes and seconds,
// 12°30'15", 12-30-15 or a part of them such as 30'. At most ±360°. The
// degrees are the nearest float64; radians add one rounding.
func (r Reader) Angle(text string) (Angle, error) {
	var ts tokens
	p := ts.read(text, r.Comma)
	var degrees float64
	if p.kind == "" {
		i, neg := ts.sign()
		degrees, p = ts.degrees(i, ts.n)
		if neg {
			degrees = -degrees
		}
	}
	if p.kind != "" {
		return 0, ts.quote(p).error(text, "angle")
	}
	return Angle(degrees) * Degree, nil
}

// arcs are the parts of a degree that an angle is written in.
var arcs = [3]ratio{{1, 1}, {1, 60}, {1, 3600}}

// degrees reads the angle in tokens i to end. A comma that could group
// thousands is decimal: no angle is that large.
func (ts *tokens) degrees(i, end int) (float64, problem) {
	var s sum
	begin, marked := i, false
	for level := -1; i < end; {
		if s.n > 0 && ts.kind(i) == '-' {
			i++
		}
		if ts.kind(i) != numberToken || i >= end {
			return 0, ts.at(BadNumber, i)
		}
		m := mixed{d: ts.list[i].d}
		next, part, p := ts.arc(i+1, level)
		if p.kind != "" {
			return 0, p
		}
		if !s.arcFollows(m) {
			return 0, ts.at(MixedUnits, i)
		}
		s.add(term{m, lengthUnit{size: arcs[part]}})
		marked = marked || next > i+1
		i, level = next, part
	}
	if s.n == 0 || s.n > 1 && !marked && !ts.dashedArc(begin, end) {
		return 0, ts.at(BadNumber, begin)
	}
	x := s.exact()
	if x.over(360) {
		return 0, problem{kind: TooLarge, limit: "360°"}
	}
	return x.float64(), problem{}
}

// arcFollows says that m may follow as minutes or seconds what is in s.
func (s *sum) arcFollows(m mixed) bool {
	if s.n == 0 {
		return true
	}
	v, ok := m.ratio()
	return s.terms[s.n-1].m.integer() && ok && v.less(ratio{60, 1})
}

// dashedArc says that tokens i to end are 12-30-15: without marks only all
// three parts with dashes are an angle.
func (ts *tokens) dashedArc(i, end int) bool {
	return end-i == 5 && ts.kind(i+1) == '-' && ts.kind(i+3) == '-'
}

// arc reads the mark after a number: degrees, minutes or seconds. Without one
// it is the part after level.
func (ts *tokens) arc(i, level int) (next, part int, p problem) {
	part = -1
	switch ts.kind(i) {
	case degreeMark:
		part = 0
	case '\'':
		part = 1
	case '"':
		part = 2
	case wordToken:
		part = arcWord(ts.word(i))
	}
	if part >= 0 {
		i++
	} else {
		part = level + 1
	}
	if part <= level || part > 2 {
		return i, part, ts.at(MixedUnits, i-1)
	}
	return i, part, problem{}
}

// arcWord is the part of a degree of a word, −1 if it is none.
func arcWord(word []byte) int {
	switch string(word) {
	case "deg", "degree", "degrees", "grado", "grados":
		return 0
	case "arcmin", "min", "minutes", "minutos":
		return 1
	case "arcsec", "sec", "seconds", "segundos":
		return 2
	}
	return -1
}
