package trust_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

func drawOutlook(t *rapid.T) (trust.Outlook, beam.Band) {
	mm := func(name string, low, high float64) unit.Length {
		return unit.Length(rapid.Float64Range(low, high).Draw(t, name)) * unit.Millimetre
	}
	o := trust.Outlook{Known: true, Mean: mm("mean", -5, 5), Beam: mm("beam", 0, 5)}
	o.Final = o.Beam + mm("final", 0.1, 5)
	o.First = o.Final + mm("first", 0, 15)
	return o, beam.Band{Above: mm("above", 0, 30), Below: mm("below", 1, 30)}
}

// integral of the normal density times f, by the midpoint rule: the referee of
// chances and costs.
func integral(mean, sigma float64, f func(x float64) float64) float64 {
	const n = 20_000
	sum := 0.0
	for i := range n {
		z := -9 + 18*(float64(i)+0.5)/n
		sum += math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * f(mean+z*sigma) * 18 / n
	}
	return sum
}

// TestChancesAndCosts against integration; the best aim is better than others; an
// aim for a risk runs it.
func TestChancesAndCosts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, band := drawOutlook(t)
		aim := unit.Length(rapid.Float64Range(-0.03, 0.03).Draw(t, "aim"))
		check := func(what string, got, want, tol float64) {
			if !(math.Abs(got-want) <= tol) {
				t.Fatalf("%s = %g, integral %g (tol %g)", what, got, want, tol)
			}
		}
		within := integral(float64(o.Mean+aim), float64(o.Final), func(x float64) float64 {
			return one(x >= -float64(band.Below) && x <= float64(band.Above))
		})
		over := integral(float64(o.Mean+aim), float64(o.First), func(x float64) float64 { return one(x < -float64(band.Below)) })
		check("Within", float64(o.Within(band, aim)), within, 1e-3) // a step of the rule
		check("Over", float64(o.Over(band, aim)), over, 1e-3)
		rule := trust.AimRule{Over: 200, Trim: 30}
		cost := integral(float64(o.Mean+aim), float64(o.First), func(x float64) float64 {
			return 200*12*math.Max(-x, 0) + 30*one(x > float64(band.Above))
		})
		check("Cost", rule.Cost(o, band, 12, aim), cost, 0.02)
		if best := o.Best(band); o.Within(band, best) < o.Within(band, aim)-1e-12 {
			t.Fatalf("best aim %v keeps %v, %v keeps %v", best, o.Within(band, best), aim, o.Within(band, aim))
		}
		cheapest := rule.Aim(o, band, 12)
		if inside := aim >= -band.Below && aim <= band.Above; inside && rule.Cost(o, band, 12, cheapest) > rule.Cost(o, band, 12, aim)+0.05 {
			t.Fatalf("aim %v costs %g, %v costs %g", cheapest, rule.Cost(o, band, 12, cheapest), aim, rule.Cost(o, band, 12, aim))
		}
		check("Over at the aim for a risk of 0.07", float64(o.Over(band, o.ForRisk(band, 0.07))), 0.07, 1e-9)
		if a := (trust.AimRule{Risk: 0.07}).Aim(o, band, 0); o.Over(band, a) > 0.07+1e-9 || a < o.Best(band) {
			t.Fatalf("the aim %v runs a risk of %v or lies under the best", a, o.Over(band, a))
		}
	})
}

func one(v bool) float64 {
	if v {
		return 1
	}
	return 0
}

// TestBetween keeps digits in both tails and takes a sigma of 0.
func TestBetween(t *testing.T) {
	near(t, "upper tail", trust.Between(8, math.Inf(1), 0, 1), 6.220960574271785e-16, 1e-29) // Q(8), tables
	near(t, "lower tail", trust.Between(math.Inf(-1), -8, 0, 1), 6.220960574271785e-16, 1e-29)
	near(t, "on the limit, exact", trust.Between(-1, 1, 1, 0), 1, 0)
	near(t, "outside, exact", trust.Between(-1, 1, 1.1, 0), 0, 0)
	if p := trust.Between(-1, 1, math.NaN(), 1); !math.IsNaN(p) {
		t.Errorf("Between of NaN = %g, want NaN", p)
	}
}

// TestJudgements: the words and what each stands for.
func TestJudgements(t *testing.T) {
	band := beam.Band{Above: 12 * unit.Millimetre, Below: 12 * unit.Millimetre}
	mm := unit.Millimetre
	for _, c := range []struct {
		what string
		o    trust.Outlook
		want trust.Judgement
	}{
		{"all well known", trust.Outlook{Known: true, Beam: 2 * mm, First: 4 * mm, Final: 3 * mm}, trust.Good},
		{"rough bucket", trust.Outlook{Known: true, Beam: 2 * mm, First: 15 * mm, Final: 3 * mm}, trust.CheckEvery},
		{"poor reading", trust.Outlook{Known: true, Beam: 2 * mm, First: 4 * mm, Final: 9 * mm}, trust.CheckEvery},
		{"poor beam", trust.Outlook{Known: true, Beam: 8 * mm, First: 9 * mm, Final: 9 * mm}, trust.DoNotTrust},
		{"beam aside", trust.Outlook{Known: true, Mean: 11 * mm, Beam: 2 * mm, First: 4 * mm, Final: 3 * mm}, trust.DoNotTrust},
		{"nothing known", trust.Outlook{}, trust.DoNotTrust},
		{"touched point", trust.Outlook{Known: true, Beam: unit.Length(math.NaN()), First: 4 * mm, Final: 4 * mm}, trust.Good},
	} {
		if got := trust.Judge(c.o, band, 0, 0.95); got != c.want {
			t.Errorf("Judge(%s) = %s, want %s", c.what, got, c.want)
		}
	}
}

// TestWayShowsAims of at least half a dead band only.
func TestWayShowsAims(t *testing.T) {
	w := trust.Way{DeadBand: 0.006, Shown: 0.001}
	for aim, want := range map[unit.Length]bool{0: false, 0.0029: false, 0.003: true, -0.003: true, -0.0029: false} {
		if got := w.Shows(aim); got != want {
			t.Errorf("Shows(%v) under a dead band of 6 mm = %v, want %v", aim, got, want)
		}
	}
}

// TestSensorsNeedAnAccuracy: what is not told gives no outlook.
func TestSensorsNeedAnAccuracy(t *testing.T) {
	b := exactBeam(t)
	w := trust.Way{Guidance: beam.SensorsBeam, Cutting: 0.003, DeadBand: 0.006}
	if o := b.At(geom.Point{}, 2, w); o.Known || !math.IsNaN(float64(o.Final)) {
		t.Errorf("sensors without a stated accuracy = %+v, want not known", o)
	}
	w.Depth, w.Measures = 0.004, true
	o := b.At(geom.Point{}, 2, w)
	near(t, "sensors: tie, machine, bucket", float64(o.Final), math.Sqrt(0.006*0.006/12+0.003*0.003+0.004*0.004), 1e-12)
	near(t, "first pass of sensors", float64(o.First), float64(o.Final), 0)
	near(t, "tie", float64(w.TieSigma()), 0.006/math.Sqrt(12), 1e-12)
	near(t, "touched point", float64(w.Touch(0.002).Final), math.Sqrt(0.002*0.002+0.003*0.003+0.004*0.004), 1e-12)
}

// TestLeaningRod: two leans of 1° bound and a rod of 10 ft: mean and standard
// deviation rod·(1°)²/3 (second order of the exact rod·(1 − cos t)).
func TestLeaningRod(t *testing.T) {
	o := exactBeam(t).At(geom.Point{}, unit.Reading(10*unit.Foot), trust.Way{Plumb: unit.Degree})
	want := 3.048 * math.Pow(math.Pi/180, 2) / 3
	near(t, "mean", float64(o.Mean), want, 1e-12)
	near(t, "sigma", float64(o.Final), want, 1e-12)
}

// TestOut: nothing shared is the binomial; a beam alone puts all out or none; the
// mean of the count is the sum of the chances.
func TestOut(t *testing.T) {
	band := beam.Band{Above: 0.010, Below: 0.010}
	var own []trust.Bottom
	for i := range 4 {
		own = append(own, trust.Bottom{At: geom.Point{X: float64(i)}, Sigma: 0.010, Band: band})
	}
	p := 1 - trust.Between(-1, 1, 0, 1)
	for k, got := range exactBeam(t).Out(own, 0) {
		want := []float64{1, 4, 6, 4, 1}[k] * math.Pow(p, float64(k)) * math.Pow(1-p, float64(4-k))
		near(t, "binomial share", got, want, 1e-9)
	}
	b, f := trust.Predict(trust.Setup{ID: "S", Height: &trust.Height{Sigma: 0.010}}, trust.Control{}, 0)
	if f != nil {
		t.Fatal(f)
	}
	for i := range own {
		own[i].Sigma = 1e-6
	}
	out := b.Out(own, 0)
	near(t, "none out", out[0], 1-p, 0.005) // 256 draws
	near(t, "all out", out[4], p, 0.005)
	near(t, "some out", out[1]+out[2]+out[3], 0, 0.005)
	for i := range own {
		own[i].Sigma = 0.005
	}
	mean := 0.0
	for k, q := range b.Out(own, 0.004) {
		mean += float64(k) * q
	}
	near(t, "mean count", mean, 4*(1-trust.Between(-1, 1, 0, math.Sqrt(1+0.25+0.16))), 0.02)
}

// TestStandings: proven in is accepted simply, proven out is not, and unknown is
// neither.
func TestStandings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		band := beam.Band{Above: unit.Length(rapid.Float64Range(0, 0.03).Draw(t, "above")), Below: unit.Length(rapid.Float64Range(0, 0.03).Draw(t, "below"))}
		m := trust.Measured{Value: unit.Length(rapid.Float64Range(-0.06, 0.06).Draw(t, "y")), Sigma: unit.Length(rapid.Float64Range(1e-4, 0.01).Draw(t, "u"))}
		simple := m.Accepts(band, trust.SimpleAcceptance, 0)
		p := m.Conforms(band)
		switch m.Stands(band) {
		case trust.ProvenIn: // U = 2u off both limits
			if !simple || p < 0.95 {
				t.Fatalf("%+v in %+v is proven in with a chance of %v, simple %v", m, band, p, simple)
			}
		case trust.ProvenOut:
			if simple || p > 0.025 {
				t.Fatalf("%+v in %+v is proven out with a chance of %v, simple %v", m, band, p, simple)
			}
		}
		m.Sigma = unit.Length(math.NaN())
		if got := m.Stands(band); got != trust.Open {
			t.Fatalf("an unknown uncertainty stands %s", got)
		}
	})
}

// TestFallsUnderOneBeam: what is shared drops out of a difference; a plane's tilt
// stays over the distance.
func TestFallsUnderOneBeam(t *testing.T) {
	g := trust.Control{Points: []trust.Point{{ID: "BM", At: geom.Point{X: -200}, Known: true, Sigma: 0.02}}}
	b, f := trust.Predict(trust.Setup{ID: "S", Prior: trust.Prior{Tilt: 5e-5}}, g, 0.002)
	if f != nil {
		t.Fatal(f)
	}
	o := b.Difference(trust.End{}, trust.End{At: geom.Point{X: 30, Y: 40}}, trust.Way{Trimming: 0.003})
	near(t, "beam over 50 m", float64(o.Beam), 50*5e-5, 1e-9)
	near(t, "difference", float64(o.Final), math.Sqrt(math.Pow(50*5e-5, 2)+2*0.003*0.003), 1e-9)
	near(t, "fall of 5 mm keeps its way", float64(o.KeepsFall(0.005)), trust.Between(math.Inf(-1), 0.005, 0, float64(o.Final)), 1e-12)
	near(t, "fall within 10 mm", float64(o.Differs(0.010)), trust.Between(-0.010, 0.010, 0, float64(o.Final)), 1e-12)
}

// TestOutlookAllocatesNothing: a plan asks for 10 000.
func TestOutlookAllocatesNothing(t *testing.T) {
	b, band := exactBeam(t), beam.Band{Above: 0.01, Below: 0.01}
	sum := unit.Chance(0)
	if n := testing.AllocsPerRun(100, func() {
		o := b.At(geom.Point{X: 30}, 2, trust.Way{Trimming: 0.003})
		sum += o.Within(band, 0)
	}); n != 0 {
		t.Errorf("an outlook allocates %v times, want 0 (sum %v)", n, sum)
	}
}
