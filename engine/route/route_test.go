package route

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// scattered is the cost of straight travel among random places on a square
// kilometre.
func scattered(n int, seed uint64) [][]float64 {
	random := rand.New(rand.NewPCG(seed, 1))
	x, y := make([]float64, n), make([]float64, n)
	for i := range x {
		x[i], y[i] = 1000*random.Float64(), 1000*random.Float64()
	}
	return straight(x, y)
}

func straight(x, y []float64) [][]float64 {
	cost := make([][]float64, len(x))
	for i := range cost {
		cost[i] = make([]float64, len(x))
		for j := range cost[i] {
			dx, dy := x[i]-x[j], y[i]-y[j]
			cost[i][j] = math.Sqrt(dx*dx + dy*dy)
		}
	}
	return cost
}

func travel(cost [][]float64, order []int) float64 {
	sum := 0.0
	for i := 1; i < len(order); i++ {
		sum += cost[order[i-1]][order[i]]
	}
	return sum
}

// heldKarp is the exact least travel, by dynamic programming over subsets (M.
// Held and R. M. Karp, 1962).
func heldKarp(cost [][]float64, start int) float64 {
	n := len(cost)
	best := make([][]float64, 1<<n)
	for s := range best {
		best[s] = slices.Repeat([]float64{math.Inf(1)}, n)
	}
	best[1<<start][start] = 0
	for s := range best {
		for i := range n {
			for j := range n {
				if s>>j&1 == 0 {
					best[s|1<<j][j] = min(best[s|1<<j][j], best[s][i]+cost[i][j])
				}
			}
		}
	}
	return slices.Min(best[1<<n-1])
}

func TestRouteIsLeastOnFewPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 10).Draw(t, "places")
		side := rapid.SampledFrom([]float64{1e-3, 1, 4, 1000}).Draw(t, "side") // 4: many equal distances
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = side * float64(rapid.IntRange(0, 4).Draw(t, "x"))
			y[i] = side * float64(rapid.IntRange(0, 4).Draw(t, "y"))
		}
		start := rapid.IntRange(0, n-1).Draw(t, "start")
		cost := straight(x, y)
		r := New(cost, start)
		r.Step(400)
		order := r.Best()
		checkOrder(t, order, n, start)
		want := heldKarp(cost, start)
		if got := travel(cost, order); !(math.Abs(got-want) <= 1e-6*side) {
			t.Fatalf("travel of Best() = %v m, want %v m (tol: rounding)", got, want)
		}
	})
}

type fataler interface {
	Helper()
	Fatalf(string, ...any)
}

func checkOrder(t fataler, order []int, n, start int) {
	t.Helper()
	if len(order) != n || order[0] != start {
		t.Fatalf("Best() = %v, want %d places from place %d", order, n, start)
	}
	if got := len(slices.Compact(slices.Sorted(slices.Values(order)))); got != n {
		t.Fatalf("Best() = %v visits %d places, want each of %d once", order, got, n)
	}
}

func TestRouteNeverGrowsAndRepeats(t *testing.T) {
	cost := scattered(120, 7)
	a, b := New(cost, 3), New(cost, 3)
	last := math.Inf(1)
	for range 20 {
		a.Step(100)
		got := travel(cost, a.Best())
		if !(got <= last+1e-6) {
			t.Fatalf("travel after more work = %v m, want no more than %v m", got, last)
		}
		last = got
	}
	b.Step(2000)
	if !slices.Equal(a.Best(), b.Best()) {
		t.Fatalf("the same work in other portions gives another order")
	}
	checkOrder(t, a.Best(), 120, 3)
}

func TestRouteOfNone(t *testing.T) {
	r := New(nil, 0)
	r.Step(10)
	if got := r.Best(); len(got) != 0 {
		t.Fatalf("Best() of no places = %v, want none", got)
	}
}

func BenchmarkRoute(b *testing.B) {
	for _, size := range []struct{ places, work int }{{100, 5000}, {200, 5000}, {1000, 3000}} {
		cost := scattered(size.places, uint64(size.places))
		b.Run(benchName(size.places), func(b *testing.B) {
			for b.Loop() {
				r := New(cost, 0)
				r.Step(size.work)
				b.ReportMetric(travel(cost, r.Best()), "m")
			}
		})
	}
}

func benchName(n int) string { return map[int]string{100: "100", 200: "200", 1000: "1000"}[n] }
