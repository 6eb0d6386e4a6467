package route

import "slices"

// Route looks for the order of least travel that begins at a given place,
// visits every other once and ends anywhere. It is resumable: Step does a
// counted amount of work, Best is the best order so far, never worse than the
// one before.
//
// The method is chained local search as in S. Lin and B. W. Kernighan, "An
// effective heuristic algorithm for the traveling-salesman problem", Operations
// Research 21 (1973) 498–516, with the double-bridge kick of O. Martin, S. W.
// Otto and E. W. Felten (1991) kept local. Deviations: moves are chains of
// reversals, at most depthLimit long; a kick swaps two short neighbouring
// stretches; a kick that does not shorten the route is taken back.
//
// Same input and same work give the same order on every machine.
type Route struct {
	tour   tour
	cost   []float64 // row-major over size places, the last of them the open end
	size   int
	near   [][]int32
	queue  []int32
	queued []bool
	undo   []reversal
	random splitMix
	first  bool // the first descent is done
}

// neighboursKept is how many nearest places a place tries to join: eight to ten
// are usual (common practice), further ones cost time and bring nothing.
const neighboursKept = 10

// New takes the cost of travel between places, symmetric, finite and not
// negative; start is where the route begins. Fewer than two places are a route
// as they stand.
func New(cost [][]float64, start int) *Route {
	n := len(cost)
	r := &Route{size: n + 1, cost: make([]float64, (n+1)*(n+1)), queued: make([]bool, n+1)}
	largest := 0.0
	for i, row := range cost {
		copy(r.cost[i*r.size:], row)
		for _, c := range row {
			largest = max(largest, c)
		}
	}
	r.tieEnd(start, largest)
	r.near = r.nearest()
	r.tour = newTour(r.nearestFirst(start))
	for _, place := range r.tour.order {
		r.push(place)
	}
	return r
}

// tieEnd adds the open end: free to reach from everywhere, and bound to the
// start by a gain that no detour outweighs.
func (r *Route) tieEnd(start int, largest float64) {
	if r.size > 1 {
		r.cost[(r.size-1)*r.size+start] = -4 * (largest + 1)
		r.cost[start*r.size+r.size-1] = -4 * (largest + 1)
	}
}

func (r *Route) at(a, b int32) float64 { return r.cost[int(a)*r.size+int(b)] }

// nearest lists for each place the nearest others, nearest first, equal ones by
// number.
func (r *Route) nearest() [][]int32 {
	near := make([][]int32, r.size)
	for i := range near {
		from := int32(i)
		all := make([]int32, 0, r.size)
		for j := range int32(r.size) {
			if j != from {
				all = append(all, j)
			}
		}
		slices.SortFunc(all, func(a, b int32) int {
			if d, e := r.at(from, a), r.at(from, b); d != e {
				if d < e {
					return -1
				}
				return 1
			}
			return int(a - b)
		})
		near[i] = slices.Clone(all[:min(neighboursKept, len(all))])
	}
	return near
}

// nearestFirst is the route that always goes on to the nearest place not yet
// visited.
func (r *Route) nearestFirst(start int) []int32 {
	visited := make([]bool, r.size)
	order := make([]int32, 0, r.size)
	last := int32(r.size - 1)
	order, visited[last] = append(order, last), true
	if r.size == 1 {
		return order
	}
	at := int32(start)
	for {
		order, visited[at] = append(order, at), true
		if len(order) == r.size {
			return order
		}
		next := int32(-1)
		for j := range int32(r.size) {
			if !visited[j] && (next < 0 || r.at(at, j) < r.at(at, next)) {
				next = j
			}
		}
		at = next
	}
}

// Step does about work kicks and returns when they are done. The route never
// gets longer.
func (r *Route) Step(work int) {
	if r.size < 6 { // start, end and three places or fewer: all orders are tried
		r.tryAll()
		return
	}
	if !r.first {
		r.descend()
		r.first = true
	}
	for range work {
		r.kick()
	}
}

// tryAll takes the best of all orders of a handful of places.
func (r *Route) tryAll() {
	best := slices.Clone(r.tour.order)
	length := r.length(best)
	places := slices.Clone(best)
	var permute func(fixed int)
	permute = func(fixed int) {
		if l := r.length(places); fixed == len(places) && l < length-improvement {
			length = l
			copy(best, places)
		}
		for i := fixed; i < len(places); i++ {
			places[fixed], places[i] = places[i], places[fixed]
			permute(fixed + 1)
			places[fixed], places[i] = places[i], places[fixed]
		}
	}
	permute(min(2, len(places))) // the open end and the start stay first
	r.tour = newTour(best)
}

func (r *Route) length(order []int32) float64 {
	sum := 0.0
	for i, place := range order {
		sum += r.at(place, order[(i+1)%len(order)])
	}
	return sum
}

// kick swaps two neighbouring stretches, mends what that breaks and takes it
// all back unless the route got shorter.
func (r *Route) kick() {
	r.undo = r.undo[:0]
	change := r.swapStretches()
	change += r.descend()
	if change < -improvement {
		return
	}
	for i := len(r.undo) - 1; i >= 0; i-- {
		r.tour.reverse(r.undo[i])
	}
}

// improvement is the least gain that counts, so that rounding cannot keep the
// search going round.
const improvement = 1e-9

// stretch is the longest stretch a kick moves: short ones keep the damage
// local, so that mending costs little.
const stretch = 30

// swapStretches turns … a [b … c] [d … e] f … into … a [d … e] [b … c] f … and
// returns the change in cost.
func (r *Route) swapStretches() float64 {
	n := len(r.tour.order)
	limit := min(stretch, (n-2)/2)
	from, first, second := r.random.below(n), 1+r.random.below(limit), 1+r.random.below(limit)
	t := &r.tour
	a, b := t.order[from], t.order[(from+1)%n]
	c, d := t.order[(from+first)%n], t.order[(from+first+1)%n]
	e, f := t.order[(from+first+second)%n], t.order[(from+first+second+1)%n]
	change := r.at(a, d) + r.at(e, b) + r.at(c, f) - r.at(a, b) - r.at(c, d) - r.at(e, f)
	begin, end := from+1, from+first+second
	r.flip(begin%n, end%n)
	r.flip(begin%n, (begin+second-1)%n)
	r.flip((begin+second)%n, end%n)
	for _, place := range [...]int32{a, b, c, d, e, f} {
		r.push(place)
	}
	return change
}

func (r *Route) push(place int32) {
	if !r.queued[place] {
		r.queued[place] = true
		r.queue = append(r.queue, place)
	}
}

// flip reverses positions from … to and notes it for taking back.
func (r *Route) flip(from, to int) {
	move := reversal{int32(from), int32(to)}
	r.tour.reverse(move)
	r.undo = append(r.undo, move)
}

// Best is the order so far, from the start to the last place.
func (r *Route) Best() []int {
	order := make([]int, 0, r.size-1)
	if r.size < 2 {
		return order
	}
	end := int32(r.size - 1)
	step := r.tour.next
	if !r.boundTo(r.tour.next(end)) {
		step = r.tour.previous
	}
	for at := step(end); at != end; at = step(at) {
		order = append(order, int(at))
	}
	return order
}

// boundTo says whether a place is the start, which the open end is bound to.
func (r *Route) boundTo(place int32) bool { return r.at(int32(r.size-1), place) < 0 }
