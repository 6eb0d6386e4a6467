package level

import (
	"math"
	"strconv"
	"testing"

	"spadework/engine/unit"
)

// within says that two lengths agree to tol; NaN does not.
func within(got, want, tol unit.Length) bool { return math.Abs(float64(got-want)) <= float64(tol) }

func TestWithinCanFail(t *testing.T) {
	if within(1, 1.1, 0.05) || within(unit.Length(math.NaN()), 1, 1) || !within(1, 1, 0) {
		t.Error("within(…) does not tell lengths apart")
	}
}

const rounding = 1e-11 * unit.Metre // exact decimals, float64 sums

// ft is a reading in feet.
func ft(v float64) unit.Reading { return unit.Reading(v * float64(unit.Foot)) }

// feet is an elevation in feet.
func feet(v float64) unit.Elevation { return unit.Elevation(v * float64(unit.Foot)) }

// turning is the book of a run over turning points: backs[i] at points[i],
// fores[i] at points[i+1].
func turning(points []string, backs, fores []unit.Reading) []Line {
	var lines []Line
	for i, p := range points {
		l := Line{Point: p}
		if i < len(backs) {
			l.Back = Rod(backs[i])
		}
		if i > 0 {
			l.Fore = Rod(fores[i-1])
		}
		lines = append(lines, l)
	}
	return lines
}

func reduce(t *testing.T, run Run) *Reduction {
	t.Helper()
	r, err := Reduce(run)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// checkRows compares the elevations of rows, adjusted ones too.
func checkRows(t *testing.T, rows []Row, want, adjusted []unit.Elevation, tol unit.Length) {
	t.Helper()
	if len(rows) != len(want) {
		t.Fatalf("%d rows, want %d", len(rows), len(want))
	}
	for i, row := range rows {
		if !within(row.Elevation.Above(want[i]), 0, tol) {
			t.Errorf("elevation of %s = %v m, want %v m (tol %v)", row.Point, row.Elevation, want[i], tol)
		}
		if adjusted != nil && !within(row.Adjusted.Above(adjusted[i]), 0, tol) {
			t.Errorf("adjusted elevation of %s = %v m, want %v m (tol %v)", row.Point, row.Adjusted, adjusted[i], tol)
		}
	}
}

// TestFiveLines reduces a textbook run in feet (textbook exercise, recomputed
// exactly) with its page check (NAVEDTRA 14071; FM 5-233 App. B).
func TestFiveLines(t *testing.T) {
	r := reduce(t, Run{
		Start: Mark{"BM A", feet(100)}, Close: &Mark{"BM B", feet(94.91)},
		Lines: turning([]string{"BM A", "TP1", "TP2", "TP3", "BM B"},
			[]unit.Reading{ft(3.10), ft(6.44), ft(8.76), ft(7.12)}, []unit.Reading{ft(9.82), ft(6.96), ft(3.27), ft(10.42)}),
	})
	checkRows(t, r.Rows, []unit.Elevation{feet(100), feet(93.28), feet(92.76), feet(98.25), feet(94.95)}, nil, rounding)
	for i, want := range []float64{103.10, 99.72, 101.52, 105.37} {
		if !r.Rows[i].Opens || !within(r.Rows[i].HI.Above(feet(want)), 0, rounding) {
			t.Errorf("HI over %s = %v m, want %v ft", r.Rows[i].Point, r.Rows[i].HI, want)
		}
	}
	for _, c := range []struct {
		what string
		got  unit.Length
		want float64
	}{
		{"ΣBS", r.SumBack, 25.42}, {"ΣFS", r.SumFore, 30.47}, {"last − first", r.Last.Above(r.First), -5.05},
		{"page check", r.PageCheck(), 0}, {"misclosure", r.Misclosure, 0.04},
	} {
		if !within(c.got, unit.Length(c.want)*unit.Foot, rounding) {
			t.Errorf("%s = %v m, want %v ft", c.what, c.got, c.want)
		}
	}
	if r.Setups != 4 || !r.Closes || r.Length != 0 {
		t.Errorf("set-ups %d, closes %v, length %v; want 4, true and no length", r.Setups, r.Closes, r.Length)
	}
}

// TestPageCheckCanFail: a row changed by hand shows.
func TestPageCheckCanFail(t *testing.T) {
	r := Reduction{SumBack: 25.42, SumFore: 30.47, First: 100, Last: 94.96}
	if !within(r.PageCheck(), -0.01, rounding) {
		t.Errorf("PageCheck of a sum off by 10 mm = %v, want -0.01", r.PageCheck())
	}
}

// closedLoop is Ghilani & Wolf, Elementary Surveying 14e, prob. 5.12.
func closedLoop() Run {
	return Run{
		Start: Mark{"BM7", 852.045}, Close: &Mark{"BM7", 852.045},
		Lines: turning([]string{"BM7", "TP1", "BM8", "TP2", "TP3", "BM7"},
			[]unit.Reading{4.388, 6.907, 4.680, 3.730, 8.464}, []unit.Reading{4.538, 8.800, 5.978, 5.245, 3.598}),
	}
}

// TestClosedLoop checks Ghilani & Wolf, prob. 5.12 (inputs read, outputs exact).
func TestClosedLoop(t *testing.T) {
	r := reduce(t, closedLoop())
	if !within(r.Misclosure, 0.010, rounding) {
		t.Errorf("misclosure = %v m, want +0.010 m", r.Misclosure)
	}
	adjusted, err := r.Adjust(BySetup)
	if err != nil {
		t.Fatal(err)
	}
	checkRows(t, adjusted.Rows,
		[]unit.Elevation{852.045, 851.895, 850.002, 848.704, 847.189, 852.055},
		[]unit.Elevation{852.045, 851.893, 849.998, 848.698, 847.181, 852.045}, rounding)
	for i, row := range adjusted.Rows {
		if want := -0.002 * unit.Length(i); !within(row.Correction, want, rounding) {
			t.Errorf("correction of %s = %v m, want %v m", row.Point, row.Correction, want)
		}
	}
	if r.Rows[5].Correction != 0 {
		t.Error("Adjust changed the reduction it was called on")
	}
}

// TestByDistance checks a textbook problem (inputs read, outputs exact): BM1
// 728.730, a 30.5 km circuit that closes on 728.486.
func TestByDistance(t *testing.T) {
	along := []unit.Length{5245, 11271, 17718, 21964, 25247}
	observed := []unit.Elevation{783.213, 891.764, 843.195, 739.708, 702.956}
	want := []unit.Elevation{783.255, 891.854, 843.337, 739.884, 703.158}
	for i, c := range Corrections(728.486-728.730, 30500, along) {
		if got := observed[i].Plus(c); !within(got.Above(want[i]), 0, 0.0005) {
			t.Errorf("at km %v: %v m, want %v m (tol 0.5 mm: printed)", along[i]/1000, got, want[i])
		}
	}
	// The same as a run: one set-up to each point, sights as long as the way.
	lengths := []unit.Length{5245, 11271, 17718, 21964, 25247, 30500}
	elevations := append(append([]unit.Elevation{728.730}, observed...), 728.486)
	run := Run{Start: Mark{"BM1", 728.730}, Close: &Mark{"BM1", 728.730}, Lines: []Line{{Point: "BM1"}}}
	last := unit.Length(0)
	for i, l := range lengths {
		half := (l - last) / 2
		run.Lines[i].Back = RodAt(200, half)
		next := Line{Point: "P" + strconv.Itoa(i+1), Fore: RodAt(200-unit.Reading(elevations[i+1]-elevations[i]), half)}
		run.Lines, last = append(run.Lines, next), l
	}
	run.Lines[6].Point = "BM1"
	adjusted, err := reduce(t, run).Adjust(ByDistance)
	if err != nil {
		t.Fatal(err)
	}
	checkRows(t, adjusted.Rows, elevations, append(append([]unit.Elevation{728.730}, want...), 728.730), 0.0005)
	if !within(adjusted.Length, 30500, 1e-6) {
		t.Errorf("length = %v m, want 30 500 m", adjusted.Length)
	}
}

// TestSmallRuns checks small published reductions.
func TestSmallRuns(t *testing.T) {
	for _, c := range []struct {
		source            string
		bm, back, fore    float64
		wantHI, wantPoint float64
	}{
		{"textbook exercise, exact", 820.00, 8.42, 1.20, 828.42, 827.22},
		{"FE Civil open study guide", 100.00, 4.20, 6.50, 104.20, 97.70},
		{"NAVEDTRA 14081", 365.01, 11.56, 1.42, 376.57, 375.15},
	} {
		r := reduce(t, Run{Start: Mark{"BM", feet(c.bm)}, Lines: turning([]string{"BM", "P"}, []unit.Reading{ft(c.back)}, []unit.Reading{ft(c.fore)})})
		if !within(r.Rows[0].HI.Above(feet(c.wantHI)), 0, rounding) || !within(r.Last.Above(feet(c.wantPoint)), 0, rounding) {
			t.Errorf("%s: HI %v m, point %v m, want %v ft, %v ft", c.source, r.Rows[0].HI, r.Last, c.wantHI, c.wantPoint)
		}
	}
}

// TestSixSights checks a published set-up of intermediate sights (read): BM
// 40.000 m, BS 1.26.
func TestSixSights(t *testing.T) {
	run := Run{Start: Mark{"BM", 40}, Lines: []Line{{Point: "BM", Back: Rod(1.26)}}}
	want := []unit.Elevation{40}
	for i, c := range []struct {
		sight unit.Reading
		want  unit.Elevation
	}{{1.12, 40.14}, {1.235, 40.025}, {1.39, 39.87}, {1.21, 40.05}, {1.17, 40.09}, {1.49, 39.77}} {
		run.Lines = append(run.Lines, Line{Point: strconv.Itoa(i + 1), Intermediate: Rod(c.sight)})
		want = append(want, c.want)
	}
	r := reduce(t, run)
	checkRows(t, r.Rows, want, want, rounding)
	if r.Setups != 0 || r.SumBack != 0 || r.PageCheck() != 0 {
		t.Errorf("set-ups %d, ΣBS %v, page check %v; a set-up without foresight takes no part", r.Setups, r.SumBack, r.PageCheck())
	}
}

// TestIntermediate: an intermediate sight is left out of the page check and takes
// the correction of its set-up; a turning point may be written on two lines;
// a last set-up may be open.
func TestIntermediate(t *testing.T) {
	run := Run{Start: Mark{"BM", 10}, Close: &Mark{"BM2", 11.006}, Lines: []Line{
		{Point: "BM", Back: RodAt(2, 20)},
		{Point: "a", Intermediate: RodAt(1.5, 10)},
		{Point: "TP", Fore: RodAt(1, 30)},
		{Point: "TP", Back: RodAt(1.5, 20)},
		{Point: "b", Intermediate: RodAt(2, 10)},
		{Point: "BM2", Fore: RodAt(1.5, 10), Back: RodAt(1, 5)},
		{Point: "c", Intermediate: RodAt(0.5, 5)},
	}}
	r := reduce(t, run)
	if !within(r.PageCheck(), 0, rounding) || r.Setups != 2 || !within(r.Length, 80, rounding) || !within(r.Misclosure, -0.006, rounding) {
		t.Errorf("page check %v, set-ups %d, length %v, misclosure %v; want 0, 2, 80 m, -6 mm", r.PageCheck(), r.Setups, r.Length, r.Misclosure)
	}
	raw := []unit.Elevation{10, 10.5, 11, 11, 10.5, 11, 11.5}
	bySetup, err := r.Adjust(BySetup)
	if err != nil {
		t.Fatal(err)
	}
	checkRows(t, bySetup.Rows, raw, []unit.Elevation{10, 10.503, 11.003, 11.003, 10.506, 11.006, 11.506}, rounding)
	byDistance, err := r.Adjust(ByDistance)
	if err != nil {
		t.Fatal(err)
	}
	checkRows(t, byDistance.Rows, raw, []unit.Elevation{10, 10.50375, 11.00375, 11.00375, 10.506, 11.006, 11.506}, rounding)
	if row, ok := r.Row("b"); !ok || row.Setup != 2 || !within(row.Along, 80, rounding) {
		t.Errorf("row b = %v, %v; want set-up 2 at 80 m", row, ok)
	}
	if _, ok := r.Row("z"); ok {
		t.Error("a row of a point that is not in the book")
	}
}

// TestCurvatureInRun: with unequal sights the run takes off what each reads too
// large.
func TestCurvatureInRun(t *testing.T) {
	run := Run{Start: Mark{"BM", 10}, Curvature: true, Lines: []Line{
		{Point: "BM", Back: RodAt(2, 20)}, {Point: "far", Fore: RodAt(1, 300)},
	}}
	want := unit.Elevation(11).Plus(Curvature(300) - Curvature(20))
	if r := reduce(t, run); !within(r.Last.Above(want), 0, rounding) || !within(r.PageCheck(), 0, rounding) {
		t.Errorf("far point = %v m, page check %v, want %v m, 0", r.Last, r.PageCheck(), want)
	}
}

// TestGradeByRod checks grade against rods (NAVEDTRA 14081; textbooks).
func TestGradeByRod(t *testing.T) {
	ground := Foot(HeightOfInstrument(feet(106.35), ft(4.65)), ft(2.40))
	for _, c := range []struct {
		what string
		got  unit.Length
		want float64
	}{
		{"rod at grade, hub C", unit.Length(GradeRodFromHub(ft(5.0), 7.5*unit.Foot)), 12.5},
		{"still to cut, hub C", CutByRod(GradeRodFromHub(ft(5.0), 7.5*unit.Foot), ft(12.2)), 0.3},
		{"rod at grade, hub F", unit.Length(GradeRodFromHub(ft(12.0), -7.0*unit.Foot)), 5.0},
		{"fill, hub F", CutByRod(GradeRodFromHub(ft(12.0), -7.0*unit.Foot), ft(5.5)), -0.5},
		{"fill at ground 375.15, design 378.75", Cut(feet(375.15), feet(378.75)), -3.60},
		{"ground of BM 106.35, BS 4.65, rod 2.40", unit.Length(ground), 108.60},
		{"its cut to 107.85", Cut(ground, feet(107.85)), 0.75},
		{"its grade rod", unit.Length(GradeRod(feet(111.00), feet(107.85))), 3.15},
		{"grade rod at 50+00 (HI 108.5, grade 95.00)", unit.Length(GradeRod(feet(108.5), feet(95))), 13.50},
		{"grade rod at 55+00, falling 2 %", unit.Length(GradeRod(feet(108.5), feet(95).Plus(unit.Grade(-0.02).Over(500*unit.Foot)))), 23.50},
	} {
		if !within(c.got, unit.Length(c.want)*unit.Foot, rounding) {
			t.Errorf("%s = %v m, want %v ft", c.what, c.got, c.want)
		}
	}
}
