package level

import (
	"math"
	"slices"
	"testing"

	"spadework/engine/unit"
)

// mikhail is Mikhail & Ackermann, Observations and Least Squares, Ex. 7.4.
func mikhail() Network {
	n := Network{Fixed: []Mark{{"A", 800}}}
	for _, d := range []struct {
		from, to string
		rise, km float64
	}{
		{"A", "B", 25.42, 18.1}, {"B", "C", 10.34, 9.4}, {"C", "A", -35.20, 14.2}, {"B", "D", -15.54, 17.6},
		{"D", "E", 21.32, 13.5}, {"E", "C", 4.82, 9.9}, {"E", "A", -31.02, 13.8}, {"C", "D", -26.11, 14.0},
	} {
		n.Differences = append(n.Differences, Difference{From: d.from, To: d.to, Rise: unit.Length(d.rise),
			Weight: 1 / (0.1 * d.km), Length: unit.Length(d.km) * 1000})
	}
	return n
}

func adjust(t *testing.T, n Network) *Adjusted {
	t.Helper()
	a, err := n.Adjust()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestMikhail checks Mikhail & Ackermann Ex. 7.4 (inputs read, outputs exact).
func TestMikhail(t *testing.T) {
	a := adjust(t, mikhail())
	for _, c := range []struct {
		point         string
		elevation     unit.Elevation
		standardError unit.Length
	}{{"A", 800, 0}, {"B", 825.220624328, 0.18051}, {"C", 835.535430221, 0.16146}, {"D", 809.533928217, 0.20096}, {"E", 830.846028699, 0.17107}} {
		h, ok := a.Height(c.point)
		if !ok || !within(h.Elevation.Above(c.elevation), 0, 1e-9) || !within(h.StandardError, c.standardError, 6e-6) {
			t.Errorf("%s = %v ± %v m, want %v ± %v m (tol 1 nm, 6 µm: printed digits)", c.point, h.Elevation, h.StandardError, c.elevation, c.standardError)
		}
	}
	if a.Redundancy != 4 || !within(unit.Length(a.SquareSum), 0.16171369, 5e-9) || !within(unit.Length(a.S0*a.S0), 0.04042842, 5e-9) {
		t.Errorf("r %d, v'Wv %v, S0² %v; want 4, 0.16171369, 0.04042842", a.Redundancy, a.SquareSum, a.S0*a.S0)
	}
}

// TestMikhailBlunder: loop A-B-C-A misses by +0.56 m, far over any rule, and the
// adjustment points at C-A.
func TestMikhailBlunder(t *testing.T) {
	n := mikhail()
	loop, err := n.LoopThrough("A", "B", "C")
	if err != nil || !within(loop.Misclosure, 0.56, rounding) || !within(loop.Length, 41700, 1e-6) || !slices.Equal(loop.Points, []string{"A", "B", "C", "A"}) {
		t.Errorf("loop A-B-C = %v, %v; want +0.56 m over 41.7 km", loop, err)
	}
	if v, err := rule(t, "12 mm √K").JudgeLoop(loop); err != nil || v.Within || !within(v.Limit, 0.0775, 5e-5) {
		t.Errorf("12 mm √K over loop A-B-C = %v, %v; want over the limit of 77.5 mm", v, err)
	}
	n.Alpha = 0.05
	a := adjust(t, n)
	for i, r := range a.Residuals {
		if want := i == 2; r.Blunder != want {
			t.Errorf("difference %d: τ %v of %v, blunder %v, want %v", i, r.Normalized, a.Critical, r.Blunder, want)
		}
	}
	// τ of C-A and its limit at 0.05 with r = 4 (t of 3 degrees of freedom 3.182, every table): computed in 15-digit arithmetic.
	if !(math.Abs(a.Residuals[2].Normalized+1.8947) <= 5e-5) || !(math.Abs(a.Critical-1.757) <= 5e-4) {
		t.Errorf("τ of C-A = %v, limit %v; want −1.8947, 1.757", a.Residuals[2].Normalized, a.Critical)
	}
}

// ghilani is Ghilani & Wolf, Adjustment Computations, sec. 12.3 (inputs memory).
func ghilani(weight func(miles float64) float64) Network {
	n := Network{Fixed: []Mark{{"X", feet(100)}, {"Y", feet(107.50)}}}
	for _, d := range []struct {
		from, to    string
		rise, miles float64
	}{
		{"X", "A", 5.10, 4}, {"A", "Y", 2.34, 3}, {"Y", "C", -1.25, 2}, {"C", "X", -6.13, 3},
		{"A", "B", -0.68, 2}, {"Y", "B", -3.00, 2}, {"C", "B", -1.70, 2},
	} {
		n.Differences = append(n.Differences, Difference{From: d.from, To: d.to, Rise: unit.Length(d.rise) * unit.Foot,
			Weight: weight(d.miles), Length: unit.Length(d.miles) * unit.Mile})
	}
	return n
}

// TestGhilani checks Ghilani & Wolf sec. 12.3 (inputs memory, outputs exact) at
// unit weights and at 12/length.
func TestGhilani(t *testing.T) {
	for _, c := range []struct {
		name    string
		weight  func(float64) float64
		a, b, c float64
		s0      float64
	}{
		{"unit", func(float64) float64 { return 1 }, 105.140952, 104.482857, 106.187619, 0.0501189},
		{"12/length", func(miles float64) float64 { return 12 / miles }, 105.150400, 104.489200, 106.197200, 0.107219},
	} {
		a := adjust(t, ghilani(c.weight))
		for point, want := range map[string]float64{"A": c.a, "B": c.b, "C": c.c} {
			if h, ok := a.Height(point); !ok || !within(h.Elevation.Above(feet(want)), 0, 6e-7*unit.Foot) {
				t.Errorf("%s weights: %s = %v m, want %v ft (tol 6e-7 ft: printed digits)", c.name, point, h.Elevation, want)
			}
		}
		if got := a.S0 / float64(unit.Foot); !(math.Abs(got-c.s0) <= 6e-7) {
			t.Errorf("%s weights: S0 = %v ft, want %v ft", c.name, got, c.s0)
		}
		if a.Redundancy != 4 {
			t.Errorf("%s weights: redundancy %d, want 4", c.name, a.Redundancy)
		}
	}
}

// TestLoops: as many loops as redundant differences; ways between fixed points
// are held against their known rise.
func TestLoops(t *testing.T) {
	n := ghilani(func(miles float64) float64 { return 12 / miles })
	loops, err := n.Loops()
	if err != nil || len(loops) != 4 {
		t.Fatalf("Loops() = %v, %v; want 4", loops, err)
	}
	first := loops[0]
	// X to A 5.10, A to Y 2.34: 7.44 against 7.50 known.
	if !slices.Equal(first.Points, []string{"X", "A", "Y"}) || !within(first.Misclosure, -0.06*unit.Foot, rounding) || !within(first.Length, 7*unit.Mile, 1e-6) {
		t.Errorf("first way = %v; want X-A-Y, -0.06 ft over 7 mi", first)
	}
	n.Differences[0].Length = 0
	n.Differences[1].Setups = 3
	if loops, err = n.Loops(); err != nil || loops[0].Length != 0 || loops[0].Setups != 0 {
		t.Errorf("a way that lacks a length and a count = %v, %v; want neither", loops[0], err)
	}
	// A loop that hangs on no fixed point closes too.
	hanging := Network{Fixed: []Mark{{"BM", 1}}, Differences: []Difference{
		{From: "p", To: "q", Rise: 1, Weight: 1}, {From: "r", To: "q", Rise: -1, Weight: 1}, {From: "p", To: "r", Rise: 2.5, Weight: 1},
	}}
	loops, err = hanging.Loops()
	if err != nil || len(loops) != 1 || !within(unit.Length(math.Abs(float64(loops[0].Misclosure))), 0.5, rounding) {
		t.Errorf("hanging loop = %v, %v; want one that misses by 0.5 m", loops, err)
	}
}

// TestAbsoluteWeights: a weight over a known variance gives that standard error;
// Baarda's test flags 12 mm in a double run of 1 km at 2 mm, and cannot tell
// which of the two is off.
func TestAbsoluteWeights(t *testing.T) {
	w := WeightOf(1000, 0.002)
	n := Network{Fixed: []Mark{{"BM", 50}}, Weights: Absolute, Differences: []Difference{
		{From: "BM", To: "hub", Rise: 1.000, Weight: w}, {From: "hub", To: "BM", Rise: -1.012, Weight: w},
	}}
	a := adjust(t, n)
	hub, _ := a.Height("hub")
	if !within(hub.Elevation.Above(51.006), 0, rounding) || !within(hub.StandardError, 0.002/math.Sqrt2, 1e-12) {
		t.Errorf("hub = %v ± %v m, want 51.006 ± 1.414 mm", hub.Elevation, hub.StandardError)
	}
	for i, r := range a.Residuals {
		if want := 0.012 / (0.002 * math.Sqrt2); !r.Blunder || !(math.Abs(math.Abs(r.Normalized)-want) <= 1e-9) {
			t.Errorf("difference %d: w %v, blunder %v; want %v, flagged", i, r.Normalized, r.Blunder, want)
		}
	}
	n.Differences = n.Differences[:1]
	a = adjust(t, n)
	if hub, _ = a.Height("hub"); !within(hub.StandardError, 0.002, 1e-12) || !math.IsNaN(a.S0) || !math.IsNaN(a.Critical) {
		t.Errorf("without a check: ± %v m, S0 %v, critical %v; want 2 mm, NaN, NaN", hub.StandardError, a.S0, a.Critical)
	}
	n.Weights = Relative
	if hub, _ = adjust(t, n).Height("hub"); !math.IsNaN(float64(hub.StandardError)) {
		t.Errorf("relative weights without a check: ± %v m, want NaN", hub.StandardError)
	}
	if _, ok := a.Height("nowhere"); ok {
		t.Error("a height of a point that is not in the network")
	}
}
