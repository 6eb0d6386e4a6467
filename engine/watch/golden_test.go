package watch

import (
	"crypto/sha256"
	"fmt"
	"math"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// fixedLog is the log of everything with readings that hang on n.
func fixedLog(n int) Log {
	l := threeMarks()
	l.Setup.Gradient = geom.Vector{X: 0.02, Y: -0.01}
	l.Habits.Bumps = append(l.Habits.Bumps, Bump{TwistJump, 0.02, 0.01, 0, 0.03})
	l.Habits.SettleRate, l.Habits.SettleBy, l.Habits.DriftHeight = 0.01, 0.003, 0.0005
	l.MachineBias = 0.005
	l.Points = append(l.Points, Point{ID: "M1", At: geom.Point{X: 12, Y: 44}})
	for i := range 8 {
		off := 0.004 * float64(n) * (uniform(n, i) - 0.4)
		l.Readings = append(l.Readings, Reading{At: Hours(i+1) / 2, Point: l.Points[i%4].ID, Off: unit.Length(off), Sigma: 0.002, Machine: i == 7})
	}
	return l
}

// TestVerdictsAreTheSameOnEveryMachine hashes verdicts; the check command runs it
// natively and in WebAssembly.
func TestVerdictsAreTheSameOnEveryMachine(t *testing.T) {
	h := sha256.New()
	for n := range 12 {
		v, f := Judge(fixedLog(n), DefaultLimit)
		if f != nil {
			t.Fatal(f)
		}
		fmt.Fprintln(h, v)
	}
	fmt.Fprintln(h, Cusum{K: 0.5, H: 4}.RunLength(1), Ewma{Lambda: 0.1, C: 2.7}.RunLength(0.5), AtRisk(4, 3, 0.1))
	const want = "e70c68dcc3b9562f69396a4c2ab65fcf"
	if got := fmt.Sprintf("%x", h.Sum(nil))[:32]; got != want {
		t.Errorf("12 verdicts hash to %s, want %s", got, want)
	}
}

// TestOrderOfReadingsIsNothing: turned round, the log has the same verdict; its
// inputs are left alone.
func TestOrderOfReadingsIsNothing(t *testing.T) {
	l := fixedLog(7)
	want, _ := Judge(l, DefaultLimit)
	turned := l
	turned.Readings = nil
	for i := range l.Readings {
		turned.Readings = append(turned.Readings, l.Readings[len(l.Readings)-1-i])
	}
	before := fmt.Sprint(turned)
	got, f := Judge(turned, DefaultLimit)
	if f != nil || got.State != want.State || got.Point != want.Point || !(math.Abs(float64(got.Out-want.Out)) <= 0.02) {
		t.Errorf("turned round: %s %q %.4f, want %s %q %.4f, %v", got.State, got.Point, got.Out, want.State, want.Point, want.Out, f)
	}
	if fmt.Sprint(turned) != before {
		t.Error("Judge changed the log")
	}
}

// TestRealEastings: the same site at 500 000, 4 900 000 has the same verdict.
func TestRealEastings(t *testing.T) {
	l := fixedLog(9)
	want, _ := Judge(l, DefaultLimit)
	by := geom.Vector{X: 500_000, Y: 4_900_000}
	l.Setup.At = l.Setup.At.Add(by)
	for i := range l.Points {
		l.Points[i].At = l.Points[i].At.Add(by)
	}
	for i := range l.Digs {
		l.Digs[i].At = l.Digs[i].At.Add(by)
	}
	got, _ := Judge(l, DefaultLimit)
	if got.State != want.State || !(math.Abs(float64(got.Out-want.Out)) <= 1e-3) {
		t.Errorf("far from the origin: %s %.6f, want %s %.6f", got.State, got.Out, want.State, want.Out)
	}
}

func BenchmarkJudge(b *testing.B) {
	l := fixedLog(9)
	for b.Loop() {
		if _, f := Judge(l, DefaultLimit); f != nil {
			b.Fatal(f)
		}
	}
}

func BenchmarkCusumRunLength(b *testing.B) {
	for b.Loop() {
		Cusum{K: 0.5, H: 4}.RunLength(1)
	}
}
