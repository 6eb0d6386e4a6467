package record

// judgeDirections finds the bottom of every dig that somebody directed.
// Directions that do not know of each other, or one corrected away, leave the
// bottom open: no shot is good before a new one.
func (r *replay) judgeDirections() {
	for _, id := range r.digNames {
		d := r.digs[id]
		var changes []int
		for _, i := range d.directions {
			if r.payload(i).(*Direction).Bottom != nil {
				changes = append(changes, i)
			}
		}
		newest := r.latest(changes)
		if len(newest) == 0 {
			continue
		}
		d.state.OpenBottom = len(newest) > 1 || r.corrected(newest[0])
		if !d.state.OpenBottom {
			d.current = r.id(newest[0])
			d.state.Direction = d.current
			d.state.Bottom = r.payload(newest[0]).(*Direction).Bottom
		}
	}
}

// openOverDigs counts the points of a dig whose newest over-dig has no remedy
// in, or one that was corrected away.
func (r *replay) openOverDigs(all []int) int {
	groups := map[pointKey][]int{}
	for _, i := range all {
		p := r.payload(i).(*OverDig)
		key := keyOf(p.Part, p.Point, p.Station)
		groups[key] = append(groups[key], i)
	}
	open := 0
	for _, group := range groups {
		for _, i := range r.latest(group) {
			if !r.payload(i).(*OverDig).Done || r.corrected(i) {
				open++
				break
			}
		}
	}
	return open
}
