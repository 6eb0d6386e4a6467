package cover

import (
	"fmt"
	"slices"
)

// maxTotal limits the sum of all costs, so that every sum of costs is exact in a
// float64 and leaves room to scale a bound in an int64 (see prove).
const maxTotal = 1 << 40

// Problem asks for the cheapest sets that together hold the elements 0 to
// Elements−1.
type Problem struct {
	// Elements is the number of elements, 0 or more.
	Elements int
	// Sets lists the elements of each set, in any order, none twice. A set may
	// be empty.
	Sets [][]int32
	// Cost is the cost of each set, 0 or more, their sum at most 2⁴⁰. Nil makes
	// each set cost 1.
	Cost []int64
}

// check says what makes the problem no problem.
func (p Problem) check() error {
	if p.Elements < 0 {
		return fmt.Errorf("cover: %d elements, want 0 or more", p.Elements)
	}
	if p.Cost != nil && len(p.Cost) != len(p.Sets) {
		return fmt.Errorf("cover: %d costs for %d sets, want one each", len(p.Cost), len(p.Sets))
	}
	if err := p.checkCosts(); err != nil {
		return err
	}
	seenIn := make([]int, p.Elements)
	for j, set := range p.Sets {
		for _, e := range set {
			if e < 0 || int(e) >= p.Elements {
				return fmt.Errorf("cover: set %d holds element %d, want 0 to %d", j, e, p.Elements-1)
			}
			if seenIn[e] == j+1 {
				return fmt.Errorf("cover: set %d holds element %d twice", j, e)
			}
			seenIn[e] = j + 1
		}
	}
	return nil
}

// checkCosts finds a negative cost or too large a sum.
func (p Problem) checkCosts() error {
	total := int64(0)
	for j, c := range p.Cost {
		if c < 0 {
			return fmt.Errorf("cover: set %d costs %d, want 0 or more", j, c)
		}
		if c > maxTotal-total {
			return fmt.Errorf("cover: costs up to set %d sum to more than 2^40", j)
		}
		total += c
	}
	return nil
}

// cost of set j.
func (p Problem) cost(j int32) int64 {
	if p.Cost == nil {
		return 1
	}
	return p.Cost[j]
}

// divisor is the greatest common divisor of the costs, 1 if all are 0. Every
// cover costs a multiple of it.
func (p Problem) divisor() int64 {
	g := int64(0)
	for j := range p.Sets {
		for a := p.cost(int32(j)); a != 0; {
			g, a = a, g%a
		}
	}
	return max(g, 1)
}

// matrix of the problem: all elements that some set holds, each set's elements
// in rising order, costs divided by unit.
func (p Problem) matrix(unit int64) (m *matrix, uncovered []int32) {
	m = &matrix{}
	held := make([]int32, p.Elements)
	for _, set := range p.Sets {
		for _, e := range set {
			held[e]++
		}
	}
	row := make([]int32, p.Elements)
	for e, n := range held {
		row[e] = int32(len(m.rows))
		if n == 0 {
			uncovered = append(uncovered, int32(e))
			continue
		}
		m.rows = append(m.rows, make([]int32, 0, n))
	}
	for j, set := range p.Sets {
		col := make([]int32, len(set))
		for k, e := range set {
			col[k] = row[e]
			m.rows[row[e]] = append(m.rows[row[e]], int32(j))
		}
		slices.Sort(col)
		m.sets = append(m.sets, col)
		m.cost = append(m.cost, p.cost(int32(j))/unit)
		m.id = append(m.id, int32(j))
	}
	return m, uncovered
}
