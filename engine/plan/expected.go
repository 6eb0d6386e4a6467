package plan

import (
	"slices"

	"spadework/engine/unit"
)

// Expected is what the rod on a benchmark should read from a planned set-up.
type Expected struct {
	Benchmark string
	Rod       unit.Reading
}

// Expected lists the benchmarks in reach of a planned set-up whose rod the beam
// meets, by id.
func (p *Plan) Expected(s Setup) []Expected {
	var out []Expected
	for _, b := range p.Job.Benchmarks {
		if s.sited && !slices.Contains(s.marks, b.ID) {
			continue
		}
		if !b.Placed || b.At.Distance(s.Plane.At) > float64(s.Laser.Range) {
			continue
		}
		rod := s.Plane.GradeRod(b.At, b.Elevation)
		if s.Rod.Reaches(rod).IsZero() {
			out = append(out, Expected{Benchmark: b.ID, Rod: rod})
		}
	}
	return out
}
