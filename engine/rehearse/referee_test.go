package rehearse

import (
	"crypto/sha256"
	"fmt"
	"math"
	"testing"

	"spadework/engine/geom"
)

// TestDaysAreTheSameOnEveryMachine hashes days and forecasts; the check command
// runs it natively and in WebAssembly.
func TestDaysAreTheSameOnEveryMachine(t *testing.T) {
	h := sha256.New()
	r := NewRand(7)
	for range 20 {
		d, truth, _ := Reference().Day(Nature{}, r)
		f, fault := d.Forecast(Sound)
		if fault != nil {
			t.Fatal(fault)
		}
		fmt.Fprintln(h, truth, f)
	}
	const want = "0d1e4ce5a469a322fee6c98aaedc9a11"
	if got := fmt.Sprintf("%x", h.Sum(nil))[:32]; got != want {
		t.Errorf("20 days hash to %s, want %s", got, want)
	}
}

// TestRand: the first values of seed 1234567 (published with the algorithm's
// reference code, from memory), and moments of what is drawn.
func TestRand(t *testing.T) {
	r := NewRand(1234567)
	for i, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423} {
		if got := r.Next(); got != want {
			t.Errorf("value %d = %d, want %d", i, got, want)
		}
	}
	const n = 100_000
	sum, square, even := 0.0, 0.0, 0.0
	for range n {
		x := r.Normal()
		sum, square = sum+x, square+x*x
		even += r.Between(2, 4)
	}
	for _, c := range []struct {
		what           string
		got, want, tol float64 // five standard errors
	}{
		{"mean", sum / n, 0, 5 / math.Sqrt(n)}, {"variance", square / n, 1, 5 * math.Sqrt(2.0/n)},
		{"mean from 2 to 4", even / n, 3, 5 * math.Sqrt(1.0/3/n)},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s = %g, want %g (tol %g)", c.what, c.got, c.want, c.tol)
		}
	}
}

// TestTurnedPlane: a level plane turned east by t rises by tan t per metre
// (geometry, exact), and stays put at its laser.
func TestTurnedPlane(t *testing.T) {
	b := trueBeam{at: geom.Point{X: 3, Y: 4}, height: 2, normal: turned(geom.Vector{}, 0.01, 0)}
	for _, c := range []struct {
		p    geom.Point
		want float64
	}{{geom.Point{X: 3, Y: 4}, 2}, {geom.Point{X: 103, Y: 4}, 2 + 100*math.Tan(0.01)}, {geom.Point{X: 3, Y: 104}, 2}} {
		if got := b.over(c.p); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("the turned beam over %v = %g, want %g", c.p, got, c.want)
		}
	}
	north := trueBeam{normal: turned(geom.Vector{X: 0.02}, 0, 0.01)}
	if got := north.over(geom.Point{Y: 100}); !(math.Abs(got-100*math.Tan(0.01)) <= 1e-12) {
		t.Errorf("a plane turned north rises %g in 100 m, want %g", got, 100*math.Tan(0.01))
	}
}

// TestRefereeOnKnownClaims: claims made to be right pass, the same claims five
// points off do not; values that are even are flat, others not.
func TestRefereeOnKnownClaims(t *testing.T) {
	r := NewRand(3)
	var right, wrong []Claim
	var even, bent []float64
	for i := range 40_000 {
		p := r.Between(0.5, 1)
		in := r.Uniform() < p
		right = append(right, Claim{i / 4, p, in})
		wrong = append(wrong, Claim{i / 4, math.Max(p-0.05, 0), in})
		u := r.Uniform()
		even, bent = append(even, u), append(bent, u*u)
	}
	_, flat := Flatness(even, binCount)
	good := Verdict{Groups: Calibrate(right, groupCount), Flat: flat}
	if !good.Sound(0.05) {
		t.Errorf("right claims are found wrong: %+v", good)
	}
	if bad := (Verdict{Groups: Calibrate(wrong, groupCount), Flat: flat}); bad.Sound(0.05) {
		t.Errorf("claims five points off are found right: %+v", bad)
	}
	if _, chance := Flatness(bent, binCount); chance > 1e-6 {
		t.Errorf("bent values are flat with a chance of %g", chance)
	}
	if got := Transform(2, []float64{0.2, 0.3, 0.4, 0.1}, 0.25); !(math.Abs(got-0.6) <= 1e-15) {
		t.Errorf("Transform(2, …, 0.25) = %g, want 0.6", got)
	}
}
