package gradeline

import (
	"math"

	"spadework/engine/unit"
)

// touch is how near the line and a rule are one.
const touch = 1e-7

// line turns heights at the nodes into the answer.
func (w *work) line(z []float64) Line {
	s, z := w.corners(z)
	var l Line
	for k := range s {
		v := Vertex{unit.Station(s[k] + w.p.start()), unit.Elevation(z[k] + w.zero)}
		if n := len(l.Vertices); n > 1 && onLine(l.Vertices[n-2], l.Vertices[n-1], v) {
			l.Vertices = l.Vertices[:n-1]
		}
		l.Vertices = append(l.Vertices, v)
	}
	w.digging(&l)
	w.rests(&l)
	w.stretches(&l)
	return l
}

// onLine says that b lies on the straight line from a to c, to a nanometre.
func onLine(a, b, c Vertex) bool {
	t := float64(b.Station-a.Station) / float64(c.Station-a.Station)
	return math.Abs(float64(b.Invert-a.Invert)-float64(t*float64(c.Invert-a.Invert))) <= give
}

// corners adds to the nodes of a line that may bend anywhere the places between
// two nodes where it leaves a fall for the cover, so that it is the highest of
// all lines and not only of those that bend at the nodes.
func (w *work) corners(z []float64) (s, out []float64) {
	if w.p.Bends != Anywhere {
		return w.nodes, z
	}
	top := w.ground()
	for k := range w.nodes {
		s, out = append(s, w.nodes[k]), append(out, z[k])
		if k+1 == len(w.nodes) {
			break
		}
		run := w.nodes[k+1] - w.nodes[k]
		lines := []straight{{(top[k+1] - top[k]) / run, top[k]}}
		if !math.IsInf(w.least, 0) {
			lines = append(lines, straight{-w.least, z[k]})
		}
		if !math.IsInf(w.most, 0) {
			lines = append(lines, straight{-w.most, z[k+1] + float64(w.most*run)})
		}
		sortSlopes(lines)
		e := lowest(lines)
		for _, c := range e.within(nil, grain, run-grain) {
			s, out = append(s, w.nodes[k]+c), append(out, e.at(c))
		}
	}
	return s, out
}

// sortSlopes puts at most three lines in the order of descending slopes.
func sortSlopes(lines []straight) {
	for i := range lines {
		for j := i; j > 0 && lines[j].m > lines[j-1].m; j-- {
			lines[j], lines[j-1] = lines[j-1], lines[j]
		}
	}
}

// ground is the highest that cover allows at every node.
func (w *work) ground() []float64 {
	out := make([]float64, len(w.nodes))
	for k := range out {
		out[k] = math.Inf(1)
	}
	k := 0
	for _, b := range w.bounds {
		if w.rules[b.rule].Kind != Cover {
			continue
		}
		for w.nodes[k] < b.s {
			k++
		}
		out[k] = min(out[k], b.z)
	}
	return out
}

// digging measures the volume by the ground as dug, vertical sides.
func (w *work) digging(l *Line) {
	depth := func(s float64) float64 {
		at := unit.Station(s)
		return float64(Height(w.p.DugGround(), at).Above(l.At(at)) + w.p.Under)
	}
	stops := w.stops(l)
	var dug, signed, out float64
	from, a := stops[0], depth(stops[0])
	for _, to := range stops[1:] {
		b := depth(to)
		run := to - from
		signed += run * (a + b) / 2
		part, under := under(a, b)
		dug += run * part
		out += run * (1 - under)
		from, a = to, b
	}
	l.Digging = unit.Volume(dug * float64(w.p.Width))
	l.Bound = unit.Volume(signed * float64(w.p.Width))
	l.OutOf = unit.Length(out)
	l.Proven = out == 0
	if w.p.Bends == Anywhere {
		l.Bound, l.Proven = l.Digging, true
	}
}

// under is the mean of what is positive of a straight function from a to b, and
// the share of the way on which it is.
func under(a, b float64) (mean, share float64) {
	switch {
	case a >= 0 && b >= 0:
		return (a + b) / 2, 1
	case a <= 0 && b <= 0:
		return 0, 0
	}
	top := max(a, b)
	share = top / math.Abs(a-b)
	return top * share / 2, share
}

// stops are the stations where the dug ground or the line bends.
func (w *work) stops(l *Line) []float64 {
	from, to := w.p.start(), w.p.end()
	dug, v := w.p.DugGround(), l.Vertices
	out := make([]float64, 0, len(dug)+len(v))
	take := func(s float64) {
		if s >= from && s <= to && (len(out) == 0 || s > out[len(out)-1]) {
			out = append(out, s)
		}
	}
	for i, j := 0, 0; i < len(dug) || j < len(v); {
		if j == len(v) || i < len(dug) && dug[i].Station <= v[j].Station {
			take(float64(dug[i].Station))
			i++
		} else {
			take(float64(v[j].Station))
			j++
		}
	}
	return out
}

// Height is the ground at a station, of the nearest end beyond it.
func Height(ground []Point, s unit.Station) unit.Elevation {
	lo, hi := 0, len(ground)
	for lo < hi {
		if mid := (lo + hi) / 2; ground[mid].Station > s {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	switch lo {
	case 0:
		return ground[0].Z
	case len(ground):
		return ground[len(ground)-1].Z
	}
	return between(ground[lo-1], ground[lo], s)
}

// rests lists the rules that the line touches.
func (w *work) rests(l *Line) {
	for _, b := range w.bounds {
		r := w.rules[b.rule]
		off := float64(l.At(r.Station) - r.Level)
		if math.Abs(off) > touch || r.Kind == FixedAt && !r.Upper {
			continue
		}
		l.Rests = append(l.Rests, r)
	}
}

// flat is the difference under which two falls are one.
const flat = 1e-9

// stretches lists where the line has its least or most fall.
func (w *work) stretches(l *Line) {
	for i := 1; i < len(l.Vertices); i++ {
		a, b := l.Vertices[i-1], l.Vertices[i]
		fall := float64(a.Invert.Above(b.Invert)) / float64(b.Station-a.Station)
		if math.Abs(fall-w.least) <= flat {
			l.AtLeast = append(l.AtLeast, Stretch{a.Station, b.Station})
		}
		if math.Abs(fall-w.most) <= flat {
			l.AtMost = append(l.AtMost, Stretch{a.Station, b.Station})
		}
	}
}
