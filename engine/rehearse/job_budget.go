package rehearse

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// digsOfTie is how many digs a stand reaches where a machine ties (common practice).
const digsOfTie = 4

// BudgetForJob is days without bumps drawn from a job's own budget: its site and
// digs, the first laser, the benchmarks with their errors, rod, receiver and
// machine, what its crew leaves, and its tolerances. What a job leaves out is the
// reference scenario's.
func BudgetForJob(p *plan.Plan) Scenario {
	s, day := Reference(), ForJob(p)
	s.Size, s.Digs, s.PerTie = day.Size, day.Digs, digsOfTie
	s.Benchmarks = min(day.Points, 3)
	s.Known = 0
	for _, b := range p.Job.Benchmarks {
		s.Known = math.Max(s.Known, float64(b.Sigma))
	}
	if len(p.Job.Lasers) > 0 {
		l := p.Job.Lasers[0]
		s.Accuracy = [2]float64{float64(l.Accuracy), float64(l.Accuracy)}
		s.DialStep = float64(l.Step)
	}
	s.Steepest = 0
	for _, set := range p.Setups {
		s.Steepest = math.Max(s.Steepest, set.Plane.Gradient.Length())
	}
	s.tolerances(p)
	s.crew(p)
	return s
}

// tolerances are half the narrowest and half the widest of the job's.
func (s *Scenario) tolerances(p *plan.Plan) {
	least, most := math.Inf(1), 0.0
	for _, d := range p.Digs {
		if t := d.Excavation.Tolerance; t != nil && t.Above+t.Below > 0 {
			half := float64(t.Above+t.Below) / 2
			least, most = math.Min(least, half), math.Max(most, half)
		}
	}
	if most > 0 {
		s.Tolerance = [2]float64{least, most}
	}
}

// crew is how the job comes down to its numbers and what it leaves.
func (s *Scenario) crew(p *plan.Plan) {
	const root3 = 1.7320508075688772
	pr := p.Job.Practice
	s.Rod, s.Aiming, s.Refraction = float64(pr.RodPlumb), float64(pr.Aiming), pr.Refraction
	s.Trimming, s.Cutting = float64(pr.Trimming)/root3, float64(pr.Cutting)/root3
	s.DeadBand, s.Eye = 0, float64(beam.DefaultReadingSigma)
	if len(p.Job.Receivers) > 0 {
		s.DeadBand, s.Eye = float64(p.Job.Receivers[0].DeadBand), 0
	}
	s.Face = float64(unit.Millimetre)
	if len(p.Job.Rods) > 0 && p.Job.Rods[0].Step > 0 {
		s.Face = float64(p.Job.Rods[0].Step)
	}
	s.Guided = ByRod
	for _, m := range p.Job.Machines {
		if m.Guidance == beam.SensorsBeam && m.DepthAccuracy > 0 {
			s.Guided, s.Depth = BySensors, float64(m.DepthAccuracy)/root3
			break
		}
	}
}
