package siting

import (
	"encoding/binary"
	"slices"

	"spadework/engine/cover"
)

// sets are the candidates as a cover sees them: those that serve the same
// cells are one set.
type sets struct {
	problem cover.Problem
	members [][]int32 // candidates of each set, best first
}

// setsOf gathers candidates by the cells that they serve within an error.
// element numbers the cells of the cover, −1 for those left out.
func setsOf(candidates []candidate, element []int32, limit int32) sets {
	var out sets
	found := map[string]int{}
	var cells []int32
	var key []byte
	for i := range candidates {
		c := &candidates[i]
		cells, key = cells[:0], key[:0]
		for k, cell := range c.cells {
			if e := element[cell]; e >= 0 && c.errors[k] <= limit {
				cells = append(cells, e)
				key = binary.LittleEndian.AppendUint32(key, uint32(e))
			}
		}
		if len(cells) == 0 {
			continue
		}
		set, ok := found[string(key)]
		if !ok {
			set = len(out.members)
			found[string(key)] = set
			out.problem.Sets = append(out.problem.Sets, slices.Clone(cells))
			out.members = append(out.members, nil)
		}
		out.members[set] = append(out.members[set], int32(i))
	}
	for set := range out.members {
		slices.SortStableFunc(out.members[set], func(a, b int32) int {
			return order(float64(candidates[a].worst()), float64(candidates[b].worst()), a, b)
		})
	}
	return out
}

// worst is the largest error of a candidate's cells.
func (c *candidate) worst() int32 {
	if len(c.errors) == 0 {
		return 0
	}
	return slices.Max(c.errors)
}

// elements numbers the cells that some candidate serves.
func elements(served []bool) (element []int32, count int) {
	element = make([]int32, len(served))
	for c, ok := range served {
		element[c] = -1
		if ok {
			element[c] = int32(count)
			count++
		}
	}
	return element, count
}
