package record_test

import (
	"errors"
	"math"
	"testing"

	"spadework/engine/plan"
	"spadework/engine/real"
	"spadework/engine/record"
	"spadework/engine/trust"
	"spadework/engine/unit"
	"spadework/exchange"
)

const shotJob = `[job]
name = "shots"
units = "m"
curvature = "none"
[[benchmark]]
id = "BM1"
at = [0, 0]
elevation = 100
sigma = "3 mm"
[ground]
level = 100
[practice]
rod_plumb = 0
[[laser]]
id = "L1"
accuracy = '1"'
range = 200
[[receiver]]
id = "R1"
dead_band = "6 mm"
[[rod]]
id = "R1"
face = "metric"
longest = 5
[[setup]]
tag = "A1"
at = [0, 10]
backsights = [{ benchmark = "BM1", rod = 1.5, sigma = "2 mm" }]
[[excavation]]
id = "F1"
kind = "footing"
at = [0, 0]
size = 1
bottom = { elevation = 99 }
tolerance = "20 mm"
[[excavation]]
id = "F2"
kind = "footing"
at = [0, 3]
size = 1
bottom = { elevation = 99 }
`

// shoot judges readings of F1's centre, or of the dig named.
func shoot(t *testing.T, dig string, readings ...unit.Reading) (*plan.Plan, []record.Proof) {
	t.Helper()
	j, _, err := exchange.ReadJob("job.toml", []byte(shotJob), func(string) ([]byte, error) { return nil, errors.New("no files") })
	if err != nil {
		t.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	var shots []record.Shot
	for _, r := range readings {
		shots = append(shots, record.Shot{Excavation: dig, Setup: "A1", Reading: &r})
	}
	judged, f := record.Judge(p, shots)
	if f != nil {
		t.Fatal(f)
	}
	return p, record.Prove(p, judged)
}

// shotSigma is that of a shot on F1, over BM1 itself: benchmark 3 mm, backsight
// 2 mm, dead band 6 mm and a rod to 1 mm (algebra).
var shotSigma = math.Sqrt(0.003*0.003 + 0.002*0.002 + 0.006*0.006/12 + 0.001*0.001/12)

// TestShotsAreProven by hand: on grade is 2.500; U is some 8 mm, so that 12 mm off
// is in and not proven, 30 mm off out and proven.
func TestShotsAreProven(t *testing.T) {
	_, got := shoot(t, "F1", 2.500, 2.488, 2.470, 2.512)
	for i, want := range []struct {
		off    float64
		within bool
		stands trust.Standing
	}{{0, true, trust.ProvenIn}, {0.012, true, trust.Open}, {0.030, false, trust.ProvenOut}, {-0.012, true, trust.Open}} {
		g := got[i]
		if !(math.Abs(float64(g.Value)-want.off) <= 1e-9) || g.Within != want.within || g.Standing != want.stands {
			t.Errorf("shot %d is %v off, in %v, stands %s; want %g, %v, %s", i, g.Value, g.Within, g.Standing, want.off, want.within, want.stands)
		}
		if !(math.Abs(float64(g.Sigma)-shotSigma) <= 1e-9) {
			t.Errorf("shot %d is ±%v, want ±%g", i, g.Sigma, shotSigma)
		}
		// JCGM 106:2012, 7.3.
		chance := real.NormalCDF((0.020-want.off)/shotSigma) - real.NormalCDF((-0.020-want.off)/shotSigma)
		if !(math.Abs(float64(g.Chance)-chance) <= 1e-6) {
			t.Errorf("shot %d conforms with %v, want %g", i, g.Chance, chance)
		}
	}
}

// TestShotsUnderOneBeamHangTogether: both shots of a dig share beam and benchmark,
// so that both being in is likelier than if they were independent.
func TestShotsUnderOneBeamHangTogether(t *testing.T) {
	p, proofs := shoot(t, "F1", 2.485, 2.485)
	digs, whole := record.Summarise(p, proofs)
	one := float64(proofs[0].Chance)
	all := float64(whole.AllIn)
	if !(all > one*one+0.01 && all < one) {
		t.Errorf("both are in with %g, one with %g: want between %g and %g", all, one, one*one, one)
	}
	if len(digs) != 1 || digs[0].Shots != 2 || digs[0].Open != 2 || !(math.Abs(digs[0].Expected-2*(1-one)) <= 1e-12) {
		t.Errorf("the summary is %+v, want two open shots and %g expected out", digs, 2*(1-one))
	}
}

// TestADigWithoutToleranceProvesNothing.
func TestADigWithoutToleranceProvesNothing(t *testing.T) {
	p, proofs := shoot(t, "F2", 2.5)
	if g := proofs[0]; g.Standing != trust.Open || !math.IsNaN(float64(g.Chance)) {
		t.Errorf("it stands %s with a chance of %v, want open and not known", g.Standing, g.Chance)
	}
	if _, whole := record.Summarise(p, proofs); whole.WithoutVerdict != 1 || whole.In+whole.Out+whole.Open != 0 {
		t.Errorf("the summary is %+v, want one without a verdict", whole)
	}
}
