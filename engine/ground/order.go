package ground

import (
	"math/bits"
	"slices"

	"spadework/engine/geom"
)

// Points are put in the order of a Hilbert curve, so that neighbours in plan
// are neighbours in memory, and inserted in biased random rounds (Amenta, Choi,
// Rote 2003): each round a fixed pseudo-random share of the points along the
// curve. The order depends on the points alone.

// hilbertBits is the depth of the curve per axis in one sort.
const hilbertBits = 16

// crowd is how many points of one curve cell are left unsorted.
const crowd = 48

// keyed is a point to sort: its curve key and its index in the input.
type keyed uint64

func (k keyed) index() int32 { return int32(uint32(k)) }
func (k keyed) key() uint32  { return uint32(k >> 32) }

// hilbertStep maps a state of the curve and four bits of x and y to eight bits
// of the key and the next state: key<<2 | state.
var hilbertStep = func() (t [4][256]uint16) {
	for state := range t {
		for xy := range 256 {
			s, key := state, 0
			for b := 3; b >= 0; b-- {
				x, y := xy>>(4+b)&1, xy>>b&1
				var d int
				d, s = hilbertQuadrant(s, x, y)
				key = key<<2 | d
			}
			t[state][xy] = uint16(key<<2 | s)
		}
	}
	return t
}()

// hilbertQuadrant is the place of quadrant (x, y) along a curve of state s, and
// the state within: bit 0 of s swaps the axes, bit 1 turns the curve by half.
func hilbertQuadrant(s, x, y int) (place, next int) {
	if s&2 != 0 {
		x, y = 1-x, 1-y
	}
	if s&1 != 0 {
		x, y = y, x
	}
	place = 3*x ^ y
	switch place {
	case 0:
		s ^= 1
	case 3:
		s ^= 3
	}
	return place, s
}

// hilbertKey is the place of cell (x, y) along the curve.
func hilbertKey(x, y uint32) uint32 {
	var key uint32
	state := uint16(0)
	for shift := hilbertBits - 4; shift >= 0; shift -= 4 {
		t := hilbertStep[state&3][x>>shift&15<<4|y>>shift&15]
		key = key<<8 | uint32(t>>2)
		state = t & 3
	}
	return key
}

// hilbertOrder sorts the indices 0..n−1 of points along the curve.
func hilbertOrder(n int, at func(i int32) geom.Point, box geom.Box) []keyed {
	items := make([]keyed, n)
	for i := range items {
		items[i] = keyed(uint32(i))
	}
	sortAlong(items, make([]keyed, n), at, box)
	return items
}

// sortAlong sorts items along the curve through box, and crowded cells again
// through the box of their own points.
func sortAlong(items, scratch []keyed, at func(i int32) geom.Point, box geom.Box) {
	scaleX, scaleY := curveScale(box)
	for k, it := range items {
		p := at(it.index())
		x := uint32(float64((p.X - box.Min.X) * scaleX))
		y := uint32(float64((p.Y - box.Min.Y) * scaleY))
		items[k] = keyed(hilbertKey(x, y))<<32 | it&0xffffffff
	}
	radixSort(items, scratch)
	for start := 0; start < len(items); {
		end := start + 1
		for end < len(items) && items[end].key() == items[start].key() {
			end++
		}
		if end-start > crowd {
			inner := geom.EmptyBox()
			for _, it := range items[start:end] {
				inner = inner.With(at(it.index()))
			}
			if inner.Min != inner.Max {
				sortAlong(items[start:end], scratch[start:end], at, inner)
			}
		}
		start = end
	}
}

// curveScale turns offsets in box into cells, one scale for both axes unless
// the box is a thin strip.
func curveScale(box geom.Box) (x, y float64) {
	const cells = 1<<hilbertBits - 1
	w, h := box.Width(), box.Height()
	side := max(w, h)
	x, y = cells/side, cells/side
	if w > 0 && w < side/16 {
		x = cells / w
	}
	if h > 0 && h < side/16 {
		y = cells / h
	}
	return x, y
}

// radixSort sorts by key, stable, least digit first.
func radixSort(items, scratch []keyed) {
	const digit = 11
	if len(items) < 1<<digit/4 {
		slices.Sort(items)
		return
	}
	var count [3][1 << digit]int32
	for _, it := range items {
		k := it.key()
		count[0][k&(1<<digit-1)]++
		count[1][k>>digit&(1<<digit-1)]++
		count[2][k>>(2*digit)&(1<<digit-1)]++
	}
	from, to := items, scratch
	for d := range count {
		c := &count[d]
		sum := int32(0)
		for i := range c {
			c[i], sum = sum, sum+c[i]
		}
		for _, it := range from {
			k := it.key() >> (uint(d) * digit) & (1<<digit - 1)
			to[c[k]] = it
			c[k]++
		}
		from, to = to, from
	}
	copy(items, from)
}

// roundShift says that each round has one 2^roundShift-th of the points of the
// next.
const roundShift = 2

// insertionOrder is the positions 0..n−1 in rounds, within each along the
// curve. Rounds are drawn by a fixed hash of the position.
func insertionOrder(n int) []int32 {
	last := 0
	for size := n; size > 256; size >>= roundShift {
		last++
	}
	round := func(i int) int {
		h := uint32(i) * 0x9E3779B1
		h ^= h >> 15
		h *= 0x85EBCA77
		h ^= h >> 13
		return max(0, last-bits.LeadingZeros32(h|1)/roundShift)
	}
	start := make([]int32, last+2)
	for i := range n {
		start[round(i)+1]++
	}
	for r := range last + 1 {
		start[r+1] += start[r]
	}
	out := make([]int32, n)
	for i := range n {
		r := round(i)
		out[start[r]] = int32(i)
		start[r]++
	}
	return out
}
