package beam_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

func TestWindowKeepsEveryRodOnTheStaff(t *testing.T) {
	// Hand-derived, exact: rod 1 to 4 m; bottoms 98 at the laser, and 97 where a 1 %
	// plane stands 0.3 m higher: HI ≥ 99 and ≤ 97 + 4 − 0.3.
	pl := beam.Plane{Gradient: geom.Vector{X: 0.01}, Curvature: beam.None}
	rod := beam.Rod{ID: "R1", Shortest: 1, Longest: 4}
	bottoms := []beam.Bottom{{ID: "F1", Elevation: 98}, {ID: "F2", At: geom.Point{X: 30}, Elevation: 97}}
	w, f := beam.WindowFor(pl, rod, bottoms)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "low", float64(w.Low), 99, 1e-12, "exact")
	near(t, "high", float64(w.High), 100.7, 1e-12, "exact")
	bottoms[1].Elevation = 95.2
	_, f = beam.WindowFor(pl, rod, bottoms)
	if f == nil || !strings.Contains(f.Error(), `"F1" needs the beam at 99.000 m or higher and "F2" at 98.900 m or lower`) {
		t.Errorf("WindowFor(3.1 m of difference on a 3 m rod) fault = %v", f)
	}
}

func TestPlannedRodLeavesTheHIOpen(t *testing.T) {
	pl := beam.Plane{Gradient: geom.Vector{X: 0.01}, Curvature: beam.None}
	r := pl.PlannedRod(geom.Point{X: 30}, 98.72, beam.Window{Low: 100, High: 101})
	near(t, "subtract", float64(r.Subtract), 98.42, 1e-12, "98.72 − 0.30, exact")
	near(t, "low", float64(r.Low), 1.58, 1e-12, "exact")
	near(t, "high", float64(r.High), 2.58, 1e-12, "exact")
	if got := english(r.Text()); got != "HI ____ − 98.420 m = ____" {
		t.Errorf("Text = %q", got)
	}
	if beam.Planned.String() != "planned" || beam.Live.String() != "live" {
		t.Error("states are not called planned and live")
	}
}

// Law: the planned sum filled in with the day's HI is the live rod, and inside
// the window it is on the rod.
func TestLawPlannedSumIsTheLiveRod(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pl := beam.Plane{At: anyPoint(t, "laser"), Gradient: anyGradient(t), Curvature: anyCurvature(t)}
		rod := beam.Rod{ID: "R", Shortest: 0.5, Longest: unit.Reading(rapid.Float64Range(2, 60).Draw(t, "longest"))}
		var bottoms []beam.Bottom
		for range rapid.IntRange(1, 4).Draw(t, "n") {
			bottoms = append(bottoms, beam.Bottom{ID: "F", At: anyPoint(t, "at"), Elevation: unit.Elevation(rapid.Float64Range(90, 110).Draw(t, "z"))})
		}
		w, f := beam.WindowFor(pl, rod, bottoms)
		if f != nil {
			t.Skip("no height serves all")
		}
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		pl.HI = w.Low.Plus(unit.Length(share * float64(w.High-w.Low)))
		for _, b := range bottoms {
			live := pl.GradeRod(b.At, b.Elevation)
			close9(t, "HI − subtract", float64(pl.HI-pl.PlannedRod(b.At, b.Elevation, w).Subtract), float64(live))
			if !(live >= rod.Shortest-1e-9 && live <= rod.Longest+1e-9) {
				t.Fatalf("rod %g is off the staff %g to %g", live, rod.Shortest, rod.Longest)
			}
		}
	})
}
