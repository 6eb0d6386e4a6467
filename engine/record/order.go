package record

import (
	"cmp"
	"container/heap"
)

// node is an applied record in its place.
type node struct {
	Record
	lane int     // a chain without a fork
	pos  int     // in its lane, from 1
	sees []int32 // by lane: how far this record knows it; shared, never changed
}

// sequence is the applied records: what is known to come before comes before,
// and where that leaves a choice clock, device, number and id decide.
type sequence struct {
	nodes []node
	index map[ID]int
}

// sequence puts the applied entries in order.
func (a *admission) sequence() *sequence {
	q := queue{a: a}
	needs, followers := make([]int, len(a.entries)), make([][]int, len(a.entries))
	children := make([]int, len(a.entries))
	for i := range a.entries {
		if a.status[i] != Applied {
			continue
		}
		for _, j := range a.restsOn(i) {
			needs[i]++
			followers[j] = append(followers[j], i)
		}
		if p := a.parent[i]; p >= 0 {
			children[p]++
		}
		if needs[i] == 0 {
			q.items = append(q.items, i)
		}
	}
	heap.Init(&q)
	s := &sequence{index: make(map[ID]int, len(a.entries))}
	place := make([]int, len(a.entries))
	lanes := 0
	for q.Len() > 0 {
		i := heap.Pop(&q).(int)
		place[i] = len(s.nodes)
		s.index[a.entries[i].ID] = place[i]
		n := node{Record: a.entries[i].Record, lane: lanes, pos: 1}
		if p := a.parent[i]; p >= 0 && children[p] == 1 {
			before := s.nodes[place[p]]
			n.lane, n.pos = before.lane, before.pos+1
		} else {
			lanes++
		}
		n.sees = s.sees(a, i, place, n.lane)
		s.nodes = append(s.nodes, n)
		for _, w := range followers[i] {
			if needs[w]--; needs[w] == 0 {
				heap.Push(&q, w)
			}
		}
	}
	return s
}

// sees merges what the record before and the causes know. What a lane knows of
// itself goes without saying.
func (s *sequence) sees(a *admission, i int, place []int, lane int) []int32 {
	var out []int32
	own := false // out may be changed
	for k, j := range a.restsOn(i) {
		from := s.nodes[place[j]]
		if k == 0 {
			out = from.sees[:len(from.sees):len(from.sees)]
		}
		if from.lane == lane || !raises(out, from) {
			continue
		}
		if !own {
			out, own = append([]int32(nil), out...), true
		}
		out = merge(out, from)
	}
	return out
}

// raises says that a node knows more than sees tells.
func raises(sees []int32, from node) bool {
	if from.lane >= len(sees) || int(sees[from.lane]) < from.pos {
		return true
	}
	for lane, pos := range from.sees {
		if lane >= len(sees) && pos > 0 || lane < len(sees) && sees[lane] < pos {
			return true
		}
	}
	return false
}

func merge(sees []int32, from node) []int32 {
	for len(sees) < max(len(from.sees), from.lane+1) {
		sees = append(sees, 0)
	}
	for lane, pos := range from.sees {
		sees[lane] = max(sees[lane], pos)
	}
	sees[from.lane] = max(sees[from.lane], int32(from.pos))
	return sees
}

// knows is how far a record knows a lane.
func (s *sequence) knows(b, lane int) int {
	n := &s.nodes[b]
	if n.lane == lane {
		return n.pos - 1
	}
	if lane < len(n.sees) {
		return int(n.sees[lane])
	}
	return 0
}

// before says that a is known to have come before b: b rests on it, through
// causes and chains. Of two records neither may be known to come first.
func (s *sequence) before(a, b int) bool {
	return a != b && s.knows(b, s.nodes[a].lane) >= s.nodes[a].pos
}

// queue is a heap of entries by clock, device, number and id.
type queue struct {
	a     *admission
	items []int
}

func (q *queue) Len() int { return len(q.items) }
func (q *queue) Less(i, j int) bool {
	x, y := &q.a.entries[q.items[i]], &q.a.entries[q.items[j]]
	return cmp.Or(x.Clock.Compare(y.Clock), cmp.Compare(x.Device, y.Device), cmp.Compare(x.Seq, y.Seq), x.ID.Compare(y.ID)) < 0
}
func (q *queue) Swap(i, j int) { q.items[i], q.items[j] = q.items[j], q.items[i] }
func (q *queue) Push(x any)    { q.items = append(q.items, x.(int)) }
func (q *queue) Pop() any {
	x := q.items[len(q.items)-1]
	q.items = q.items[:len(q.items)-1]
	return x
}
