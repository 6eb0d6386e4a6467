package gradeline

import (
	"math"
	"sort"
)

// concave is a concave function, straight between its points: x ascending, at
// least one point, no value outside.
type concave struct{ x, v []float64 }

// at is the value at x, of the nearest end outside.
func (f concave) at(x float64) float64 {
	n := len(f.x)
	i := sort.SearchFloat64s(f.x, x)
	switch {
	case i == 0:
		return f.v[0]
	case i == n:
		return f.v[n-1]
	}
	t := (x - f.x[i-1]) / (f.x[i] - f.x[i-1])
	return f.v[i-1] + float64(t*(f.v[i]-f.v[i-1]))
}

// top is where it is greatest, of several places the last.
func (f concave) top() float64 {
	best := 0
	for i := range f.v {
		if f.v[i] >= f.v[best] {
			best = i
		}
	}
	return f.x[best]
}

// add appends a point; a point that lies on the straight line of its neighbours
// is left out. x must not descend; an equal x keeps the better value.
func (f *concave) add(x, v float64) {
	n := len(f.x)
	if n > 0 && !(x > f.x[n-1]) {
		f.v[n-1] = max(f.v[n-1], v)
		return
	}
	if n > 1 {
		a, b := n-2, n-1
		left := float64((f.v[b] - f.v[a]) * (x - f.x[b]))
		right := float64((v - f.v[b]) * (f.x[b] - f.x[a]))
		if left <= right { // straight, or bent the wrong way by rounding
			f.x, f.v = f.x[:n-1], f.v[:n-1]
		}
	}
	f.x, f.v = append(f.x, x), append(f.v, v)
}

// straight is the straight line x = m·y + b.
type straight struct{ m, b float64 }

func (l straight) at(y float64) float64 { return float64(l.m*y) + l.b }

// envelope is the lowest of several straight lines at every y, or the highest.
type envelope struct {
	lines []straight
	cuts  []float64 // cuts[i] is where lines[i+1] takes over
}

// lowest is the lower envelope of lines whose slopes do not ascend.
func lowest(lines []straight) envelope {
	var e envelope
	for _, l := range lines {
		for n := len(e.lines); n > 0; n = len(e.lines) {
			last := e.lines[n-1]
			if last.m == l.m {
				if l.b >= last.b {
					break
				}
				e.drop()
				continue
			}
			if cut := crossing(last, l); n == 1 || cut > e.cuts[n-2] {
				break
			}
			e.drop()
		}
		n := len(e.lines)
		if n > 0 && e.lines[n-1].m == l.m {
			continue
		}
		if n > 0 {
			e.cuts = append(e.cuts, crossing(e.lines[n-1], l))
		}
		e.lines = append(e.lines, l)
	}
	return e
}

// highest is the upper envelope of lines whose slopes do not ascend.
func highest(lines []straight) envelope {
	n := len(lines)
	turned := make([]straight, n)
	for i, l := range lines {
		turned[n-1-i] = straight{-l.m, -l.b}
	}
	e := lowest(turned)
	for i, l := range e.lines {
		e.lines[i] = straight{-l.m, -l.b}
	}
	return e
}

// drop takes the last line away.
func (e *envelope) drop() {
	e.lines = e.lines[:len(e.lines)-1]
	e.cuts = e.cuts[:max(0, len(e.lines)-1)]
}

// crossing is the y at which two lines of different slope meet.
func crossing(a, b straight) float64 { return (b.b - a.b) / (a.m - b.m) }

// at is the envelope at y.
func (e envelope) at(y float64) float64 {
	return e.lines[sort.SearchFloat64s(e.cuts, y)].at(y)
}

// rounding is what float64 may lose of the envelope at y: an ulp, 2⁻⁵², of each
// term for the line's own figures, its product and its sum.
func (e envelope) rounding(y float64) float64 {
	l := e.lines[sort.SearchFloat64s(e.cuts, y)]
	return 3 * 0x1p-52 * (math.Abs(l.m*y) + math.Abs(l.b))
}

// within appends the cuts between two places.
func (e envelope) within(out []float64, from, to float64) []float64 {
	for _, c := range e.cuts {
		if c > from && c < to {
			out = append(out, c)
		}
	}
	return out
}

// meets appends the places between from and to where the envelope takes one of
// the values in xs, which ascend.
func (e envelope) meets(out, xs []float64, from, to float64) []float64 {
	for i, l := range e.lines {
		a, b := from, to
		if i > 0 {
			a = max(a, e.cuts[i-1])
		}
		if i < len(e.cuts) {
			b = min(b, e.cuts[i])
		}
		if !(a < b) || l.m == 0 {
			continue
		}
		low, high := l.at(a), l.at(b)
		if low > high {
			low, high = high, low
		}
		for k := sort.SearchFloat64s(xs, low); k < len(xs) && xs[k] <= high; k++ {
			if y := (xs[k] - l.b) / l.m; y > a && y < b {
				out = append(out, y)
			}
		}
	}
	return out
}
