package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// coordinates gives values that make the filters fail often: near one line or
// circle, on lattices, at large eastings, of very different size.
func coordinates(r *rand.Rand) func() float64 {
	switch r.IntN(6) {
	case 0:
		return func() float64 { return float64(r.IntN(9)) }
	case 1:
		return func() float64 { return 500000 + float64(r.IntN(40))*0.1 }
	case 2:
		return func() float64 { return float64(r.IntN(5)) * 0.1 * math.Pow(2, float64(r.IntN(3)-1)) }
	case 3:
		return func() float64 { return 0.5 + float64(r.IntN(6))*0x1p-53 }
	case 4:
		return func() float64 { return (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(80)-40)) }
	}
	return r.NormFloat64
}

// The referee is rational arithmetic, which shares no step with the filter or
// the integers.
func TestSignsAgainstRationals(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	zero := [3]int{}
	for range 60000 {
		f := coordinates(r)
		p := func() Point { return Point{f(), f()} }
		a, b, c, d := p(), p(), p(), p()
		if r.IntN(3) == 0 {
			c = a.Toward(b, r.Float64())
		}
		if got, want := Orient(a, b, c), orientRational(a, b, c); got != want {
			t.Fatalf("Orient(%v, %v, %v) = %d, want %d", a, b, c, got, want)
		} else if got == 0 {
			zero[0]++
		}
		if got, want := InCircle(a, b, c, d), inCircleRational(a, b, c, d); got != want {
			t.Fatalf("InCircle(%v, %v, %v, %v) = %d, want %d", a, b, c, d, got, want)
		} else if got == 0 {
			zero[1]++
		}
		A, B, C, D := a.Raised(f()), b.Raised(f()), c.Raised(f()), d.Raised(f())
		if got, want := Orient3(A, B, C, D), orient3Rational(A, B, C, D); got != want {
			t.Fatalf("Orient3(%v, %v, %v, %v) = %d, want %d", A, B, C, D, got, want)
		} else if got == 0 {
			zero[2]++
		}
	}
	for i, n := range zero {
		if n < 100 {
			t.Errorf("test %d met %d degenerate cases, want 100 or more", i, n)
		}
	}
}

// Points on circles by Pythagorean triples, shifted to eastings where their
// coordinates are still exact.
func TestInCircleOnCircle(t *testing.T) {
	ring := []Point{{25, 0}, {24, 7}, {20, 15}, {15, 20}, {7, 24}, {0, 25}, {-7, 24}, {-25, 0}}
	for _, o := range []Vector{{}, {500000, 4900000}, {0.125, 1 << 40}} {
		for i := 3; i < len(ring); i++ {
			a, b, c, d := ring[0].Add(o), ring[1].Add(o), ring[2].Add(o), ring[i].Add(o)
			if got := InCircle(a, b, c, d); got != 0 {
				t.Errorf("InCircle of four points of a circle at %v = %d, want 0", o, got)
			}
			up := Point{d.X, math.Nextafter(d.Y, c.Y-1e9)}
			if got, want := InCircle(a, b, c, up), inCircleRational(a, b, c, up); got != want || got == 0 {
				t.Errorf("InCircle one step off the circle at %v = %d, want %d", o, got, want)
			}
		}
	}
}

func TestSignsExtreme(t *testing.T) {
	big, small := math.MaxFloat64, math.SmallestNonzeroFloat64
	cases := []struct{ a, b, c, d Point }{
		{Point{-big, 0}, Point{big, 0}, Point{0, big}, Point{0, 1}},
		{Point{0, 0}, Point{small, 0}, Point{0, small}, Point{small, small}},
		{Point{1e-200, 0}, Point{1, 1e-200}, Point{1e-100, 1e-100}, Point{0, 1e-300}},
		{Point{1e100, 0}, Point{0, 1e-100}, Point{-1e30, 1}, Point{3, 4}},
	}
	for _, c := range cases {
		if got, want := Orient(c.a, c.b, c.c), orientRational(c.a, c.b, c.c); got != want {
			t.Errorf("Orient(%v, %v, %v) = %d, want %d", c.a, c.b, c.c, got, want)
		}
		if got, want := InCircle(c.a, c.b, c.c, c.d), inCircleRational(c.a, c.b, c.c, c.d); got != want {
			t.Errorf("InCircle(%v, %v, %v, %v) = %d, want %d", c.a, c.b, c.c, c.d, got, want)
		}
	}
	nan := Point{math.NaN(), 0}
	if got := Orient(nan, Point{1, 0}, Point{0, 1}); got != 0 {
		t.Errorf("Orient with NaN = %d, want 0", got)
	}
	if got := InCircle(Point{}, Point{1, 0}, Point{0, 1}, nan); got != 0 {
		t.Errorf("InCircle with NaN = %d, want 0", got)
	}
}

func BenchmarkInCircleExact(b *testing.B) {
	o := 500000.1
	p := [4]Point{{o, o}, {o + 0.1, o}, {o + 0.1, o + 0.1}, {o, o + 0.1}}
	n := 0
	for b.Loop() {
		n += inCircleExact(p[0], p[1], p[2], p[3])
	}
}
