package beam_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

func TestOneRodUnderAWrongPlane(t *testing.T) {
	// Hand-derived, exact: a 2 % trench of 50 m under a 1.9 % plane: rods differ by
	// 50 mm end to end, so the best one is 25 mm out at each end.
	run := beam.Run{ID: "T1", To: geom.Point{Y: 50}, FromElevation: 10, ToElevation: 9}
	pl := beam.Plane{HI: 11, Gradient: geom.Vector{Y: -0.019}, Curvature: beam.None}
	for _, c := range []struct {
		allowed         beam.Band
		fits            bool
		tooHigh, tooLow float64
	}{
		{beam.Band{Above: 0.025, Below: 0.025}, true, 0.025, 0.025},
		{beam.Band{Above: 0.024, Below: 0.025}, false, 0.0245, 0.0255},
		{beam.Band{Above: 0.010, Below: 0.040}, true, 0.010, 0.040},
		{beam.Band{}, false, 0.025, 0.025},
	} {
		got, f := beam.OneRod(pl, run, c.allowed)
		if f != nil {
			t.Fatal(f)
		}
		if got.Fits != c.fits {
			t.Errorf("OneRod(%v).Fits = %v, want %v", c.allowed, got.Fits, c.fits)
		}
		near(t, "too high", float64(got.TooHigh), c.tooHigh, 1e-9, "exact")
		near(t, "too low", float64(got.TooLow), c.tooLow, 1e-9, "exact")
		near(t, "low", float64(got.Low), 1.0, 1e-9, "exact: rod at the start")
		near(t, "high", float64(got.High), 1.05, 1e-9, "exact: rod at the end")
	}
}

func TestOneAxisAimedAsideLeansAcrossTheTrench(t *testing.T) {
	// Hand-derived, exact: fall·tan θ × width, 2 % × tan 45° × 0.6 m = 12 mm.
	run := beam.Run{ID: "T1", To: geom.Point{Y: 50}, FromElevation: 10, ToElevation: 9, Width: 0.6}
	plan, f := beam.DialForRun(run, tenPercent(1), beam.Aim{Bearing: 45 * unit.Degree}, run.From)
	if f != nil {
		t.Fatal(f)
	}
	got, f := beam.OneRod(beam.Plane{HI: 12, Gradient: plan.Ideal.Gradient(), Curvature: beam.None}, run, beam.Band{Above: 0.005, Below: 0.005})
	if f != nil {
		t.Fatal(f)
	}
	near(t, "spread across", float64(got.High-got.Low), 0.012, 1e-9, "exact")
	if got.Fits {
		t.Error("OneRod fits ±5 mm with 12 mm across the trench, want not")
	}
}

func TestLevelBottomUnderADialledPlane(t *testing.T) {
	// design 4: |g| × size ≤ a quarter of the tolerance. 0.1 % × 3 m = 3 mm; a
	// quarter of 12 mm is 3 mm, of 11.9 mm less.
	pl := beam.Plane{Gradient: geom.Vector{X: 0.001}}
	for _, c := range []struct {
		tolerance beam.Band
		fits      bool
	}{
		{beam.Band{Above: 0.012, Below: 0.012}, true},
		{beam.Band{Above: 0.020, Below: 0.0119}, false},
		{beam.Band{Above: 0, Below: 0.02}, false},
	} {
		fits, rise, f := beam.LevelUnder(pl, 3, c.tolerance)
		if f != nil || fits != c.fits {
			t.Errorf("LevelUnder(0.1 %%, 3 m, %v) = %v, %v, want %v", c.tolerance, fits, f, c.fits)
		}
		near(t, "rise", float64(rise), 0.003, 1e-15, "exact")
	}
	if fits, _, _ := beam.LevelUnder(beam.Plane{}, 100, beam.Band{}); !fits {
		t.Error("LevelUnder(level plane, no tolerance) = false, want true")
	}
}

// The extremes of the rod are taken at corners and vertex; a dense raster of the
// same bottom is the referee.
func TestOneRodMatchesARaster(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := anyRun(t, "run")
		run.Width = unit.Length(rapid.Float64Range(0, 5).Draw(t, "width"))
		pl := beam.Plane{At: anyPoint(t, "laser"), HI: 100, Gradient: anyGradient(t)}
		if rapid.Bool().Draw(t, "nearly along") { // where the vertex lies inside
			pl.Gradient = run.Direction().Scale(-float64(run.Fall()))
		}
		got, f := beam.OneRod(pl, run, beam.Band{})
		if f != nil {
			t.Fatal(f)
		}
		low, high := math.Inf(1), math.Inf(-1)
		const n = 60
		for i := range n + 1 {
			s := float64(run.Length()) * float64(i) / n
			for j := range n + 1 {
				off := run.Direction().Right().Scale(float64(run.Width) * (float64(j)/n - 0.5))
				r := float64(pl.GradeRod(run.At(unit.Station(s)).Add(off), run.Bottom(unit.Station(s))))
				low, high = min(low, r), max(high, r)
			}
		}
		// The raster misses the vertex by at most half a cell: c(150 m / 60).
		miss := pl.Curvature.Drop(float64(run.Length())/n) + pl.Curvature.Drop(float64(run.Width)/n) + 1e-9
		if !(math.Abs(float64(got.Low)-low) <= miss && math.Abs(float64(got.High)-high) <= 1e-9) {
			t.Fatalf("OneRod range = [%.9f, %.9f], raster [%.9f, %.9f]", got.Low, got.High, low, high)
		}
	})
}

func TestDigsThatNeedAnotherSetUp(t *testing.T) {
	quarter := beam.Band{Above: 0.012, Below: 0.012}.Share(beam.ToleranceShare)
	east := beam.Want{OneRod: true, Allowed: quarter, Run: beam.Run{ID: "T1", To: geom.Point{X: 40}, FromElevation: 10, ToElevation: 9.6}}
	north := beam.Want{OneRod: true, Allowed: quarter, Run: beam.Run{ID: "T2", To: geom.Point{Y: 30}, FromElevation: 9.6, ToElevation: 9.0}}
	steeper := beam.Want{OneRod: true, Allowed: quarter, Run: beam.Run{ID: "T3", From: geom.Point{Y: 9}, To: geom.Point{X: 40, Y: 9}, FromElevation: 10, ToElevation: 9.2}}
	cliff := beam.Want{OneRod: true, Allowed: quarter, Run: beam.Run{ID: "T4", To: geom.Point{X: 10}, FromElevation: 10, ToElevation: 8}}
	pad := beam.Want{Run: beam.Run{ID: "F1"}}
	wants := []beam.Want{steeper, pad, cliff, north, east}
	before := slices.Clone(wants)
	groups, unserved, f := beam.Groups(wants, tenPercent(2))
	if f != nil {
		t.Fatal(f)
	}
	var got []string
	for _, g := range groups {
		got = append(got, strings.Join(g.Digs, "+"))
	}
	// Level digs first; T2 with T1 on one plane, T3 falls otherwise than T1; T2 and
	// T3 would do as well, the earlier pair holds.
	if want := []string{"F1", "T1+T2", "T3"}; !slices.Equal(got, want) {
		t.Fatalf("Groups = %v, want %v", got, want)
	}
	near(t, "plane of T1+T2 east", groups[1].Gradient.X, -0.01, 1e-12, "exact")
	near(t, "plane of T1+T2 north", groups[1].Gradient.Y, -0.02, 1e-12, "exact")
	if len(unserved) != 1 || unserved[0].Dig != "T4" || !strings.Contains(english(unserved[0].Because), "steeper than the laser dials") {
		t.Errorf("unserved = %v, want T4 as too steep", unserved)
	}
	if why := english(groups[2].Why[0].Because); !strings.Contains(why, `"T3" falls 2 %: under the level plane of F1 one rod would be out by 0.400 m`) {
		t.Errorf("why T3 = %q", why)
	}
	if !slices.Equal(wants, before) {
		t.Error("Groups changed its input")
	}
}

func TestGroupsWithinToleranceShareAPlane(t *testing.T) {
	// Hand-derived, exact: 1.00 % and 1.02 % over 40 m differ by 8 mm, 4 mm each way.
	a := beam.Want{OneRod: true, Run: beam.Run{ID: "A", To: geom.Point{X: 40}, FromElevation: 10, ToElevation: 9.6}}
	b := beam.Want{OneRod: true, Run: beam.Run{ID: "B", From: geom.Point{Y: 9}, To: geom.Point{X: 40, Y: 9}, FromElevation: 10, ToElevation: 9.592}}
	for _, c := range []struct {
		allowed unit.Length
		groups  int
	}{{0.0041, 1}, {0.0039, 2}} {
		a.Allowed = beam.Band{Above: c.allowed, Below: c.allowed}
		b.Allowed = a.Allowed
		groups, _, f := beam.Groups([]beam.Want{a, b}, tenPercent(1))
		if f != nil || len(groups) != c.groups {
			t.Errorf("Groups(allowed %g m) = %d groups, %v, want %d", c.allowed, len(groups), f, c.groups)
		}
	}
}

// Law: every dig is in one group or unserved, and OneRod agrees that its group's
// plane gives it one rod.
func TestLawEachGroupServesItsDigs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		allowed := beam.Band{Above: 0.004, Below: 0.002}
		wants := map[string]beam.Want{}
		var list []beam.Want
		for _, id := range []string{"A", "B", "C", "D", "E"}[:rapid.IntRange(0, 5).Draw(t, "n")] {
			w := beam.Want{Run: anyRun(t, id), OneRod: rapid.Bool().Draw(t, "one rod"), Allowed: allowed}
			w.Run.Width = unit.Length(rapid.Float64Range(0, 1).Draw(t, "width"))
			wants[id] = w
			list = append(list, w)
		}
		laser := tenPercent(1)
		laser.Steepest[0] = beam.GradeRange{Min: -0.05, Max: 0.05}
		groups, unserved, f := beam.Groups(list, laser)
		if f != nil {
			t.Fatal(f)
		}
		told := len(unserved)
		for _, g := range groups {
			told += len(g.Digs)
			if steep := g.Gradient.Length(); !(steep <= 0.05) {
				t.Fatalf("group %v is dialled to %g, steeper than the laser", g.Digs, steep)
			}
			for _, id := range g.Digs {
				pl := beam.Plane{HI: 500, Gradient: g.Gradient, Curvature: beam.None}
				check, f := beam.OneRod(pl, wants[id].Run, allowed)
				if f != nil {
					t.Fatal(f)
				}
				if wants[id].OneRod && !(float64(check.TooHigh) <= 0.004+2e-9 && float64(check.TooLow) <= 0.002+2e-9) {
					t.Fatalf("dig %s of group %v is out by +%g −%g", id, g.Digs, check.TooHigh, check.TooLow)
				}
			}
		}
		for _, r := range unserved {
			if fall := math.Abs(float64(wants[r.Dig].Run.Fall())); !(fall > 0.05) {
				t.Fatalf("dig %s falls %g and is unserved", r.Dig, fall)
			}
		}
		if told != len(list) {
			t.Fatalf("%d of %d digs told", told, len(list))
		}
	})
}
