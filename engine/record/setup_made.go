package record

import (
	"math"

	"spadework/engine/unit"
)

// SetupMade is a laser set up: a tag begins. The beam stands at HI over the
// instrument and rises by Gradient.
type SetupMade struct {
	Tag      string
	Laser    string
	Rod      string             // "" none
	Receiver string             // "" none
	Machine  string             // it serves, "" any
	At       *[2]unit.Length    // job coordinates, nil not taken
	HI       *unit.Elevation    // nil not worked out
	Gradient [2]unit.Grade      // rise to the east and to the north
	Sights   []BacksightReading // today's
}

// BacksightReading is a rod read on a benchmark, with the elevation it had in
// the revision of the record.
type BacksightReading struct {
	Benchmark string
	Elevation unit.Elevation
	Rod       unit.Reading
}

// Kind is KindSetup.
func (*SetupMade) Kind() Kind { return KindSetup }

// Names is nothing: a set-up rests on the ground.
func (*SetupMade) Names() []ID { return nil }

func (s *SetupMade) walk(f *fields) {
	f.name("tag", &s.Tag)
	f.name("laser", &s.Laser)
	f.maybe("rod", &s.Rod)
	f.maybe("receiver", &s.Receiver)
	f.maybe("machine", &s.Machine)
	f.place("at", &s.At)
	known(f, "hi", &s.HI)
	f.inner("gradient", func(in *fields) {
		figure(in, "east", &s.Gradient[0], -1, 1)
		figure(in, "north", &s.Gradient[1], -1, 1)
	})
	rows(f, "sights", &s.Sights, func(in *fields, b *BacksightReading) {
		in.name("benchmark", &b.Benchmark)
		size(in, "elevation", &b.Elevation)
		size(in, "rod", &b.Rod)
	})
	if s.HI == nil && len(s.Sights) == 0 {
		f.fail("hi", "record.no_height")
	}
}

// ProofReading is a reading held against the one expected.
type ProofReading struct {
	Reading, Expected unit.Reading
	Limit             unit.Length // of the difference, > 0
}

// Off is Reading − Expected: + where the beam stands higher over the point.
func (p ProofReading) Off() unit.Length { return unit.Length(p.Reading - p.Expected) }

// Good says that the difference keeps the limit.
func (p ProofReading) Good() bool {
	return math.Abs(float64(p.Off())) <= float64(p.Limit)+proofRounding
}

// proofRounding is what float64 leaves of a difference of two readings under
// 100 m: 2⁻⁴⁶ m is 1.4e-14.
const proofRounding = 1e-13

func (p *ProofReading) walk(f *fields) {
	size(f, "reading", &p.Reading)
	size(f, "expected", &p.Expected)
	figure(f, "limit", &p.Limit, 1e-6, 1)
}
