package record

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
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
	at             geom.Point  // where Known and Chance are told
	Rejudged       bool        // its beam proved to have moved: value, uncertainty and chance are by the corrected beam
}

// Standing is what the shot proves with its expanded uncertainty as guard band;
// Open where it has no tolerance or no uncertainty.
func (p PointProof) Standing() trust.Standing {
	if !p.Known {
		return trust.Open
	}
	return p.Stands(p.Band)
}

// In says that the value keeps the tolerance: simple acceptance (JCGM 106, 8.2).
func (p PointProof) In() bool { return p.Known && p.Accepts(p.Band, trust.SimpleAcceptance, 0) }

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
	out.at = at
	out.Measured = s.Belief().Shot(at, s.Plane.GradeRod(at, pt.Height), pt.Deviation, shotWay(s))
	if out.Known {
		out.Chance = out.Conforms(out.Band)
	}
	return out
}

// SummariseLog gathers the proofs of a log by dig and over the whole job. Points
// under one beam hang together by it; set-ups count as independent. A point whose
// uncertainty is not known is taken at its worst: out.
func SummariseLog(p *plan.Plan, digs []DigProof) (each []Summary, whole Summary) {
	var all []PointProof
	for _, d := range digs {
		one := summariseLog(p, d.Proofs)
		one.Excavation = d.Excavation
		each = append(each, one)
		all = append(all, d.Proofs...)
	}
	return each, summariseLog(p, all)
}

func summariseLog(p *plan.Plan, points []PointProof) Summary {
	out := Summary{AllIn: 1}
	var tags []string
	bottoms := map[string][]trust.Bottom{}
	for _, pt := range points {
		off, s, ok := out.countPoint(pt), plan.Setup{}, false
		if !off {
			s, ok = p.Setup(pt.Tag)
		}
		if off || !ok {
			continue
		}
		if bottoms[pt.Tag] == nil {
			tags = append(tags, pt.Tag)
		}
		bottoms[pt.Tag] = append(bottoms[pt.Tag], s.Belief().Shoot(pt.at, pt.Measured, pt.Band))
	}
	for _, tag := range tags {
		s, _ := p.Setup(tag)
		out.AllIn *= s.Belief().AllIn(bottoms[tag], 0)
	}
	return out
}

// countPoint counts a point and says that it has no part in what hangs together.
func (s *Summary) countPoint(pt PointProof) (off bool) {
	s.Shots++
	if max(pt.Value, -pt.Value) > max(s.WorstOff, -s.WorstOff) {
		s.WorstOff = pt.Value
	}
	switch {
	case !pt.Known:
		s.WithoutVerdict++
		return true
	case math.IsNaN(float64(pt.Chance)):
		s.Open++
		s.Expected++
		s.AllIn = 0
		return true
	}
	s.Expected += 1 - float64(pt.Chance)
	switch pt.Standing() {
	case trust.ProvenIn:
		s.In++
	case trust.ProvenOut:
		s.Out++
	default:
		s.Open++
	}
	return false
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
