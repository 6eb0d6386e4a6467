package beam_test

import (
	"math"
	"strings"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// two is a pair of benchmarks 100 m apart, each with 3 mm of its own and 4 mm of
// reading, that put the beam apart by so many metres. Hand-derived: 5 mm each.
func two(apart float64) []beam.Backsight {
	return []beam.Backsight{
		{Benchmark: "BM1", At: geom.Point{X: 0}, Elevation: 50, Sigma: 0.003, Rod: 1.5, ReadingSigma: 0.004},
		{Benchmark: "BM2", At: geom.Point{X: 100}, Elevation: 49, Sigma: 0.003, Rod: unit.Reading(2.5 + apart), ReadingSigma: 0.004},
	}
}

func TestBacksightsAgreeWithinTheirUncertainty(t *testing.T) {
	for _, c := range []struct {
		apart    float64
		accuracy unit.Grade
		agree    bool
	}{
		{0.0212, 0, true},      // 3 √(5² + 5²) = 21.213 mm, exact
		{0.0213, 0, false},     //
		{-0.0212, 0, true},     // either way
		{-0.0213, 0, false},    //
		{0.0273, 0.0001, true}, // 3 √(50 + 10²/3) = 27.386 mm, exact
		{0.0274, 0.0001, false},
	} {
		in := beam.Instrument{At: geom.Point{X: 20}, Accuracy: c.accuracy, Curvature: beam.None}
		_, residuals, f := beam.FromBacksights(in, two(c.apart))
		if (f == nil) != c.agree {
			t.Errorf("FromBacksights(%.4f m apart, accuracy %g) fault = %v, want agree %v", c.apart, c.accuracy, f, c.agree)
		}
		if len(residuals) != 2 {
			t.Errorf("FromBacksights(%.4f m apart) = %d residuals, want 2 (told with the fault too)", c.apart, len(residuals))
		}
	}
}

func TestDisagreeingPairIsNamed(t *testing.T) {
	sights := append(two(0.001), beam.Backsight{Benchmark: "BM3", At: geom.Point{Y: 50}, Elevation: 51, Rod: 0.6, Sigma: 0.001})
	_, _, f := beam.FromBacksights(beam.Instrument{Curvature: beam.None}, sights)
	if f == nil {
		t.Fatal("FromBacksights took a benchmark 100 mm off")
	}
	if f.Code != phrase.Conflict {
		t.Errorf("code = %q, want %q", f.Code, phrase.Conflict)
	}
	// BM3 says 51.600 against 51.500 and 51.501: worst with BM1, 100 mm.
	for _, want := range []string{`"BM1"`, `"BM3"`, "51.500", "51.600", "0.100", "3 standard errors"} {
		if got := f.Error(); !strings.Contains(got, want) {
			t.Errorf("fault %q does not name %s", got, want)
		}
	}
	if got := f.Remedy.Render(phrase.English, unit.Style{}); !strings.Contains(got, "read BM1 and BM3 again") {
		t.Errorf("remedy = %q, want to read both again", got)
	}
}

func TestHIIsTheWeightedMean(t *testing.T) {
	// Hand-derived, exact: 3 and 4 mm at BM1 is 5 mm; 6 and 8 mm at BM2 is 10 mm:
	// weights 4 : 1, so HI lies a fifth of the 10 mm towards BM2.
	sights := two(0.010)
	sights[1].Sigma, sights[1].ReadingSigma = 0.006, 0.008
	pl, residuals, f := beam.FromBacksights(beam.Instrument{Curvature: beam.None}, sights)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "HI", float64(pl.HI), 51.502, 1e-9, "exact")
	near(t, "BM1 off", float64(residuals[0].Off), -0.002, 1e-9, "exact")
	near(t, "BM2 off", float64(residuals[1].Off), 0.008, 1e-9, "exact")
	near(t, "BM1 sigma", float64(residuals[0].Sigma), 0.005, 1e-12, "exact")
	near(t, "BM2 sigma", float64(residuals[1].Sigma), 0.010, 1e-12, "exact")
}

func TestReadingSigmaNotToldTakesTheDefault(t *testing.T) {
	sights := two(0)
	sights[0].ReadingSigma = 0
	sights[0].Sigma = 0
	_, residuals, f := beam.FromBacksights(beam.Instrument{}, sights)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "sigma", float64(residuals[0].Sigma), 0.002, 1e-15, "DefaultReadingSigma")
}

func TestOneBenchmarkReadTwiceSharesItsError(t *testing.T) {
	sights := two(0)
	sights[1] = sights[0]
	sights[0].Sigma, sights[1].Sigma = 0.050, 0.050
	sights[1].Rod += 0.018 // 3 √(4² + 4²) = 16.97 mm: the benchmark's 50 mm does not excuse it
	if _, _, f := beam.FromBacksights(beam.Instrument{}, sights); f == nil {
		t.Error("two readings of one benchmark 18 mm apart were taken, want a fault")
	}
}

func TestBacksightIsReducedForCurvature(t *testing.T) {
	// 200 m: 2.70 mm (levels 10, exact from 0.0675).
	sight := beam.Backsight{Benchmark: "BM", At: geom.Point{X: 200}, Elevation: 10, Rod: 1}
	pl, residuals, f := beam.FromBacksights(beam.Instrument{}, []beam.Backsight{sight})
	if f != nil {
		t.Fatal(f)
	}
	near(t, "HI", float64(pl.HI), 11-0.0027, 1e-9, "exact")
	near(t, "curvature told", float64(residuals[0].Curvature), 0.0027, 1e-12, "exact")
	near(t, "rod back on the benchmark", float64(pl.GradeRod(sight.At, 10)), 1, 1e-9, "what was read")
}

func TestMeasuredHeightAndItsCaution(t *testing.T) {
	pl, f := beam.FromMeasuredHeight(beam.Instrument{At: geom.Point{X: 5}}, 100.25, 1.48)
	if f != nil {
		t.Fatal(f)
	}
	near(t, "HI", float64(pl.HI), 101.73, 1e-9, "exact sum")
	if m := (beam.Instrument{}).PositionCounts(); !m.IsZero() {
		t.Errorf("a level plane is cautioned: %v", m)
	}
	m := beam.Instrument{Gradient: geom.Vector{X: 0.02}}.PositionCounts()
	if got := m.Render(phrase.English, unit.Style{}); !strings.Contains(got, "2 %") {
		t.Errorf("caution of a dialled plane = %q, want it to name the slope", got)
	}
}

func TestAFarPointGivesNoNumber(t *testing.T) {
	pl := beam.Plane{Gradient: geom.Vector{X: 0.01}}
	for _, p := range []geom.Point{{X: math.Inf(1)}, {X: math.NaN()}, {Y: math.Inf(-1)}} {
		if got := pl.Beam(p); !math.IsNaN(float64(got)) {
			t.Errorf("Beam(%v) = %g, want NaN", p, got)
		}
		if got := pl.GradeRod(p, 0); !math.IsNaN(float64(got)) {
			t.Errorf("GradeRod(%v) = %g, want NaN", p, got)
		}
	}
	if got := pl.GradeRod(geom.Point{}, unit.Elevation(math.Inf(1))); !math.IsNaN(float64(got)) {
		t.Errorf("GradeRod over an infinite bottom = %g, want NaN", got)
	}
}
