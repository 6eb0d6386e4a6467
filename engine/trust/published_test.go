package trust_test

import (
	"math"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/estimate"
	"spadework/engine/geom"
	"spadework/engine/level"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// near fails unless got lies within tol of want; NaN fails.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (tol %g)", what, got, want, tol)
	}
}

// TestConformityAsPublished: JCGM 106:2012, inputs from memory, answers exact
// but for the rounding shown.
func TestConformityAsPublished(t *testing.T) {
	const far = 1e6
	for _, c := range []struct {
		what                     string
		value, sigma, low, above float64 // low is under the design
		want, tol                float64
	}{
		{"TU −5.40, y −5.47, u 0.05", 0.53, 0.05, far, 0.60, 0.919, 5e-4},
		{"TL 490, y 509.7, u 8.6", 9.7, 8.6, 10, far, 0.989, 5e-4},
		{"12.5 to 16.3, y 13.6, u 1.8", -0.4, 1.8, 1.5, 2.3, 0.663, 5e-4},
		{"±1, y 0.5, u 0.25", 0.5, 0.25, 1, 1, 0.97724987, 5e-9},
	} {
		m := trust.Measured{Value: unit.Length(c.value), Sigma: unit.Length(c.sigma)}
		got := m.Conforms(beam.Band{Above: unit.Length(c.above), Below: unit.Length(c.low)})
		near(t, c.what, float64(got), c.want, c.tol)
	}
	// One-sided guard band w = r·U, U = 2u, conformance at the limit 0.95 (exact).
	near(t, "GuardFactor(0.95)", trust.GuardFactor(0.95), 0.8224, 5e-5)
}

// TestBallBearing: JCGM 106:2012, 9.5.4 (read). Prior gamma(4, 1/4 µm), TU 2,
// u 0.25. The prior is the referee's; what is accepted and with what chance is
// the program's.
func TestBallBearing(t *testing.T) {
	const (
		limit, u = 2.0, 0.25
		step     = 1e-3
	)
	density := func(x float64) float64 { return 256.0 / 6 * x * x * x * math.Exp(-4*x) }
	risk := func(acceptance float64) (bad, consumer float64) {
		for x := limit + step/2; x < 12; x += step {
			bad += density(x) * step
			// Accepted where the value lies under the acceptance limit.
			consumer += density(x) * trust.Between(math.Inf(-1), acceptance, x, u) * step
		}
		return bad, consumer
	}
	bad, consumer := risk(limit)
	near(t, "nonconforming", bad, 0.04238011, 1e-7)
	near(t, "consumer's risk", consumer, 0.00801911, 1e-7)
	_, guarded := risk(1.6718288)
	near(t, "consumer's risk at 1.6718288", guarded, 0.001, 1e-7)
	// The rule itself: 1.65 keeps that guard band, 1.70 does not, 2.1 is out.
	band := beam.Band{Above: limit, Below: limit}
	guard := unit.Length(limit - 1.6718288)
	for _, c := range []struct {
		y       unit.Length
		guarded bool
		simple  bool
	}{{1.65, true, true}, {1.70, false, true}, {2.1, false, false}} {
		m := trust.Measured{Value: c.y, Sigma: u}
		if got := m.Accepts(band, trust.GuardedAcceptance, guard); got != c.guarded {
			t.Errorf("guarded acceptance of %v = %v, want %v", c.y, got, c.guarded)
		}
		if got := m.Accepts(band, trust.SimpleAcceptance, guard); got != c.simple {
			t.Errorf("simple acceptance of %v = %v, want %v", c.y, got, c.simple)
		}
	}
}

// input is an independent input of a sum.
type input struct{ value, u, coefficient float64 }

// propagate is a sum of inputs and its standard uncertainty. shared is how much
// of the third the last carries with it.
func propagate(t *testing.T, inputs []input, shared float64) estimate.Value {
	t.Helper()
	f := make([]estimate.Term, len(inputs))
	in := estimate.NewInformation(len(inputs))
	for i, x := range inputs {
		f[i] = estimate.Term{Unknown: i, Coefficient: x.coefficient}
		terms, value, variance := []estimate.Term{{Unknown: i, Coefficient: 1}}, x.value, x.u*x.u
		if i == 3 && shared != 0 { // what is left of the last once the third is known
			slope := shared * x.u / inputs[2].u
			terms = append(terms, estimate.Term{Unknown: 2, Coefficient: -slope})
			value, variance = value-slope*inputs[2].value, variance*(1-shared*shared)
		}
		must(t, in.Observe(estimate.Observation{Terms: terms, Value: value, Weight: 1 / variance}))
	}
	got, ok := in.Belief().Of(f...)
	if !ok {
		t.Fatal("the sum is open")
	}
	return got
}

// TestPropagation: y = a + 2b + 3c + d/2 at 1 3 2 11 with u 10 %, and with r(c, d)
// 0.5 (exact, 8 digits).
func TestPropagation(t *testing.T) {
	inputs := []input{{1, 0.1, 1}, {3, 0.3, 2}, {2, 0.2, 3}, {11, 1.1, 0.5}}
	got := propagate(t, inputs, 0)
	near(t, "y", got.Mean, 18.5, 1e-12)
	near(t, "u(y)", math.Sqrt(got.Variance), 1.0161201, 5e-8)
	near(t, "u(y), c and d correlated", math.Sqrt(propagate(t, inputs, 0.5).Variance), 1.1672618, 5e-8)
}

// TestEndGauge: JCGM 100, H.1 (second-hand), nm: the standard 25, the comparison
// 5.8, 3.9 and 6.7, expansion ±1e-6/°C at −0.1 °C and ±0.05 °C at 11.5e-6/°C, both
// rectangular, on 50 mm. 31.663879 of the inputs as printed.
func TestEndGauge(t *testing.T) {
	const length, root3 = 50.000623e6, 1.7320508075688772
	got := propagate(t, []input{{0, 25, 1}, {0, 5.8, 1}, {0, 3.9, 1}, {0, 6.7, 1},
		{0, 1e-6 / root3, length * 0.1}, {0, 0.05 / root3, length * 11.5e-6}}, 0)
	near(t, "u(l) of the end gauge, nm", math.Sqrt(got.Variance), 31.663879, 5e-5) // the last digit of the length
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// TestPlaneFit: plane through five points (constructed, exact): the readings of a
// laser of which nothing is known before are a least-squares plane.
func TestPlaneFit(t *testing.T) {
	points := []struct{ x, y, z float64 }{{0, 0, 10}, {30, 0, 10.004}, {0, 20, 9.998}, {30, 20, 10.003}, {15, 10, 10.001}}
	var g trust.Control
	for i, p := range points {
		g.Points = append(g.Points, trust.Point{ID: string(rune('A' + i)), At: geom.Point{X: p.x, Y: p.y}, Known: true})
	}
	s := newSite(t, g, trust.Setup{ID: "S", Prior: trust.Prior{Tilt: 1e4}})
	for i, p := range points {
		read(t, s, trust.Sight{Setup: "S", Point: string(rune('A' + i)), Off: unit.Length(p.z), Sigma: 1})
	}
	b := s.Belief("S")
	at := func(x, y float64) float64 { return float64(b.Beam(geom.Point{X: x, Y: y}).Mean) }
	near(t, "height at the origin", at(0, 0), 9.9997, 1e-9)
	near(t, "rise east", (at(30, 0)-at(0, 0))/30, 0.00015, 1e-11)
	near(t, "rise north", (at(0, 20)-at(0, 0))/20, -0.000075, 1e-11)
	square := 0.0
	for _, p := range points {
		square += (at(p.x, p.y) - p.z) * (at(p.x, p.y) - p.z)
	}
	near(t, "s", math.Sqrt(square/2), 3.87298e-4, 5e-10)
}

// TestRange: the upper 5 % points of the range of independent normal values,
// 2.772, 3.314 and 3.633 for two, three and four (studentized range, infinite
// degrees of freedom, H. L. Harter 1960, from memory).
func TestRange(t *testing.T) {
	for n, q := range map[int]float64{2: 2.772, 3: 3.314, 4: 3.633} {
		b, outlets := exactBeam(t), []trust.End{}
		for i := range n {
			outlets = append(outlets, trust.End{At: geom.Point{X: float64(i)}})
		}
		got := b.Equal(outlets, trust.Way{Trimming: unit.Millimetre}, unit.Length(q)*unit.Millimetre)
		near(t, "chance of a range", float64(got), 0.95, 2e-4) // half a unit of the third place
	}
}

// exactBeam is a beam without any doubt.
func exactBeam(t *testing.T) *trust.Belief {
	t.Helper()
	b, f := trust.Predict(trust.Setup{ID: "S", Height: &trust.Height{}}, trust.Control{}, 0)
	if f != nil {
		t.Fatal(f)
	}
	return b
}

// TestLaserPriors: four-direction check by geometry (exact): tilt 0.10 and −0.05
// mm/m, cone 0.02 mm/m; 10″ is 1.454 mm per 30 m.
func TestLaserPriors(t *testing.T) {
	check, err := level.FourWay{
		Far: [4]unit.Reading{1.5036, 1.4991, 1.4976, 1.5021}, FarDistance: 30,
		Near: [4]unit.Reading{1.5002, 1.5002, 1.5002, 1.5002}, NearDistance: 10,
	}.Check()
	must(t, err)
	p := trust.FromCheck(check, 0)
	near(t, "tilt an axis", float64(p.Tilt), 0.111803e-3/math.Sqrt2, 1e-9)
	near(t, "cone", float64(p.Cone), 0.02e-3, 1e-12)
	near(t, "10″ an axis over 30 m", 30*float64(trust.FromAccuracy(unit.Grade(10*unit.ArcSecond)).Tilt), 1.454e-3/math.Sqrt(3), 5e-7)
	near(t, "found by a check", float64(trust.CheckSigma(2*unit.Millimetre, 30)), 0.002/(math.Sqrt2*30), 1e-15)
}
