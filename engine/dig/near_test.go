package dig

import (
	"errors"
	"math"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// failer is what testing.T and rapid.T share.
type failer interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// near fails unless got lies within tol of want; NaN fails.
func near[T ~float64](t failer, what string, got, want T, tol float64) {
	t.Helper()
	if !within(float64(got), float64(want), tol) {
		t.Errorf("%s = %.6f, want %.6f (tol %g)", what, float64(got), float64(want), tol)
	}
}

func within(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

func TestWithinFails(t *testing.T) {
	if within(1.1, 1, 0.05) || within(math.NaN(), 1, 1) || within(1, math.NaN(), 1) || !within(1.04, 1, 0.05) {
		t.Error("within() does not tell near from far")
	}
}

// resolve is Resolve that must work.
func resolve(t failer, x Excavation, site Site) Dig {
	t.Helper()
	d, err := Resolve(x, site)
	if err != nil {
		t.Fatalf("Resolve(%s) = %v", x.ID, err)
	}
	checkSums(t, d)
	return d
}

// checkSums: the terms of every trace add up to its sum and to its plane, bit
// for bit.
func checkSums(t failer, d Dig) {
	t.Helper()
	for _, p := range d.Parts {
		sum := p.Trace.Origin.Elevation
		for _, term := range p.Trace.Terms {
			sum += unit.Elevation(term.Value)
		}
		if sum != p.Trace.Sum || float64(sum) != p.Bottom.Z0 {
			t.Errorf("%s/%s: terms add up to %v, want sum %v and plane %v", d.Excavation.ID, p.ID, sum, p.Trace.Sum, p.Bottom.Z0)
		}
	}
}

// faultOf is the fault of an excavation that must have one.
func faultOf(t failer, x Excavation, site Site) *phrase.Fault {
	t.Helper()
	_, err := Resolve(x, site)
	var f *phrase.Fault
	if !errors.As(err, &f) {
		t.Fatalf("Resolve(%s) = %v, want a fault", x.ID, err)
	}
	return f
}

// noted says that a dig has a note.
func noted(d Dig, key phrase.Key) bool {
	for _, n := range d.Notes {
		if n.Key == key {
			return true
		}
	}
	return false
}

// feetLine is a run of n feet east along y = 0, from x0 feet.
func feetLine(x0, n float64) []geom.Point {
	ft := float64(unit.Foot)
	return []geom.Point{{X: x0 * ft}, {X: (x0 + n) * ft}}
}

// ft turns printed feet into metres.
func ft[T ~float64](v float64) T { return T(v * float64(unit.Foot)) }

// inFeet turns metres into feet.
func inFeet[T ~float64](v T) float64 { return float64(v) / float64(unit.Foot) }

// footing is a 2 m × 1 m footing, a good one.
func footing() Excavation {
	return Excavation{
		ID: "F1", Kind: Footing, Words: "T/FTG", At: geom.Point{X: 10, Y: 20}, Size: [2]unit.Length{2, 1},
		Bottom:    Bottom{Rule: ByElevation, Elevation: 98},
		Tolerance: &Tolerance{Above: 0.01, Below: 0.02},
	}
}

// trench is a 40 m trench east by two inverts, a good one.
func trench() Excavation {
	return Excavation{
		ID: "T1", Kind: Trench, Words: "INV", Line: []geom.Point{{X: 0}, {X: 40}}, Width: 0.6,
		Bottom:    Bottom{Rule: ByInvert},
		Inverts:   []Invert{{0, 98, 98}, {40, 97.6, 97.6}},
		Tolerance: &Tolerance{Above: 0.01, Below: 0.02},
	}
}

// strip is a 30 m strip footing east with a step, a good one.
func strip() Excavation {
	return Excavation{
		ID: "S1", Kind: Strip, Words: "STRIP", Line: []geom.Point{{X: 0}, {X: 30}}, Width: 0.6,
		Bottom:    Bottom{Rule: BelowDatum, Depth: 1, Datum: Datum{"FFL", 100}},
		Steps:     []Step{{10, 0.4}},
		Tolerance: &Tolerance{Above: 0.01, Below: 0.02},
	}
}

// flat is a site of level ground at 100 m.
func flat() Site { return Site{Existing: level(100), Finished: level(100.5)} }
