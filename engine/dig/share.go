package dig

import (
	"slices"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// ExcavateAll cuts all surfaces out of the same ground. Where several cuts run
// into each other the Share is that of the lowest, of equal ones that of the
// earlier, so that the shares add up to what is dug in all.
func ExcavateAll(cuts []CutSurface, ground Facets) []Excavated {
	out := make([]Excavated, len(cuts))
	work := make([]digging, len(cuts))
	var room buffers
	for i := range cuts {
		work[i] = digging{cut: &cuts[i], buffers: room}
		out[i] = work[i].run(ground)
		room, work[i].buffers = work[i].buffers, buffers{}
	}
	for i, list := range overlaps(out) {
		if len(list) > 0 {
			out[i].Share = work[i].share(i, list, work, ground)
		}
	}
	return out
}

// overlaps lists for each cut the others whose dug ground may overlap its own.
func overlaps(all []Excavated) [][]int {
	order := make([]int, 0, len(all))
	for i := range all {
		if !all[i].Bounds.Empty() {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		switch d := all[a].Bounds.Min.X - all[b].Bounds.Min.X; {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return a - b
	})
	out := make([][]int, len(all))
	var open []int
	for _, i := range order {
		kept := open[:0]
		for _, j := range open {
			if all[j].Bounds.Max.X <= all[i].Bounds.Min.X {
				continue
			}
			kept = append(kept, j)
			if all[i].Bounds.Min.Y < all[j].Bounds.Max.Y && all[j].Bounds.Min.Y < all[i].Bounds.Max.Y {
				out[i] = append(out[i], j)
				out[j] = append(out[j], i)
			}
		}
		open = append(kept, i)
	}
	for _, list := range out {
		slices.Sort(list)
	}
	return out
}

// share is the volume of cut i where none of the others is lower.
func (d *digging) share(i int, others []int, work []digging, ground Facets) unit.Volume {
	cells := slices.Clone(d.cells)
	for _, j := range others {
		cells = work[j].taken(cells, d.cut, j < i)
	}
	box := geom.EmptyBox()
	for k := range cells {
		box = box.Union(cells[k].bounds())
	}
	if box.Empty() {
		return 0
	}
	d.gather(ground, box)
	var out Excavated
	sum := summing{out: &out}
	for k := range cells {
		sum.cell(&cells[k], d.facets)
	}
	d.facets = nil
	return out.Bank
}

// taken is what is left of the cells of a cut where d lies lower.
func (d *digging) taken(cells []cell, in *CutSurface, first bool) []cell {
	own := d.inFrame(in)
	boxes := boxesOf(own)
	var out []cell
	for i := range cells {
		a := &cells[i]
		left := []patch{a.patch}
		box := a.bounds()
		for k := range own {
			if boxes[k].Meets(box) {
				left = without(left, own[k].wins(a, first))
			}
		}
		for _, p := range left {
			out = append(out, cell{patch: p, plane: a.plane, floor: a.floor})
		}
	}
	return out
}

// inFrame are the cells of d as another cut counts.
func (d *digging) inFrame(in *CutSurface) []cell {
	move := d.cut.origin.Sub(in.origin)
	up := d.cut.z0 - in.z0
	out := make([]cell, len(d.cells))
	for i := range d.cells {
		c := d.cells[i]
		c.at = slices.Clone(c.at)
		for k, p := range c.at {
			c.at[k] = p.Add(move)
		}
		c.plane.c += up - (float64(c.plane.x*move.X) + float64(c.plane.y*move.Y))
		out[i] = c
	}
	return out
}
