package siting

import (
	"math"
	"slices"
)

// span is a closed stretch of beam heights in which an item is served.
type span struct {
	low, high float64
	item      int32
}

// clique is a stretch of heights and the items served all over it.
type clique struct {
	low, high float64
	items     []int32 // rising
}

// cliques lists, from low heights to high, the stretches whose served items are
// in no other's of the sweep: where the first stretch to end follows one that
// began. An item may have several spans, disjoint ones.
func cliques(spans []span) []clique {
	starts, ends := slices.Clone(spans), slices.Clone(spans)
	slices.SortFunc(starts, func(a, b span) int { return order(a.low, b.low, a.item, b.item) })
	slices.SortFunc(ends, func(a, b span) int { return order(a.high, b.high, a.item, b.item) })
	var out []clique
	var active []int32
	began, last, next := false, 0.0, 0
	for _, end := range ends {
		for next < len(starts) && starts[next].low <= end.high {
			at, _ := slices.BinarySearch(active, starts[next].item)
			active = slices.Insert(active, at, starts[next].item)
			began, last = true, starts[next].low
			next++
		}
		if began {
			out = append(out, clique{last, end.high, slices.Clone(active)})
			began = false
		}
		at, _ := slices.BinarySearch(active, end.item)
		active = slices.Delete(active, at, at+1)
	}
	return out
}

func order(a, b float64, i, j int32) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return int(i - j)
}

// joined merges spans of one item that touch or overlap, in place.
func joined(spans []span) []span {
	slices.SortFunc(spans, func(a, b span) int { return order(a.low, b.low, a.item, b.item) })
	out := spans[:0]
	for _, s := range spans {
		if n := len(out); n > 0 && s.low <= math.Nextafter(out[n-1].high, math.Inf(1)) {
			out[n-1].high = max(out[n-1].high, s.high)
			continue
		}
		out = append(out, s)
	}
	return out
}

// clipped is what of spans lies within low … high.
func clipped(spans []span, low, high float64, room []span) []span {
	for _, s := range spans {
		if l, h := max(s.low, low), min(s.high, high); l <= h {
			room = append(room, span{l, h, s.item})
		}
	}
	return room
}

// reach is a stretch of heights all over which the same benchmarks are
// received, nearest first.
type reach struct {
	low, high  float64
	benchmarks []int
}

// reaches cuts the heights low … high where the received benchmarks change.
// Ends are float64 next to each other, so that no height belongs to two.
func reaches(benchmarks []span, low, high float64) []reach {
	cuts := []float64{low}
	for _, b := range benchmarks {
		cuts = append(cuts, b.low, math.Nextafter(b.high, math.Inf(1)))
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out []reach
	for i, from := range cuts {
		to := high
		if i+1 < len(cuts) {
			to = min(to, math.Nextafter(cuts[i+1], math.Inf(-1)))
		}
		if from < low || from > to {
			continue
		}
		r := reach{low: from, high: to}
		for _, b := range benchmarks {
			if b.low <= from && to <= b.high {
				r.benchmarks = append(r.benchmarks, int(b.item))
			}
		}
		out = append(out, r)
	}
	return out
}

// enough keeps the stretches with a number of benchmarks or more, of which the
// nearest are read, and joins neighbours that read the same ones.
func enough(list []reach, need int) []reach {
	var out []reach
	for _, r := range list {
		if len(r.benchmarks) < need {
			continue
		}
		r.benchmarks = r.benchmarks[:need]
		if n := len(out); n > 0 && r.low == math.Nextafter(out[n-1].high, math.Inf(1)) && slices.Equal(r.benchmarks, out[n-1].benchmarks) {
			out[n-1].high = r.high
			continue
		}
		out = append(out, r)
	}
	return out
}
