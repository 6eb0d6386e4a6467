package record

import "cmp"

func compareText(a, b string) int { return cmp.Compare(a, b) }

// write fills in the state what the work came to.
func (r *replay) write() {
	st := r.st
	st.Count = len(r.s.nodes)
	st.Log = make([]Line, len(r.s.nodes))
	for i := range r.s.nodes {
		st.Log[i] = Line{Record: r.s.nodes[i].Record, Corrected: r.corrected(i), Accepted: r.a.accept[r.id(i)]}
	}
	for _, t := range r.tags {
		st.Tags = append(st.Tags, t.Tag)
	}
	for _, id := range r.digNames {
		st.Digs = append(st.Digs, r.digs[id].state)
	}
	if r.left >= 0 {
		n := r.s.nodes[r.left]
		p := n.Payload.(*Handover)
		st.Left = &Left{Ends: p.Ends, To: p.To, Words: p.Words, Record: n.ID, Person: n.Person, Time: n.Time}
	}
}
