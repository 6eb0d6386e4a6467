package dig

import "math"

// shelf is a stretch of a side seen across it: from the outward distance from
// to that of the next shelf it lies at height over the foot and rises by grade.
type shelf struct{ from, height, grade float64 }

// rise is a side seen across: its shelves by rising distance, none for a
// vertical one. Beyond end it stands vertical; end is infinite for a batter.
type rise struct {
	shelves []shelf
	end     float64
}

// riseOf is a slope as shelves: batter to the first bench, its width level, and
// so on, the batter again over the last.
func riseOf(s Slope) rise {
	var out rise
	d, h := 0.0, 0.0
	for _, b := range s.Benches {
		if s.Batter > 0 {
			out.shelves = append(out.shelves, shelf{d, h, 1 / s.Batter})
			d += float64(s.Batter * (float64(b.Height) - h))
		}
		h = float64(b.Height)
		out.shelves = append(out.shelves, shelf{d, h, 0})
		d += float64(b.Width)
	}
	if s.Batter > 0 {
		out.shelves = append(out.shelves, shelf{d, h, 1 / s.Batter})
		d = math.Inf(1)
	}
	out.end = d
	return out
}

// jumps says that the side stands vertical where shelf k begins.
func (r rise) jumps(k int) bool {
	if k == 0 {
		return r.shelves[0].height > 0
	}
	last, s := r.shelves[k-1], r.shelves[k]
	return last.grade == 0 && s.height > last.height
}

// at is the height over the foot at an outward distance > 0; false beyond the
// end. Where the side stands vertical it is the lower height.
func (r rise) at(d float64) (float64, bool) {
	if !(d <= r.end) {
		return 0, false
	}
	k := 0
	for k+1 < len(r.shelves) && r.shelves[k+1].from < d {
		k++
	}
	s := r.shelves[k]
	return s.height + float64((d-s.from)*s.grade), true
}

// width is how far out the side lies at a height ≥ 0 over the foot: the w(h) by
// which the outline moves.
func (r rise) width(h float64) float64 {
	out := 0.0
	for k, s := range r.shelves {
		if s.height > h {
			break
		}
		next := r.end
		if k+1 < len(r.shelves) {
			next = r.shelves[k+1].from
		}
		out = next
		if s.grade > 0 {
			out = min(next, s.from+(h-s.height)/s.grade)
		}
	}
	return out
}

// alike says that two sides rise alike.
func (r rise) alike(o rise) bool {
	if len(r.shelves) != len(o.shelves) || r.end != o.end {
		return false
	}
	for i, s := range r.shelves {
		if s != o.shelves[i] {
			return false
		}
	}
	return true
}
