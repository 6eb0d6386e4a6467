package record

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/plan"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// PointProof is the newest shot at a point of a dig with what it was judged by.
type PointProof struct {
	PointState
	Wanted         unit.Elevation
	Known          bool // a tolerance was told
	Band           beam.Band
	trust.Measured             // deviation with its standard uncertainty, NaN not known
	Chance         unit.Chance // of conformity, NaN not known
}

// DigProof is a dig and the proofs of its points.
type DigProof struct {
	DigState
	Proofs []PointProof
}

// ProveLog judges the newest shots of a log by JCGM 106 under the beams of a plan.
// A shot under a beam that the plan does not have as the log has it, or whose
// place is not told, has no uncertainty.
func ProveLog(p *plan.Plan, st *State) []DigProof {
	shots, setups := map[ID]*CheckShot{}, map[ID]*SetupMade{}
	for _, l := range st.Log {
		switch r := l.Payload.(type) {
		case *CheckShot:
			shots[l.ID] = r
		case *SetupMade:
			setups[l.ID] = r
		}
	}
	out := make([]DigProof, len(st.Digs))
	for i, d := range st.Digs {
		out[i].DigState = d
		for _, pt := range d.Points {
			out[i].Proofs = append(out[i].Proofs, provePoint(p, pt, shots[pt.Shot], setups[pt.Setup]))
		}
	}
	return out
}

func provePoint(p *plan.Plan, pt PointState, shot *CheckShot, setup *SetupMade) PointProof {
	out := PointProof{PointState: pt, Wanted: pt.Height.Plus(-pt.Deviation),
		Measured: trust.Measured{Value: pt.Deviation, Sigma: unit.Length(math.NaN())}, Chance: unit.Chance(math.NaN())}
	if shot == nil {
		return out
	}
	if shot.Above != nil && shot.Below != nil {
		out.Known, out.Band = true, beam.Band{Above: *shot.Above, Below: *shot.Below}
	}
	s, ok := planned(p, setup)
	if !ok || shot.At == nil {
		return out
	}
	at := p.Job.Origin.Local(*shot.At)
	out.Measured = s.Belief().Shot(at, s.Plane.GradeRod(at, pt.Height), pt.Deviation, shotWay(s))
	if out.Known {
		out.Chance = out.Conforms(out.Band)
	}
	return out
}

// sameHI is how far the height of a set-up in the log may be from the plan's: the
// log keeps what the plan worked out, to the last digit but for rounding.
const sameHI = unit.Millimetre / 10

// planned is the live set-up of the plan that a log's set-up is.
func planned(p *plan.Plan, made *SetupMade) (plan.Setup, bool) {
	if made == nil || made.HI == nil {
		return plan.Setup{}, false
	}
	s, ok := p.Setup(made.Tag)
	if !ok || s.State != beam.Live {
		return plan.Setup{}, false
	}
	off := made.HI.Above(s.Plane.HI)
	return s, off <= sameHI && -off <= sameHI
}
