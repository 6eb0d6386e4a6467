package stands

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// everyWay is the price of a trench by trying every sequence of legs, the
// referee of Along.
func everyWay(t Trench, dug, last int, so tally) (tally, bool) {
	entry := len(t.Reach)
	if dug == t.Cells {
		return tally{so.count, so.length + t.Travel[last][entry]}, true
	}
	best, found := tally{}, false
	for s := range entry {
		if s == last {
			continue
		}
		for to := dug + 1; to <= t.Cells; to++ {
			good := true
			for c := range to {
				good = good && !t.Blocked[s][c] && (c < dug || t.Reach[s][c])
			}
			if !good {
				break
			}
			way, ok := everyWay(t, to, s, tally{so.count + 1, so.length + t.Travel[last][s]})
			if ok && (!found || way.less(best)) {
				best, found = way, true
			}
		}
	}
	return best, found
}

func TestAlongAgainstEveryWay(t *testing.T) {
	served, two := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 6).Draw(t, "cells"), rapid.IntRange(1, 5).Draw(t, "stands")
		tr := Trench{Cells: n}
		x := make([]float64, m+1)
		for s := range x {
			x[s] = rapid.Float64Range(0, 30).Draw(t, "x")
		}
		for range m {
			reach, blocked := make([]bool, n), make([]bool, n)
			lo := rapid.IntRange(0, n-1).Draw(t, "low")
			hi := rapid.IntRange(lo, n-1).Draw(t, "high")
			stop := rapid.IntRange(lo, n).Draw(t, "blocks")
			for c := range n {
				reach[c] = c >= lo && c <= hi
				blocked[c] = c >= stop && rapid.IntRange(0, 3).Draw(t, "block") > 0
			}
			tr.Reach, tr.Blocked = append(tr.Reach, reach), append(tr.Blocked, blocked)
		}
		for a := range x {
			row := make([]float64, m+1)
			for b := range x {
				row[b] = math.Abs(x[a] - x[b])
			}
			tr.Travel = append(tr.Travel, row)
		}
		run, ok := Along(tr)
		want, can := everyWay(tr, 0, m, tally{})
		if ok != can {
			t.Fatalf("Along ok = %v, want %v", ok, can)
		}
		if !ok {
			return
		}
		served++
		if len(run.Legs) > 1 {
			two++
		}
		if len(run.Legs) != want.count || !(math.Abs(run.Travel-want.length) < 1e-8) { // m, rounding of sums
			t.Fatalf("Along: %d stands, %v m, want %d, %v", len(run.Legs), run.Travel, want.count, want.length)
		}
	})
	if served == 0 || two == 0 {
		t.Errorf("%d trenches could be dug, %d by several stands; the test says nothing", served, two)
	}
}
