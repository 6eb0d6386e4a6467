package record

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// Proof is what a judged shot proves, by JCGM 106:2012.
type Proof struct {
	AsBuilt
	trust.Measured             // deviation with its standard uncertainty, NaN not known
	Chance         unit.Chance // that the bottom conforms, NaN not known
	Standing       trust.Standing
}

// Prove gives every shot its uncertainty under the beam it was read by, its chance
// of conformity and its standing. Shots of digs without a tolerance stand open.
func Prove(p *plan.Plan, results []AsBuilt) []Proof {
	out := make([]Proof, len(results))
	for i, r := range results {
		out[i] = prove(p, r)
	}
	return out
}

func prove(p *plan.Plan, r AsBuilt) Proof {
	s, _ := p.Setup(r.Setup)
	// A reading stands over the height measured; a call is read near grade.
	rod := s.Plane.GradeRod(r.Point.At, r.Height)
	out := Proof{AsBuilt: r, Measured: s.Belief().Shot(r.Point.At, rod, r.Deviation, shotWay(s)), Standing: trust.Open,
		Chance: unit.Chance(math.NaN())}
	if r.Known {
		band := bandOf(p, r.Excavation)
		out.Chance, out.Standing = out.Conforms(band), out.Stands(band)
	}
	return out
}

// shotWay is how a shot is read: by a rod, whatever the dig was guided by.
func shotWay(s plan.Setup) trust.Way {
	w := s.Way()
	w.Guidance = beam.ByRod
	return w
}

// bandOf is the tolerance of a dig that has one.
func bandOf(p *plan.Plan, id string) beam.Band {
	d, _ := p.Dig(id)
	if t := d.Excavation.Tolerance; t != nil {
		return beam.Band{Above: t.Above, Below: t.Below}
	}
	return beam.Band{}
}

// Summary is what the shots of a dig, or of the job, prove together.
type Summary struct {
	Excavation            string // "" for the job
	In, Out, Open         int    // proven in, proven out, neither
	WorstOff              unit.Length
	AllIn                 unit.Chance // that every shot's bottom conforms, NaN not known
	Expected              float64     // how many of the bottoms shot are out, NaN not known
	Shots, WithoutVerdict int
}

// Summarise gathers proofs by dig, in the order of their first shots, and over
// the whole job. Shots under one beam hang together by it; set-ups count as
// independent.
func Summarise(p *plan.Plan, proofs []Proof) (digs []Summary, whole Summary) {
	var ids []string
	by := map[string][]Proof{}
	for _, r := range proofs {
		if by[r.Excavation] == nil {
			ids = append(ids, r.Excavation)
		}
		by[r.Excavation] = append(by[r.Excavation], r)
	}
	for _, id := range ids {
		one := summarise(p, by[id])
		one.Excavation = id
		digs = append(digs, one)
	}
	return digs, summarise(p, proofs)
}

// summarise is the sum of some proofs.
func summarise(p *plan.Plan, proofs []Proof) Summary {
	out := Summary{AllIn: 1, Shots: len(proofs)}
	var setups []string
	bottoms := map[string][]trust.Bottom{}
	for _, r := range proofs {
		out.count(r)
		if !r.Known {
			continue
		}
		if bottoms[r.Setup] == nil {
			setups = append(setups, r.Setup)
		}
		s, _ := p.Setup(r.Setup)
		bottoms[r.Setup] = append(bottoms[r.Setup], s.Belief().Shoot(r.Point.At, r.Measured, bandOf(p, r.Excavation)))
	}
	for _, id := range setups {
		s, _ := p.Setup(id)
		out.AllIn *= s.Belief().AllIn(bottoms[id], 0)
	}
	return out
}

func (s *Summary) count(r Proof) {
	if max(r.Value, -r.Value) > max(s.WorstOff, -s.WorstOff) {
		s.WorstOff = r.Value
	}
	if !r.Known {
		s.WithoutVerdict++
		return
	}
	s.Expected += 1 - float64(r.Chance)
	switch r.Standing {
	case trust.ProvenIn:
		s.In++
	case trust.ProvenOut:
		s.Out++
	default:
		s.Open++
	}
}

// Text is the summary in words.
func (s Summary) Text() phrase.Message {
	args := []phrase.Arg{
		phrase.With("id", s.Excavation), phrase.With("count", s.Shots), phrase.With("in", s.In), phrase.With("out", s.Out),
		phrase.With("open", s.Open), phrase.With("unknown", s.WithoutVerdict), phrase.With("all", s.AllIn),
		phrase.With("expected", math.Round(s.Expected*100)/100),
	}
	if s.Excavation == "" {
		return phrase.New("record.summary_job", args...)
	}
	return phrase.New("record.summary_dig", args...)
}
