package watch

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/unit"
)

// TestCheckShotsNeverClear: whatever check shots say, no dig is less at risk than
// without them, none is closed by them, and numbers that were gone stay gone.
func TestCheckShotsNeverClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLog(t)
		bare := l
		bare.Readings = slices.DeleteFunc(slices.Clone(l.Readings), func(r Reading) bool { return r.Machine })
		for range rapid.IntRange(1, 3).Draw(t, "shots") {
			l.Readings = append(l.Readings, Reading{At: 7, Point: "F1", Off: unit.Length(rapid.Float64Range(-0.02, 0.02).Draw(t, "shot")), Sigma: 0.003, Machine: true})
		}
		with, f := Judge(l, DefaultLimit)
		without, g := Judge(bare, DefaultLimit)
		if f != nil || g != nil {
			t.Fatal(f, g)
		}
		for i, r := range with.Risks {
			if r.Out < without.Risks[i].Out || r.Closed != without.Risks[i].Closed {
				t.Fatalf("%s at risk %+v with check shots, %+v without", r.Dig, r, without.Risks[i])
			}
		}
		if with.Out < without.Out || with.Next < without.Next || with.LastGood > without.LastGood {
			t.Fatalf("check shots cleared something: %+v, without them %+v", with, without)
		}
		if !without.State.Numbers() && with.State.Numbers() {
			t.Fatalf("check shots brought numbers back: %s, without them %s", with.State, without.State)
		}
	})
}

// TestCheckShotsAccuse: three check shots 30 mm off on a bottom stop the numbers.
func TestCheckShotsAccuse(t *testing.T) {
	l := threeMarks(0, 0, 0)
	l.MachineBias = 0.003
	l.Points = append(l.Points, Point{ID: "F1", At: l.Digs[0].At})
	l.Readings = append(l.Readings, Reading{At: 1, Point: "F1", Sigma: 0.002})
	for range 3 {
		l.Readings = append(l.Readings, Reading{At: 3, Point: "F1", Off: 0.03, Sigma: 0.003, Machine: true})
	}
	v, f := Judge(l, DefaultLimit)
	if f != nil {
		t.Fatal(f)
	}
	if v.State.Numbers() || !(v.Next > 0.5) {
		t.Errorf("three check shots 30 mm off leave %s, next %.3f", v.State, v.Next)
	}
}

// TestUnclosedIsNeverGood: a dig after the last close counts as out.
func TestUnclosedIsNeverGood(t *testing.T) {
	l := oneMark(0)
	l.Digs = append(l.Digs, Dig{ID: "F2", Dug: 2.5, Band: band}, Dig{ID: "F0", Dug: -1, Band: band})
	v, f := Judge(l, DefaultLimit)
	if f != nil {
		t.Fatal(f)
	}
	if !slices.Equal(v.Open, []string{"F2", "F0"}) {
		t.Errorf("open = %v, want F2 and F0", v.Open)
	}
	for _, r := range v.Risks[1:] {
		if r.Closed || r.Out != 1 || !math.IsNaN(float64(r.By)) {
			t.Errorf("%s is judged %+v without a close", r.Dig, r)
		}
	}
	none, f := Judge(Log{Digs: l.Digs}, DefaultLimit)
	if f != nil || none.State != Unclosed || len(none.Open) != 3 || none.Out != 1 {
		t.Errorf("without a reading: %+v, %v", none, f)
	}
	l.Stops = []Hours{2.2}
	if v, _ = Judge(l, DefaultLimit); v.State != Unclosed {
		t.Errorf("after a stop: %s, want %s", v.State, Unclosed)
	}
}
