package trust

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/beam"
	"spadework/engine/estimate"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Contribution is one cause in the uncertainty of a finished bottom.
type Contribution struct {
	Cause Cause
	Of    string      // benchmark, "" for none
	Sigma unit.Length // standard deviation it makes there, ≥ 0
	Share float64     // of the variance, 0 to 1; all shares are 1 together
}

// Number is where and how a number is used.
type Number struct {
	Setup string
	At    geom.Point
	Rod   unit.Reading // over the bottom
	Way   Way
}

// Budget is the outlook of a number taken apart: the finished bottom by cause,
// largest first. It is empty where the outlook is not known.
func (s *Site) Budget(n Number) (Outlook, []Contribution) {
	all := s.in.Belief()
	b := s.belief(all, n.Setup)
	o := b.At(n.At, n.Rod, n.Way)
	if !o.Known {
		return o, nil
	}
	t := tally{}
	i := slices.IndexFunc(s.setups, func(u Setup) bool { return u.ID == n.Setup })
	f := s.unknowns[i].terms(stateAt(b.setup.At, n.At))
	for _, e := range s.evidence {
		e.tell(all, f, &t)
	}
	b.tell(n, &t)
	return o, t.rows()
}

// nothing is the share under which a contribution is the rounding of a value
// that does not depend on its cause.
const nothing = 1e-12

// tally gathers variances by cause.
type tally struct{ out []Contribution }

func (t *tally) add(c Cause, of string, variance float64) {
	if !(variance > 0) {
		return
	}
	for i, r := range t.out {
		if r.Cause == c && r.Of == of {
			t.out[i].Share += variance
			return
		}
	}
	t.out = append(t.out, Contribution{Cause: c, Of: of, Share: variance})
}

// rows turns variances into sigmas and shares.
func (t *tally) rows() []Contribution {
	sum := 0.0
	for _, r := range t.out {
		sum += r.Share
	}
	t.out = slices.DeleteFunc(t.out, func(r Contribution) bool { return r.Share < nothing*sum })
	for i, r := range t.out {
		t.out[i].Sigma = unit.Length(math.Sqrt(r.Share))
		t.out[i].Share = r.Share / sum
	}
	slices.SortStableFunc(t.out, func(a, b Contribution) int {
		return cmp.Or(cmp.Compare(b.Sigma, a.Sigma), cmp.Compare(a.Cause, b.Cause), cmp.Compare(a.Of, b.Of))
	})
	return t.out
}

// tell adds what the noise of an evidence does to a function f of the unknowns.
// The estimate errs by Σ cov(f, aₖ)·wₖ·εₖ over all evidence aₖ with its noise εₖ,
// priors among it, so that the variances add up to that of f.
func (e evidence) tell(all *estimate.Belief, f []estimate.Term, t *tally) {
	var c, v [2]float64
	for i, a := range e.functions {
		c[i], _ = all.Covariance(f, a)
	}
	for i := range v {
		v[i] = float64(e.precision[i][0]*c[0]) + float64(e.precision[i][1]*c[1])
	}
	for _, k := range e.causes {
		t.add(k.name, k.of, k.cov.form(v))
	}
}

// tell adds what comes to the beam until the bottom is finished.
func (b *Belief) tell(n Number, t *tally) {
	w := n.Way
	sq := func(v unit.Length) float64 { return float64(v * v) }
	distance := b.setup.At.Distance(n.At)
	drift, shake := shakeAt(b.setup.WarmUp, distance), shakeAt(b.setup.Wind, distance)
	t.add(WarmUp, "", drift*drift)
	t.add(Wind, "", shake*shake)
	t.add(DeadBand, "", sq(w.DeadBand)/12)
	t.add(Reading, "", sq(w.Reading))
	t.add(Rounding, "", w.rounding())
	lean := w.lean(float64(n.Rod))
	t.add(Plumb, "", lean*lean)
	t.add(StickOffset, "", w.aside(b.setup.Dial.Gradient))
	if w.Guidance == beam.SensorsBeam {
		t.add(Depth, "", sq(w.Depth))
		t.add(Cutting, "", sq(w.Cutting))
		return
	}
	t.add(Trimming, "", sq(w.Trimming))
}
