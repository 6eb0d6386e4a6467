package beam_test

import (
	"math"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

const ft = float64(unit.Foot)

// near fails unless got lies within tol of want; NaN fails.
func near(t *testing.T, what string, got, want, tol float64, reason string) {
	t.Helper()
	if !within(got, want, tol) {
		t.Errorf("%s = %.10g, want %.10g (tol %g: %s)", what, got, want, tol, reason)
	}
}

func within(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

func TestTheComparisonItselfCanFail(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		got, want, tol float64
		ok             bool
	}{{1, 1, 0, true}, {1, 1.5, 0.5, true}, {1, 1.6, 0.5, false}, {nan, 1, 9, false}, {1, nan, 9, false}, {1, 1, nan, false}, {nan, nan, 9, false}} {
		if within(c.got, c.want, c.tol) != c.ok {
			t.Errorf("within(%g, %g, %g) = %v, want %v", c.got, c.want, c.tol, !c.ok, c.ok)
		}
	}
}

// plane is a plane from its parts, which the tests know to be good.
func plane(t *testing.T, in beam.Instrument, hiFeet float64) beam.Plane {
	t.Helper()
	pl, f := beam.FromHI(in, unit.Elevation(hiFeet*ft))
	if f != nil {
		t.Fatal(f)
	}
	return pl
}

var flat = beam.Instrument{Curvature: beam.None}

// backsightHI is the HI in feet of a level laser from one benchmark in feet.
func backsightHI(t *testing.T, bm, bs float64) beam.Plane {
	t.Helper()
	pl, _, f := beam.FromBacksights(flat, []beam.Backsight{{
		Benchmark: "BM", Elevation: unit.Elevation(bm * ft), Rod: unit.Reading(bs * ft)}})
	if f != nil {
		t.Fatal(f)
	}
	return pl
}

func TestHIAndElevationOfOneSetUp(t *testing.T) {
	for _, c := range []struct{ bm, bs, hi, fs, point float64 }{
		{820.00, 8.42, 828.42, 1.20, 827.22},  // textbook problem (checks levels 4), read
		{100.00, 4.20, 104.20, 6.50, 97.70},   // FE Civil open study guide (levels 4), read
		{365.01, 11.56, 376.57, 1.42, 375.15}, // NAVEDTRA 14081 (levels 6), read
		{163.42, 4.06, 167.48, 4.06, 163.42},  // Ghilani & Wolf 23.11 (levels 7): HI read, foresight on the benchmark itself
		{131.21, 1.26, 132.47, 1.12, 131.35},  // hand-derived, exact
	} {
		pl := backsightHI(t, c.bm, c.bs)
		near(t, "HI ft", float64(pl.HI)/ft, c.hi, 1e-9, "exact sum")
		near(t, "elevation ft", float64(pl.Foot(geom.Point{X: 30}, unit.Reading(c.fs*ft)))/ft, c.point, 1e-9, "exact sum")
	}
}

func TestSightsFromOneBenchmarkInMetres(t *testing.T) {
	// levels 4, read: BM 40.000 m, BS 1.26.
	pl, _, f := beam.FromBacksights(flat, []beam.Backsight{{Benchmark: "BM", Elevation: 40, Rod: 1.26}})
	if f != nil {
		t.Fatal(f)
	}
	want := []float64{40.14, 40.025, 39.87, 40.05, 40.09, 39.77}
	for i, fs := range []unit.Reading{1.12, 1.235, 1.39, 1.21, 1.17, 1.49} {
		near(t, "elevation", float64(pl.Foot(geom.Point{Y: 20}, fs)), want[i], 1e-9, "exact sum")
	}
}

func TestGradeRodDownAFallingGrade(t *testing.T) {
	// FE study guide (levels 4), read: grade 95.00 at 50+00 falling 2 %, HI 108.5.
	pl := backsightHI(t, 100, 8.5)
	run := beam.Run{To: geom.Point{X: 500 * ft}, FromElevation: unit.Elevation(95 * ft), ToElevation: unit.Elevation(85 * ft)}
	near(t, "Fall", float64(run.Fall()), 0.02, 1e-12, "exact")
	near(t, "HI ft", float64(pl.HI)/ft, 108.5, 1e-9, "exact sum")
	near(t, "rod at 50+00", float64(pl.GradeRod(run.From, run.Bottom(0)))/ft, 13.50, 1e-9, "exact sum")
	near(t, "rod at 55+00", float64(pl.GradeRod(run.To, run.Bottom(unit.Station(500*ft))))/ft, 23.50, 1e-9, "exact sum")
}

func TestCutFromGradeRodAndGroundRod(t *testing.T) {
	// levels 4: inputs read, outputs exact.
	pl := backsightHI(t, 106.35, 4.65)
	near(t, "HI ft", float64(pl.HI)/ft, 111.00, 1e-9, "exact")
	rod := pl.GradeRod(geom.Point{X: 9}, unit.Elevation(107.85*ft))
	ground := pl.Foot(geom.Point{X: 9}, unit.Reading(2.40*ft))
	near(t, "grade rod ft", float64(rod)/ft, 3.15, 1e-9, "exact")
	near(t, "ground ft", float64(ground)/ft, 108.60, 1e-9, "exact")
	near(t, "cut ft", float64(rod)/ft-2.40, 0.75, 1e-9, "exact")
}

// sewer is the run of NAVEDTRA 14070 fig. 10-19 (levels 5): invert 122.87 ft at
// 9+00, falling 2.18 % to lower stations.
func sewer(down float64) beam.Run {
	const length = 325 // 9+00 to 5+75
	return beam.Run{
		ID: "SEWER", From: geom.Point{X: 10, Y: 900 * ft}, To: geom.Point{X: 10, Y: (900 - length) * ft},
		FromElevation: unit.Elevation((122.87 - down) * ft),
		ToElevation:   unit.Elevation((122.87 - down - 0.0218*length) * ft),
	}
}

func TestSewerInverts(t *testing.T) {
	run := sewer(0)
	// 8+50 read (122.87 − 0.50 × 2.18 = 121.78); the others exact.
	for _, c := range []struct{ back, want float64 }{
		{0, 122.87}, {50, 121.78}, {100, 120.69}, {150, 119.60}, {200, 118.51}, {250, 117.42}, {300, 116.33}, {325, 115.785},
	} {
		near(t, "invert ft", float64(run.Bottom(unit.Station(c.back*ft)))/ft, c.want, 1e-9, "exact")
	}
}

func TestSewerHubsBoardsAndString(t *testing.T) {
	run := sewer(0)
	// NAVEDTRA 14070 fig. 10-19, read: hub 126.94 at 9+00, 127.33 at 8+50.
	for _, c := range []struct{ back, hub, cut float64 }{{0, 126.94, 4.07}, {50, 127.33, 5.55}} {
		invert := run.Bottom(unit.Station(c.back * ft))
		cut := beam.CutAt(unit.Elevation(c.hub*ft), invert)
		near(t, "cut ft", float64(cut)/ft, c.cut, 1e-9, "exact")
		near(t, "FromHub ft", float64(beam.FromHub(unit.Elevation(c.hub*ft), cut)), float64(invert), 1e-9, "undoes CutAt")
	}
	board := beam.BoardOverHub(10*unit.Foot, unit.Length(5.55*ft))
	near(t, "board over hub at 8+50 ft", float64(board)/ft, 4.45, 1e-9, "read")
	// Over the hub at 9+00 by the same rule, exact.
	near(t, "board over hub at 9+00 ft", float64(beam.BoardOverHub(10*unit.Foot, unit.Length(4.07*ft)))/ft, 5.93, 1e-9, "exact")
	left := beam.StillToDig(unit.Reading(10*ft), unit.Reading(8.5*ft))
	near(t, "still to dig by the string ft", float64(left)/ft, 1.5, 1e-9, "read")
}

func TestCheckingGradeFromOffsetHubs(t *testing.T) {
	// NAVEDTRA 14081 (levels 6), read.
	for _, c := range []struct{ cut, onHub, atGrade, reads, left float64 }{
		{7.5, 5.0, 12.5, 12.2, 0.3},
		{-7.0, 12.0, 5.0, 5.5, -0.5},
	} {
		rod := beam.RodAtGrade(unit.Reading(c.onHub*ft), unit.Length(c.cut*ft))
		near(t, "rod at grade ft", float64(rod)/ft, c.atGrade, 1e-9, "exact sum")
		near(t, "left ft", float64(beam.StillToDig(rod, unit.Reading(c.reads*ft)))/ft, c.left, 1e-9, "exact sum")
	}
	// The page prints 376.15 on one line, a slip: 375.15 to 378.75 is a fill of 3.60.
	fill := beam.CutAt(unit.Elevation(375.15*ft), unit.Elevation(378.75*ft))
	near(t, "fill ft", float64(fill)/ft, -3.60, 1e-9, "exact sum")
}

func TestPipelineCuts(t *testing.T) {
	// Ghilani & Wolf, Elementary Surveying 14e, prob. 23.11 (levels 7).
	pl := backsightHI(t, 163.42, 4.06)
	run := beam.Run{
		From: geom.Point{X: 3, Y: 7}, To: geom.Point{X: 3 + 564*ft, Y: 7},
		FromElevation: unit.Elevation(160.85 * ft), ToElevation: unit.Elevation(159.72 * ft),
	}
	for _, c := range []struct{ station, ground, rod, cut float64 }{
		{0, 5.31, 6.6300, 1.32}, {100, 5.32, 6.8304, 1.51}, {200, 5.35, 7.0307, 1.68}, {300, 5.85, 7.2311, 1.38},
		{400, 5.84, 7.4314, 1.59}, {500, 6.73, 7.6318, 0.90}, {564, 6.73, 7.7600, 1.03},
	} {
		s := unit.Station(c.station * ft)
		rod := float64(pl.GradeRod(run.At(s), run.Bottom(s))) / ft
		exact := 167.48 - 160.85 + (160.85-159.72)*c.station/564
		near(t, "grade rod ft", rod, exact, 1e-9, "exact")
		near(t, "grade rod ft", rod, c.rod, 0.5e-4, "printed to 0.0001")
		near(t, "cut ft", rod-c.ground, c.cut, 0.005, "printed to 0.01")
	}
}

func TestWholeCutSheetOfADrain(t *testing.T) {
	// Waring, Draining for Profit, 1867 (levels 8), read: measured down from a
	// level line of sight. Two runs meet at stake 3.
	pl := backsightHI(t, 100, 0)
	lower := beam.Run{To: geom.Point{X: 186 * ft}, FromElevation: unit.Elevation(79.30 * ft), ToElevation: unit.Elevation(83.02 * ft)}
	upper := beam.Run{From: lower.To, To: geom.Point{X: (186 + 173) * ft}, FromElevation: lower.ToElevation, ToElevation: unit.Elevation(83.98 * ft)}
	near(t, "slope basin to 3", -float64(lower.Fall()), 0.02, 0.5e-5, "2.000 %")
	near(t, "slope 3 to 7", -float64(upper.Fall()), 0.00555, 0.5e-5, "0.555 %")
	for _, c := range []struct {
		run                      beam.Run
		at, drain, ground, depth float64
	}{
		{lower, 0, 20.70, 18.20, 2.50}, {lower, 82, 19.06, 15.44, 3.62}, {lower, 121, 18.28, 14.36, 3.92},
		{lower, 186, 16.98, 12.85, 4.13}, {upper, 51, 16.70, 12.18, 4.52}, {upper, 94, 16.46, 11.79, 4.67},
		{upper, 141, 16.20, 11.69, 4.51}, {upper, 173, 16.02, 11.55, 4.47},
	} {
		s := unit.Station(c.at * ft)
		rod := float64(pl.GradeRod(c.run.At(s), c.run.Bottom(s))) / ft
		near(t, "line to drain ft", rod, c.drain, 0.005, "printed to 0.01")
		near(t, "depth ft", rod-c.ground, c.depth, 0.005, "printed to 0.01")
	}
}

// sewerBed is how far the trench bottom lies under the invert of an 8 in pipe:
// wall 0.240 in and 4 in of bedding (levels 9).
const sewerBed = (0.240 + 4) / 12

func TestLaserDialledToThePipeGrade(t *testing.T) {
	near(t, "bed ft", sewerBed, 0.3533, 0.5e-4, "printed to 0.0001")
	run := sewer(sewerBed)
	level := plane(t, flat, 131.40)
	dialled := dialledOver(t, run, beam.None)
	// levels 9, exact; printed to 0.001.
	for _, c := range []struct{ back, rod float64 }{{0, 8.883}, {25, 9.428}, {50, 9.973}, {75, 10.518}, {100, 11.063}} {
		s := unit.Station(c.back * ft)
		rod := float64(level.GradeRod(run.At(s), run.Bottom(s))) / ft
		near(t, "level rod ft", rod, 131.40-122.87+sewerBed+0.0218*c.back, 1e-9, "exact")
		near(t, "level rod ft", rod, c.rod, 0.5e-3, "printed to 0.001")
		one := float64(dialled.GradeRod(run.At(s), run.Bottom(s))) / ft
		near(t, "dialled rod ft", one, 131.40-122.87+sewerBed, 1e-9, "exact: one rod for the run")
		near(t, "dialled rod ft", one, 8.883, 0.5e-3, "printed to 0.001")
	}
}

// dialledOver is a laser at the start of the run, dialled to it by the plan,
// with the beam 131.40 ft there.
func dialledOver(t *testing.T, run beam.Run, c beam.Curvature) beam.Plane {
	t.Helper()
	laser := beam.Laser{ID: "L1", Axes: 2, Steepest: [2]beam.GradeRange{{Min: -0.1, Max: 0.1}, {Min: -0.1, Max: 0.1}}}
	plan, f := beam.DialForRun(run, laser, beam.Aim{Mark: "5+75", From: run.From, At: run.To}, run.From)
	if f != nil {
		t.Fatal(f)
	}
	return plane(t, beam.Instrument{At: run.From, Gradient: plan.Rounded.Gradient(), Curvature: c}, 131.40)
}

func TestDialledPlaneWithCurvatureStaysWithinC(t *testing.T) {
	run := sewer(sewerBed)
	pl := dialledOver(t, run, beam.Combined)
	first := pl.GradeRod(run.From, run.FromElevation)
	far := pl.GradeRod(run.At(100), run.Bottom(100))
	// levels 9: 0.68 mm at 100 m.
	near(t, "curvature at 100 m", float64(far-first), 0.000675, 1e-9, "exact from 0.0675")
	near(t, "curvature at 100 m", float64(far-first), 0.00068, 0.501e-5, "printed to 0.01 mm, a half up")
}

func TestCurvatureAndRefraction(t *testing.T) {
	drop := beam.Combined.Drop
	for _, c := range []struct {
		what           string
		got, want, tol float64
		reason         string
	}{
		{"100 m", drop(100), 0.000675, 1e-12, "exact from 0.0675"},
		{"200 m", drop(200), 0.00270, 1e-12, "exact from 0.0675"},
		{"300 m", drop(300), 0.00608, 0.5e-5, "printed to 0.01 mm"},
		{"300 m", drop(300), 0.006075, 1e-12, "exact from 0.0675"},
		{"1.8 km", drop(1800), 0.2187, 1e-9, "Memorial University ENGI 3703 prints 0.218, truncated"},
		{"300 ft in ft", drop(300*ft) / ft, 0.00185, 1e-5, "0.0206 is rounded to 0.2 %"},
		{"500 ft in ft", drop(500*ft) / ft, 0.00515, 1e-5, "0.0206 is rounded to 0.2 %"},
		{"1000 ft in ft", drop(1000*ft) / ft, 0.0206, 0.5e-4, "coefficient printed to 0.0001"},
		{"1 mile in ft", drop(float64(unit.Mile)) / ft, 0.574, 0.5e-3, "coefficient printed to 0.001"},
		{"211.2 m", drop(211.2), 0.003, 3e-5, "textbook radius gives 0.0673 where the notes round to 0.0675"},
		{"the other way", drop(-100), 0.000675, 1e-12, "distance has no sign"},
		{"none", beam.None.Drop(1000), 0, 0, "left out"},
	} {
		near(t, "Drop "+c.what, c.got, c.want, c.tol, c.reason)
	}
}

func TestRodOutOfPlumb(t *testing.T) {
	// levels 13, geometry, exact; printed to 0.00001 ft.
	for _, c := range []struct{ deg, want float64 }{{1, 0.00152}, {2, 0.00609}, {3, 0.01370}} {
		got := beam.PlumbError(10*unit.Foot, unit.Angle(c.deg)*unit.Degree)
		near(t, "PlumbError ft", float64(got)/ft, c.want, 0.5e-5, "printed to 0.00001 ft")
		near(t, "PlumbError ft", float64(got)/ft, 10*(1-math.Cos(c.deg*math.Pi/180)), 1e-14, "exact")
	}
}
