package cover

import (
	"testing"

	"pgregory.net/rapid"
)

// Whatever the multipliers, the integer bound holds, huge ones included.
func TestAnyMultipliersBoundFromBelow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := tangle(t, 20, 12)
		m, _ := p.matrix(1)
		l := newRelaxer(m)
		top := rapid.SampledFrom([]float64{1, 40, 1e13, 1e300}).Draw(t, "top")
		var price []multiplier
		for i := range m.rows {
			price = append(price, multiplier{i, rapid.Float64Range(0, top).Draw(t, "u")})
		}
		want := bruteForce(p)
		if got := l.up(l.prove(make([]int8, len(m.sets)), price)); got > want {
			t.Fatalf("prove(%v) = %d, want at most the optimum %d", price, got, want)
		}
	})
}
