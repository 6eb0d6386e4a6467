package watch

import (
	"math"
	"slices"
	"testing"

	"spadework/engine/geom"
)

// TestAtRisk: one bump in eight hours, three digs an hour, four digs: by hand
// Σ 1 − e^(−i/24), i = 1 … 4 = 0.4004 (exact to the digits).
func TestAtRisk(t *testing.T) {
	want := 4 - math.Exp(-1.0/24) - math.Exp(-2.0/24) - math.Exp(-3.0/24) - math.Exp(-4.0/24)
	near(t, "digs at risk", AtRisk(4, 3, 0.125), want, 1e-12)
	near(t, "digs at risk for sure", AtRisk(5, 3, 1e9), 5, 1e-12)
	if !math.IsNaN(AtRisk(1, 0, 1)) {
		t.Error("digs at no pace are at a risk")
	}
}

// TestSchedule: every span keeps the limit, one dig more would not (but for breaks),
// and lunch at 4.8 hours draws a close to it.
func TestSchedule(t *testing.T) {
	c := Closes{Pace: 3, Rate: 0.125, Most: 0.5, Digs: 24}
	plain, enough := c.Schedule()
	if !enough || plain[len(plain)-1].After != 24 {
		t.Fatalf("schedule %+v, %v", plain, enough)
	}
	before := 0
	for i, p := range plain {
		n := p.After - before
		if AtRisk(n, 3, 0.125) > 0.5 || i < len(plain)-1 && AtRisk(n+1, 3, 0.125) <= 0.5 {
			t.Errorf("close %d after %d digs: %.3f at risk", i, n, AtRisk(n, 3, 0.125))
		}
		before = p.After
	}
	c.Breaks = []Hours{4.8}
	lunch, _ := c.Schedule()
	if !slices.ContainsFunc(lunch, func(c Close) bool { return c.Break && c.At == 4.8 && c.After == 14 }) {
		t.Errorf("no close at lunch: %+v", lunch)
	}
	c.Most = 0.01
	if every, enough := c.Schedule(); enough || len(every) < 23 {
		t.Errorf("a limit that no schedule keeps: %d closes, %v", len(every), enough)
	}
}

// TestCheapest: with a walk of 30 and a dig of 200 to do again, by hand the cost a dig
// is least where no neighbour is cheaper; without a price there is none.
func TestCheapest(t *testing.T) {
	c := Closes{Pace: 3, Rate: 0.125, Digs: 24}
	cost := func(n int) float64 { return (30 + 200*AtRisk(n, 3, 0.125)) / float64(n) }
	n := c.Cheapest(30, 200)
	if n < 2 || n > 23 || !(cost(n) <= cost(n-1)) || !(cost(n) <= cost(n+1)) {
		t.Errorf("cheapest every %d digs: %.3f, neighbours %.3f and %.3f", n, cost(n), cost(n-1), cost(n+1))
	}
	if c.Cheapest(0, 200) != 0 || c.Cheapest(30, 0) != 0 {
		t.Error("a spacing that costs least without a price")
	}
	if dear := c.Cheapest(30, 2000); !(dear < n) {
		t.Errorf("ten times as dear to do again: every %d digs, want under %d", dear, n)
	}
}

// TestAlarmsHear: an alarm that tells three bumps in four, armed half an hour after
// each start, leaves of four hours with a restart after two the two half hours and a
// quarter of the rest: 1 + 3/4.
func TestAlarmsHear(t *testing.T) {
	l := Log{Starts: []Hours{2, 0}, Habits: Habits{Sees: 0.75, Arms: 0.5}}
	near(t, "hours unseen", l.unseen(0, 4), 1.75, 1e-12)
	near(t, "hours unseen in between", l.unseen(1, 2), 0.25, 1e-12)
	near(t, "hours unseen without an alarm", Log{}.unseen(1, 4), 3, 1e-12)
	l.Starts = []Hours{0, 0.2}
	near(t, "started twice before it armed", l.unseen(0, 1), 0.7+0.25*0.3, 1e-12)
}

// TestReveals: the far corner first, then the other side.
func TestReveals(t *testing.T) {
	points := []Point{{ID: "near", At: geom.Point{X: 5}}, {ID: "far", At: geom.Point{X: 50}}, {ID: "beside it", At: geom.Point{X: 49, Y: 3}}, {ID: "across", At: geom.Point{X: -30}}}
	if got := Reveals(Setup{}, points); !slices.Equal(got, []string{"far", "across", "near", "beside it"}) {
		t.Errorf("Reveals = %v", got)
	}
}
