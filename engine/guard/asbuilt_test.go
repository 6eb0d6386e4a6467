package guard

import (
	"math"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/record"
	"spadework/engine/trust"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// bumped is a day whose laser was knocked 20 mm up between the third and the fourth
// footing, with a good close on every point after the third, and read so on every
// point at the end.
func bumped(t *testing.T) *crew {
	c := newCrew(t, yardPlan(t, levelLaser, ""), "a")
	a := c.phones[0]
	s := c.add(a, setup("A1"))
	for n := 1; n <= 3; n++ {
		c.wait(15).add(a, shot(s, n, 0))
	}
	for _, point := range []string{"BM1", "BM2", "BM3"} {
		c.add(a, closeOn(s, point, 0))
	}
	for n := 4; n <= 6; n++ {
		c.wait(15).add(a, shot(s, n, 0))
	}
	for _, point := range []string{"BM1", "BM1", "BM2", "BM3"} {
		c.add(a, closeOn(s, point, 0.02))
	}
	return c
}

// TestAMovedBeamJudgesAgain: shot On under a beam 20 mm too high is 20 mm high as
// far as the bump came before it; what was closed before stays as it was. The log's
// verdict is not touched.
func TestAMovedBeamJudgesAgain(t *testing.T) {
	c := bumped(t)
	digs, f := Prove(c.p, c.state())
	if f != nil {
		t.Fatal(f)
	}
	plain := record.ProveLog(c.p, c.state())
	b := c.beam()
	for i, d := range digs {
		pt, was := d.Proofs[0], plain[i].Proofs[0]
		late := d.Excavation == "F4" || d.Excavation == "F5" || d.Excavation == "F6"
		if pt.Rejudged != late {
			t.Errorf("%s is judged again: %v, want %v", d.Excavation, pt.Rejudged, late)
		}
		if d.Verdict != plain[i].Verdict {
			t.Errorf("%s: the log's verdict turned from %s to %s", d.Excavation, plain[i].Verdict, d.Verdict)
		}
		if !late {
			if pt.Measured != was.Measured || pt.Chance != was.Chance {
				t.Errorf("%s, closed before the bump, is judged anew: %+v, was %+v", d.Excavation, pt.Measured, was.Measured)
			}
			continue
		}
		var r watch.Risk
		for _, x := range b.Digs {
			if x.Excavation == d.Excavation {
				r = x.Risk
			}
		}
		// The mixture by hand: means and variances of its two halves.
		w, m0, m1 := float64(r.Moved), float64(was.Value), float64(was.Value+r.By)
		v0, v1 := sq(float64(was.Sigma)), sq(float64(was.Sigma))+sq(float64(r.Sigma))
		mean := (1-w)*m0 + w*m1
		sd := math.Sqrt((1-w)*(v0+sq(m0-mean)) + w*(v1+sq(m1-mean)))
		if !(math.Abs(float64(pt.Value)-mean) <= 1e-12) || !(math.Abs(float64(pt.Sigma)-sd) <= 1e-12) {
			t.Errorf("%s: %.6f ± %.6f, want %.6f ± %.6f (tol 1e-12 m)", d.Excavation, pt.Value, pt.Sigma, mean, sd)
		}
		if !(pt.Chance < was.Chance) || !(float64(r.By) > 0.015 && float64(r.By) < 0.025) {
			t.Errorf("%s: chance %.3f, was %.3f; departed by %.4f, want about 0.020", d.Excavation, pt.Chance, was.Chance, r.By)
		}
	}
	last := digs[len(digs)-1]
	if last.Excavation != "F6" || !(last.Proofs[0].Chance < 0.3) || last.Proofs[0].Standing() == trust.ProvenIn {
		t.Errorf("%s, dug last under the moved beam: chance %.3f, %s", last.Excavation, last.Proofs[0].Chance, last.Proofs[0].Standing())
	}
}

func sq(x float64) float64 { return x * x }

// TestThreeRules: one value inside by less than the guard band, one outside by less,
// one well inside and one well outside: simple acceptance, guarded acceptance and
// guarded rejection as JCGM 106:2012, 8.2, 8.3.2 and 8.3.3 have them.
func TestThreeRules(t *testing.T) {
	mm := unit.Millimetre
	band := beam.Band{Above: 12 * mm, Below: 12 * mm}
	for _, c := range []struct {
		off    unit.Length
		simple bool
		want   trust.Standing
	}{{0, true, trust.ProvenIn}, {9 * mm, true, trust.Open}, {-15 * mm, false, trust.Open}, {-17 * mm, false, trust.ProvenOut}} {
		pt := record.PointProof{Known: true, Band: band, Measured: trust.Measured{Value: c.off, Sigma: 2 * mm}}
		if pt.In() != c.simple || pt.Standing() != c.want {
			t.Errorf("%v ± 4 mm: simple %v, %s; want %v, %s", c.off, pt.In(), pt.Standing(), c.simple, c.want)
		}
	}
	if (record.PointProof{Measured: trust.Measured{Sigma: mm}}).Standing() != trust.Open {
		t.Error("a point without a tolerance is proven")
	}
	if (record.PointProof{Known: true, Band: band, Measured: trust.Measured{Sigma: unit.Length(math.NaN())}}).Standing() != trust.Open {
		t.Error("a point without an uncertainty is proven")
	}
}

// TestSummaries: expected out is the sum of the single chances; a point without an
// uncertainty counts as out.
func TestSummaries(t *testing.T) {
	c := bumped(t)
	digs, _ := Prove(c.p, c.state())
	each, whole := record.SummariseLog(c.p, digs)
	sum := 0.0
	for i, d := range digs {
		sum += 1 - float64(d.Proofs[0].Chance)
		if e := each[i].Expected; !(math.Abs(e-1+float64(d.Proofs[0].Chance)) <= 1e-12) {
			t.Errorf("%s: expected out %.6f, want %.6f", d.Excavation, e, 1-float64(d.Proofs[0].Chance))
		}
	}
	if whole.Shots != 6 || !(math.Abs(whole.Expected-sum) <= 1e-12) || !(whole.AllIn < 0.2) {
		t.Errorf("the job: %d shots, expected out %.4f, want %.4f; all in %.3f", whole.Shots, whole.Expected, sum, whole.AllIn)
	}
	digs[0].Proofs[0].Sigma, digs[0].Proofs[0].Chance = unit.Length(math.NaN()), unit.Chance(math.NaN())
	_, worse := record.SummariseLog(c.p, digs)
	if worse.AllIn != 0 || !(worse.Expected > whole.Expected+0.5) {
		t.Errorf("with a point that nobody can judge: all in %.3f, expected out %.3f", worse.AllIn, worse.Expected)
	}
}
