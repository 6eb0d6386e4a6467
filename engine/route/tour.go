package route

// tour is a closed order of places with where each of them is.
type tour struct {
	order []int32
	where []int32
}

// reversal turns round the places at positions from … to, past the end onwards
// from the beginning. Done twice it undoes itself.
type reversal struct{ from, to int32 }

func newTour(order []int32) tour {
	t := tour{order, make([]int32, len(order))}
	for i, place := range order {
		t.where[place] = int32(i)
	}
	return t
}

func (t *tour) next(place int32) int32 {
	i := int(t.where[place]) + 1
	if i == len(t.order) {
		i = 0
	}
	return t.order[i]
}

func (t *tour) previous(place int32) int32 {
	i := int(t.where[place])
	if i == 0 {
		i = len(t.order)
	}
	return t.order[i-1]
}

func (t *tour) reverse(r reversal) {
	n := int32(len(t.order))
	i, j := r.from, r.to
	length := j - i
	if length < 0 {
		length += n
	}
	for range (length + 1) / 2 {
		a, b := t.order[i], t.order[j]
		t.order[i], t.order[j] = b, a
		t.where[b], t.where[a] = i, j
		if i++; i == n {
			i = 0
		}
		if j--; j < 0 {
			j = n - 1
		}
	}
}

// span is how many places lie at positions from … to.
func (t *tour) span(from, to int32) int {
	length := to - from
	if length < 0 {
		length += int32(len(t.order))
	}
	return int(length) + 1
}
