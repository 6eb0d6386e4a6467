package plan

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// lineGap is the least distance between a ring, its inside included, and an open
// line, 0 where they touch; infinite for a line or ring of no points.
func lineGap(ring geom.Ring, line []geom.Point) unit.Length {
	if len(line) == 0 || len(ring) == 0 {
		return unit.Length(math.Inf(1))
	}
	if len(ring) > 2 && ring.Contains(line[0]) != geom.Outside {
		return 0
	}
	gap := math.Inf(1)
	for i := range ring {
		a, b := ring.Side(i)
		for k := range max(1, len(line)-1) {
			gap = min(gap, geom.SegmentGap(a, b, line[k], line[min(k+1, len(line)-1)]))
		}
	}
	return unit.Length(gap)
}

// ringGap is the least distance between two rings, 0 where they overlap.
func ringGap(a, b geom.Ring) unit.Length {
	if len(b) == 0 {
		return unit.Length(math.Inf(1))
	}
	if len(a) > 0 && len(b) > 2 && b.Contains(a[0]) != geom.Outside {
		return 0
	}
	return lineGap(a, append(b[:len(b):len(b)], b[0]))
}

// gap is the least of a distance over the parts of a dig.
func (d Dig) gap(to func(geom.Ring) unit.Length) unit.Length {
	least := unit.Length(math.Inf(1))
	for _, part := range d.Parts {
		least = min(least, to(part.Outline))
	}
	return least
}

// flare is how far the top edge of a dig lies out from the edge of its bottom at
// most, 0 for vertical sides; ok is false where the depth that it grows with is
// not known.
func (d Dig) flare() (out unit.Length, ok bool) {
	slopes := d.Excavation.Sides.Each
	if len(slopes) == 0 {
		slopes = append(slopes, d.Excavation.Sides.All)
	}
	for _, s := range slopes {
		run := unit.Length(0)
		for _, b := range s.Benches {
			run += b.Width
		}
		if s.Batter > 0 {
			if d.Depth == nil {
				return 0, false
			}
			run += unit.Length(s.Batter) * max(0, d.Depth.Max)
		}
		out = max(out, run)
	}
	return out, true
}

// fromEdge is a distance from the bottom's outline turned to one from the top
// edge, nil where that is not known.
func (d Dig) fromEdge(gap unit.Length) *unit.Length {
	flare, ok := d.flare()
	if !ok {
		return nil
	}
	out := max(0, gap-flare)
	return &out
}
