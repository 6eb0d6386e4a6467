package siting

import (
	"math"
	"slices"

	"spadework/engine/geom"
)

// index finds items by the places they have, in squares as wide as the range.
type index struct {
	reach   float64 // 0: everything is near
	side    float64
	min     geom.Point
	columns int
	squares [][]int32 // items, rising
	places  [][]geom.Point
	all     []int32
}

// mostSquares bounds the squares to a side.
const mostSquares = 256

// newIndex finds items of which one of the places is within reach. Those without a
// place are never found.
func newIndex(places [][]geom.Point, reach float64) *index {
	x := &index{places: places, reach: reach}
	box := geom.EmptyBox()
	for i, ps := range places {
		if len(ps) > 0 {
			x.all = append(x.all, int32(i))
		}
		for _, p := range ps {
			box = box.With(p)
		}
	}
	if !(reach > 0) || box.Empty() || !(box.Width() < 1e12 && box.Height() < 1e12) {
		x.reach = 0
		return x
	}
	x.side = max(reach, box.Width()/mostSquares, box.Height()/mostSquares)
	x.min, x.columns = box.Min, int(box.Width()/x.side)+1
	x.squares = make([][]int32, x.columns*(int(box.Height()/x.side)+1))
	for i, ps := range places {
		for _, p := range ps {
			at := &x.squares[int((p.Y-x.min.Y)/x.side)*x.columns+int((p.X-x.min.X)/x.side)]
			if n := len(*at); n == 0 || (*at)[n-1] != int32(i) {
				*at = append(*at, int32(i))
			}
		}
	}
	return x
}

// near adds to list the items with a place within reach of at, and perhaps some
// hardly beyond it, rising.
func (x *index) near(at geom.Point, list []int32) []int32 {
	if x.reach == 0 {
		return append(list, x.all...)
	}
	from := len(list)
	reach := x.reach + 1e-9*(x.reach+math.Abs(at.X)+math.Abs(at.Y)) // far over what rounding does
	first, last := x.square(at.X-reach-x.min.X), x.square(at.X+reach-x.min.X)
	for row := max(0, x.square(at.Y-reach-x.min.Y)); row <= x.square(at.Y+reach-x.min.Y); row++ {
		for col := max(0, first); col <= min(last, x.columns-1); col++ {
			k := row*x.columns + col
			if k >= len(x.squares) {
				break
			}
			for _, i := range x.squares[k] {
				if slices.ContainsFunc(x.places[i], func(p geom.Point) bool { return p.Distance(at) <= reach }) {
					list = append(list, i)
				}
			}
		}
	}
	slices.Sort(list[from:])
	return append(list[:from], slices.Compact(list[from:])...)
}

// square is which square an easting or northing lies in, from the first.
func (x *index) square(v float64) int {
	return int(math.Floor(min(max(v/x.side, -1), mostSquares+1)))
}
