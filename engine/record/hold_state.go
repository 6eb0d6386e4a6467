package record

import (
	"cmp"
	"slices"
)

// judgeHolds gives every hold point its newest word. One that was passed and
// corrected away is not passed; where nobody knows which word is newest, it is
// not passed unless all of them pass it.
func (r *replay) judgeHolds() {
	groups := map[[2]string][]int{}
	for _, i := range r.holds {
		p := r.payload(i).(*Hold)
		key := [2]string{p.Excavation, p.Hold}
		groups[key] = append(groups[key], i)
	}
	for _, group := range groups {
		r.st.Holds = append(r.st.Holds, r.judgeHold(group))
	}
	slices.SortFunc(r.st.Holds, func(a, b HoldState) int {
		return cmp.Or(cmp.Compare(a.Excavation, b.Excavation), cmp.Compare(a.Hold, b.Hold))
	})
}

func (r *replay) judgeHold(group []int) HoldState {
	newest := r.latest(group)
	pick := newest[0]
	passes := func(i int) bool { return r.payload(i).(*Hold).Passed && !r.corrected(i) }
	for _, i := range newest {
		if !passes(i) {
			pick = i
		}
	}
	p := r.payload(pick).(*Hold)
	return HoldState{Excavation: p.Excavation, Hold: p.Hold, Passed: passes(pick), By: p.By, Agency: p.Agency, Record: r.id(pick)}
}
