package route

import (
	"math"
	"os"
	"strconv"
	"testing"
)

// treeBound is a lower bound on the travel of an open route from start, its
// prices on the places found by ascent (M. Held and R. M. Karp, The
// traveling-salesman problem and minimum spanning trees, part II, 1971). An open
// route is a spanning tree in which the start and the last place have one
// neighbour and all others two; so its travel is at least that of the least tree
// at costs raised by the prices of both ends, less what the prices add. Which
// place is last is not known: the one of the least price is the worst case.
func treeBound(cost [][]float64, start int, target float64, rounds int) float64 {
	n := len(cost)
	price, degree := make([]float64, n), make([]int, n)
	best, scale := 0.0, 2.0
	since := 0
	for range rounds {
		weight := leastTree(cost, price, degree)
		// A route R costs Σ(c + πi + πj) − 2Σπ + π(start) + π(last); the unknown last
		// place has at least the least price.
		least := math.Inf(1)
		sum := 0.0
		for i, p := range price {
			sum += 2 * p
			if i != start {
				least = min(least, p)
			}
		}
		bound := weight - sum + price[start] + least
		if bound > best {
			best, since = bound, 0
		} else if since++; since > 20 {
			scale, since = scale/2, 0
		}
		norm := 0.0
		for i := range degree {
			want := 2
			if i == start {
				want = 1
			}
			degree[i] -= want
			norm += float64(degree[i] * degree[i])
		}
		if norm == 0 {
			break
		}
		step := scale * max(target-bound, 1e-6*target) / norm
		for i, d := range degree {
			price[i] += step * float64(d)
		}
	}
	return best
}

// leastTree is the weight of a least spanning tree under prices (R. C. Prim,
// 1957), and the number of neighbours of each place in it.
func leastTree(cost [][]float64, price []float64, degree []int) float64 {
	n := len(cost)
	in, from, away := make([]bool, n), make([]int, n), make([]float64, n)
	for i := range away {
		away[i], degree[i] = math.Inf(1), 0
	}
	weight := 0.0
	at := 0
	in[0] = true
	for range n - 1 {
		next := -1
		for j := range n {
			if in[j] {
				continue
			}
			if c := cost[at][j] + price[at] + price[j]; c < away[j] {
				away[j], from[j] = c, at
			}
			if next < 0 || away[j] < away[next] {
				next = j
			}
		}
		in[next] = true
		weight += away[next]
		degree[next]++
		degree[from[next]]++
		at = next
	}
	return weight
}

// The bound is under every route, the least one too, and near it.
func TestTreeBoundIsUnderTheLeast(t *testing.T) {
	for seed := range uint64(20) {
		cost := scattered(9, 100+seed)
		least := heldKarp(cost, 0)
		got := treeBound(cost, 0, least, 300)
		if !(got <= least+1e-6) || !(got >= 0.6*least) {
			t.Errorf("seed %d: bound %v m, want at most %v m and at least 0.6 of it", seed, got, least)
		}
	}
}

// best is the shortest route known of scattered(n, n) from place 0 in metres: this
// package's own long run, no outside optimum, by KICKS=60000 SPADEWORK_LONG=1 go
// test -run LongBest -v ./engine/route (1 000 places: 20 000 kicks).
var best = map[int]struct {
	travel float64
	work   int     // kicks in the test
	within float64 // share over the best known
	over   float64 // over the tree's bound
}{
	100:  {7709.893, 5000, 0.001, 0.05},
	200:  {10353.570, 5000, 0.001, 0.05},
	1000: {23170.758, 3000, 0.005, 0.05},
}

func TestRouteIsNearTheBest(t *testing.T) {
	for _, n := range []int{100, 200, 1000} {
		b := best[n]
		cost := scattered(n, uint64(n))
		r := New(cost, 0)
		r.Step(b.work)
		checkOrder(t, r.Best(), n, 0)
		got := travel(cost, r.Best())
		if !(got <= b.travel*(1+b.within)+1e-3) {
			t.Errorf("%d places: travel %.3f m, want %.3f m and %.1f %%", n, got, b.travel, 100*b.within)
		}
		rounds := 300
		if n > 200 {
			rounds = 150
		}
		if testing.Short() {
			continue
		}
		bound := treeBound(cost, 0, got, rounds)
		t.Logf("%d places: travel %.3f m, best known %.3f m, no route under %.3f m (%.2f %% off)", n, got, b.travel, bound, 100*(got/bound-1))
		if !(bound <= got && bound <= b.travel+1e-3 && got <= bound*(1+b.over)) {
			t.Errorf("%d places: travel %.3f m, best known %.3f m, bound %.3f m, want both over it, by %v at most", n, got, b.travel, bound, b.over)
		}
	}
}

func TestLongBestKnown(t *testing.T) {
	if os.Getenv("SPADEWORK_LONG") == "" {
		t.Skip("SPADEWORK_LONG is not set")
	}
	kicks := 400_000
	if v, err := strconv.Atoi(os.Getenv("KICKS")); err == nil {
		kicks = v
	}
	for _, n := range []int{100, 200, 1000} {
		cost := scattered(n, uint64(n))
		r := New(cost, 0)
		r.Step(kicks)
		t.Logf("%d places, %d kicks: %.6f m", n, kicks, travel(cost, r.Best()))
	}
}
