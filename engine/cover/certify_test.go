package cover

import (
	"testing"

	"pgregory.net/rapid"
)

// The linear relaxation of c400x5000 is 27.73 (README of testdata/covers, by
// HiGHS), with and without the prices of an ascent, which stays below it.
func TestRelaxationOfADataFile(t *testing.T) {
	s, err := New(readProblem(t, "c400x5000"))
	if err != nil {
		t.Fatal(err)
	}
	for !s.split {
		s.Step(1)
	}
	base := float64(s.base)
	a := newAscent(s.parts[0].m)
	for !a.step(30) {
	}
	if got := a.high + base; !(got > 27.5 && got < 27.735) {
		t.Errorf("the ascent ends at %v, want 27.73 or a little less", got)
	}
	for _, price := range [][]multiplier{nil, a.best} {
		l := newRelaxer(s.parts[0].m)
		if price != nil {
			l.follow(price)
		}
		n, v := newNode(l), moved
		for v == moved {
			v, _ = l.step(n)
		}
		if got := n.t.z + base; v != optimal || !(got > 27.725 && got < 27.735) {
			t.Errorf("the relaxation is %v (verdict %d), want 27.73 (tol 0.005: two decimals given)", got, v)
		}
	}
}

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
