package guard

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/trust"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// Prove judges the newest shots of a log by JCGM 106, and those under a beam that
// proved to have moved by the beam as it is estimated to have stood when they were
// dug, with the doubt of that. What the log says of a dig stays: an estimated jump
// judges again and corrects no number.
//
// A log that cannot be watched (two benchmarks of one id) is judged as it stands,
// and the fault says so.
func Prove(p *plan.Plan, st *record.State) ([]record.DigProof, *phrase.Fault) {
	digs := record.ProveLog(p, st)
	beams, f := Beams(p, st, "")
	if f != nil {
		return digs, f
	}
	moved := map[record.ID]watch.Risk{} // by shot
	for _, b := range beams {
		if b.State != watch.BeamMoved {
			continue
		}
		for _, d := range b.Digs {
			if by := max(d.By, -d.By); d.Closed && d.Moved >= leastHappened && by >= leastBy {
				moved[d.Point.Shot] = d.Risk
			}
		}
	}
	for i := range digs {
		for k := range digs[i].Proofs {
			if r, ok := moved[digs[i].Proofs[k].Shot]; ok {
				rejudge(&digs[i].Proofs[k], r)
			}
		}
	}
	return digs, nil
}

// rejudge mixes the shot as it was measured and as it is if the beam had moved
// before it, by the chance of that: a beam that stood By higher left the bottom By
// higher than measured.
func rejudge(pt *record.PointProof, r watch.Risk) {
	stood, w := pt.Measured, float64(r.Moved)
	sigma := float64(stood.Sigma)
	moved := trust.Measured{Value: stood.Value + r.By, Sigma: unit.Length(math.Sqrt(float64(sigma*sigma) + float64(r.Sigma*r.Sigma)))}
	shift := float64(w * float64(r.By))
	v := float64(sigma*sigma) + float64(w*(float64(r.Sigma*r.Sigma)+float64(r.By*r.By))) - float64(shift*shift)
	pt.Rejudged = true
	pt.Measured = trust.Measured{Value: stood.Value + unit.Length(shift), Sigma: unit.Length(math.Sqrt(math.Max(v, 0)))}
	if pt.Known {
		pt.Chance = unit.Chance(float64((1-w)*float64(stood.Conforms(pt.Band))) + float64(w*float64(moved.Conforms(pt.Band))))
	}
}
