package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
)

func TestPointGap(t *testing.T) {
	a, b := geom.Point{X: 500_000, Y: 4_900_000}, geom.Point{X: 500_004, Y: 4_900_003}
	for _, c := range []struct {
		p    geom.Point
		a, b geom.Point
		want float64
	}{
		{geom.Point{X: 499_999, Y: 4_900_005.5}, a, b, 5}, // over the middle, by the triangle of 3, 4, 5
		{geom.Point{X: 500_007, Y: 4_900_007}, a, b, 5},   // beyond the end
		{geom.Point{X: 499_997, Y: 4_899_996}, a, b, 5},   // before the start
		{a, a, b, 0},
		{geom.Point{X: 500_003, Y: 4_900_004}, a, a, 5}, // a segment of no length
	} {
		if got := geom.PointGap(c.p, c.a, c.b); !(math.Abs(got-c.want) <= 1e-9) {
			t.Errorf("PointGap(%v, %v, %v) = %v m, want %v m (tol 1e-9 m: eastings)", c.p, c.a, c.b, got, c.want)
		}
	}
}

// TestSegmentGapAgainstSamples walks both segments: no pair of points is nearer,
// and some pair is as near.
func TestSegmentGapAgainstSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		point := func(name string) geom.Point {
			return geom.Point{X: float64(rapid.IntRange(-4, 4).Draw(t, name+".x")), Y: float64(rapid.IntRange(-4, 4).Draw(t, name+".y"))}
		}
		a, b, c, d := point("a"), point("b"), point("c"), point("d")
		got := geom.SegmentGap(a, b, c, d)
		if again := geom.SegmentGap(d, c, b, a); !(math.Abs(got-again) <= 1e-12) {
			t.Fatalf("SegmentGap turned round = %v m, want %v m", again, got)
		}
		const steps = 64
		least := math.Inf(1)
		for i := range steps + 1 {
			p := a.Toward(b, float64(i)/steps)
			for k := range steps + 1 {
				least = min(least, p.Distance(c.Toward(d, float64(k)/steps)))
			}
		}
		longest := max(a.Distance(b), c.Distance(d))
		if !(got <= least+1e-12) || !(least <= got+longest/steps) {
			t.Fatalf("SegmentGap(%v, %v, %v, %v) = %v m, want the least of %v m between samples (tol one step)", a, b, c, d, got, least)
		}
	})
}
