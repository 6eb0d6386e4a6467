package dig

import (
	"slices"

	"spadework/engine/geom"
)

// segment is a side of something dug, which lies left of it.
type segment struct{ from, to geom.Point }

// weldWithin is how near two ends are one. Ends of one line cut by the same planes
// differ by rounding alone.
const weldWithin = 1e-7

// welder gives ends that are one the same number.
type welder struct {
	cells map[[2]int64]int32
	at    []geom.Point
}

// number is the one of p.
func (w *welder) number(p geom.Point) int32 {
	const size = 4 * weldWithin
	x, y := p.X/size, p.Y/size
	cx, cy := floor(x), floor(y)
	for dx := cx - 1; dx <= cx+1; dx++ {
		for dy := cy - 1; dy <= cy+1; dy++ {
			if i, ok := w.cells[[2]int64{dx, dy}]; ok && w.at[i].Distance(p) <= weldWithin {
				return i
			}
		}
	}
	i := int32(len(w.at))
	w.at = append(w.at, p)
	if _, taken := w.cells[[2]int64{cx, cy}]; !taken {
		w.cells[[2]int64{cx, cy}] = i
	}
	return i
}

// floor is the whole number at or under v.
func floor(v float64) int64 {
	i := int64(v)
	if float64(i) > v {
		i--
	}
	return i
}

// link is a segment between welded ends.
type link struct{ from, to int32 }

// chained joins the segments that have nothing dug on their other side to rings,
// in the frame of the job. It is nil if they do not close.
func (c *CutSurface) chained(segments []segment) []geom.Ring {
	w := welder{cells: map[[2]int64]int32{}}
	links := make([]link, 0, len(segments))
	for _, s := range segments {
		if a, b := w.number(s.from), w.number(s.to); a != b {
			links = append(links, link{a, b})
		}
	}
	links = cancelled(links)
	links = cancelled(w.split(links))
	rings, ok := w.rings(links)
	if !ok {
		return nil
	}
	var out []geom.Ring
	for _, r := range rings {
		if r = tidy(r); len(r) >= 3 {
			for i := range r {
				r[i] = c.origin.Add(r[i].Sub(geom.Point{}))
			}
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b geom.Ring) int {
		switch d := b.Area() - a.Area(); {
		case d > 0:
			return 1
		case d < 0:
			return -1
		}
		return 0
	})
	return out
}

// cancelled leaves out links that run both ways.
func cancelled(links []link) []link {
	count := map[link]int{}
	for _, l := range links {
		if back := (link{l.to, l.from}); count[back] > 0 {
			count[back]--
		} else {
			count[l]++
		}
	}
	out := links[:0:0]
	for _, l := range links {
		if count[l] > 0 {
			count[l]--
			out = append(out, l)
		}
	}
	return out
}

// split cuts links at the ends of others that lie on them.
func (w *welder) split(links []link) []link {
	var ends []int32
	for _, l := range links {
		ends = append(ends, l.from)
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	var out []link
	for _, l := range links {
		a, b := w.at[l.from], w.at[l.to]
		dir := b.Sub(a).Unit()
		length := a.Distance(b)
		box := geom.BoxOf(a, b).Grown(weldWithin)
		var on []int32
		for _, e := range ends {
			v := w.at[e].Sub(a)
			if d := v.Dot(dir); e != l.from && e != l.to && box.Holds(w.at[e]) && d > 0 && d < length &&
				v.Cross(dir) < weldWithin && v.Cross(dir) > -weldWithin {
				on = append(on, e)
			}
		}
		slices.SortStableFunc(on, func(p, q int32) int {
			if d := w.at[p].Sub(a).Dot(dir) - w.at[q].Sub(a).Dot(dir); d < 0 {
				return -1
			} else if d > 0 {
				return 1
			}
			return int(p - q)
		})
		from := l.from
		for _, e := range on {
			out = append(out, link{from, e})
			from = e
		}
		out = append(out, link{from, l.to})
	}
	return out
}

// rings follows the links from end to end; where several go on, that which turns
// most to the left, so that rings which touch stay apart. An end without
// successor takes the nearest start within a millimetre.
func (w *welder) rings(links []link) (out []geom.Ring, ok bool) {
	next := map[int32][]int{}
	for i, l := range links {
		next[l.from] = append(next[l.from], i)
	}
	used := make([]bool, len(links))
	for i := range links {
		if used[i] {
			continue
		}
		start := links[i].from
		ring := geom.Ring{w.at[start]}
		for k := i; ; {
			used[k] = true
			l := links[k]
			if l.to == start {
				break
			}
			ring = append(ring, w.at[l.to])
			j, found := w.follow(links, next, used, l)
			if !found {
				if w.at[l.to].Distance(w.at[start]) <= gap {
					break
				}
				if j, found = w.nearest(links, used, w.at[l.to]); !found {
					return nil, false
				}
			}
			k = j
		}
		out = append(out, ring)
	}
	return out, true
}

// gap is the widest break in a top edge that is closed, in metres: where the
// ground rises almost as the side does, the line between them is ill defined.
const gap = 1e-3

// follow is the unused link that goes on from the end of l.
func (w *welder) follow(links []link, next map[int32][]int, used []bool, l link) (best int, found bool) {
	in := w.at[l.to].Sub(w.at[l.from]).Unit()
	turn := 0.0
	for _, j := range next[l.to] {
		if used[j] {
			continue
		}
		on := w.at[links[j].to].Sub(w.at[links[j].from]).Unit()
		t := in.Cross(on)
		if in.Dot(on) < 0 {
			t = 2*sign(t) - t
		}
		if !found || t > turn {
			best, turn, found = j, t, true
		}
	}
	return best, found
}

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

// nearest is the unused link that starts nearest to p, within the gap.
func (w *welder) nearest(links []link, used []bool, p geom.Point) (best int, found bool) {
	least := gap
	for j, l := range links {
		if d := w.at[l.from].Distance(p); !used[j] && d <= least {
			best, least, found = j, d, true
		}
	}
	return best, found
}

// tidy leaves out corners that lie within a micrometre of the one before or on
// the line of their neighbours, and starts at the westernmost.
func tidy(r geom.Ring) geom.Ring {
	for {
		n := len(r)
		out := make(geom.Ring, 0, n)
		for i, p := range r {
			before, after := r[(i+n-1)%n], r[(i+1)%n]
			if len(out) > 0 {
				before = out[len(out)-1]
			}
			a, b := p.Sub(before), after.Sub(before)
			if a.Length() <= snap || between(a, b) {
				continue
			}
			out = append(out, p)
		}
		if r = out; len(r) == n || len(r) < 3 {
			break
		}
	}
	if a := r.Area(); len(r) < 3 || a < snap && a > -snap {
		return nil
	}
	first := 0
	for i, p := range r {
		if q := r[first]; p.X < q.X || p.X == q.X && p.Y < q.Y {
			first = i
		}
	}
	return append(append(geom.Ring{}, r[first:]...), r[:first]...)
}

// between says that a lies on the way to b.
func between(a, b geom.Vector) bool {
	l := b.Length()
	if l <= snap {
		return false
	}
	off := b.Cross(a) / l
	return off < weldWithin && off > -weldWithin && a.Dot(b) > 0 && a.Dot(b) < float64(l*l)
}
