package cover

// ascent raises the Lagrangian bound by the subgradient method of M. Held and
// R. Karp (1971): quick to a bound near that of the relaxation, slow from there.
type ascent struct {
	l     *relaxer
	u     []float64 // of each row
	way   []float64 // of each row, the direction, which keeps a part of the last
	red   []float64 // cost of each column less the multipliers of its rows
	state []int8    // all free

	pace  float64
	stale int // rounds without a better bound
	round int
	high  float64 // best bound, as floats have it
	best  []multiplier
	work  int64
}

const (
	// climbRounds end the ascent; the pace halves after so many stale rounds,
	// and a slow pace ends it too. Common practice.
	climbRounds = 4000
	staleRounds = 20
	leastPace   = 0.001
	// enough beyond the last whole cost below a cover's proves the cover: more
	// than rounding the multipliers down can lose.
	enough = 1e-3
	// memory is the part of the last direction that is kept.
	memory = 0.95
)

// newAscent starts where each row costs its cheapest share.
func newAscent(m *matrix) *ascent {
	a := &ascent{l: newRelaxer(m), u: make([]float64, len(m.rows)), way: make([]float64, len(m.rows)),
		red: make([]float64, len(m.sets)), state: make([]int8, len(m.sets)), pace: 1}
	for i, cols := range m.rows {
		for k, j := range cols {
			if c := float64(m.cost[j]) / float64(len(m.sets[j])); k == 0 || c < a.u[i] {
				a.u[i] = c
			}
		}
	}
	return a
}

// step makes one round towards a cover's cost, and says whether it was the last.
func (a *ascent) step(cost int64) (done bool) {
	low := a.measure()
	a.round++
	if a.stale++; low > a.high {
		if low > a.high+float64(1e-4*a.high) {
			a.stale = 0
		}
		a.high = low
		a.keep()
	}
	if a.stale > staleRounds {
		a.pace, a.stale = a.pace/2, 0
	}
	norm := a.aim()
	a.work += 2 * a.l.m.entries()
	if norm == 0 || a.high > float64(cost-1)+enough || a.round > climbRounds || a.pace < leastPace {
		return true
	}
	stride := float64(a.pace*(1.01*float64(cost)-low)) / norm
	for i := range a.u {
		a.u[i] = max(0, a.u[i]+float64(stride*a.way[i]))
	}
	return false
}

// measure is the Lagrangian bound.
func (a *ascent) measure() float64 {
	low := 0.0
	for _, u := range a.u {
		low += u
	}
	for j, set := range a.l.m.sets {
		r := float64(a.l.m.cost[j])
		for _, i := range set {
			r -= a.u[i]
		}
		a.red[j] = r
		low += min(r, 0)
	}
	return low
}

// aim points to rows that no column of negative reduced cost holds, and away
// from those that several hold. It returns the square of the length.
func (a *ascent) aim() (norm float64) {
	value := a.l.value
	for i := range value {
		value[i] = 1
	}
	for j, set := range a.l.m.sets {
		if a.red[j] < 0 {
			for _, i := range set {
				value[i]--
			}
		}
	}
	for i, g := range value {
		a.way[i] = float64(memory*a.way[i]) + float64((1-memory)*g)
		norm += float64(a.way[i] * a.way[i])
	}
	return norm
}

// keep stores the multipliers.
func (a *ascent) keep() {
	a.best = a.best[:0]
	for i, u := range a.u {
		if u > 0 {
			a.best = append(a.best, multiplier{i, u})
		}
	}
}

// bound is the best bound in whole cost, certified.
func (a *ascent) bound() int64 {
	return a.l.up(a.l.prove(a.state, a.best))
}
