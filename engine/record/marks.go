package record

import "slices"

// marks are records of one sort, by lane and there in order, so that a question
// about all of them is asked of one in each lane.
type marks struct {
	s     *sequence
	lanes []laneMarks
}

type laneMarks struct {
	lane int
	at   []int
}

// add adds a record later than all of its lane added before.
func (m *marks) add(i int) {
	lane := m.s.nodes[i].lane
	for k := range m.lanes {
		if m.lanes[k].lane == lane {
			m.lanes[k].at = append(m.lanes[k].at, i)
			return
		}
	}
	m.lanes = append(m.lanes, laneMarks{lane, []int{i}})
}

// lastBefore gives in each lane the last mark known to come before b.
func (m *marks) lastBefore(b int, yield func(i int) bool) bool {
	for _, l := range m.lanes {
		known := m.s.knows(b, l.lane)
		n, _ := slices.BinarySearchFunc(l.at, known+1, func(i, pos int) int { return m.s.nodes[i].pos - pos })
		if n > 0 && yield(l.at[n-1]) {
			return true
		}
	}
	return false
}

// knowing says that some mark is known to come after a.
func (m *marks) knowing(a int) bool {
	for _, l := range m.lanes {
		if m.s.before(a, l.at[len(l.at)-1]) {
			return true
		}
	}
	return false
}

// between says that some mark is known to come after a and before b.
func (m *marks) between(a, b int) bool {
	return m.lastBefore(b, func(i int) bool { return m.s.before(a, i) })
}

// lastNotAfter gives in each lane the last mark that is not known to come after
// a: it came before, or nobody knows.
func (m *marks) lastNotAfter(a int, yield func(i int) bool) bool {
	for _, l := range m.lanes {
		n, _ := slices.BinarySearchFunc(l.at, true, func(i int, _ bool) int {
			if m.s.before(a, i) {
				return 0
			}
			return -1
		})
		if n > 0 && yield(l.at[n-1]) {
			return true
		}
	}
	return false
}
