package level

import "spadework/engine/unit"

// Method is how a misclosure is spread over a run.
type Method uint8

// The methods: an equal share a set-up, or in proportion to distance.
const (
	BySetup Method = iota
	ByDistance
)

// Adjust spreads the misclosure so that the run ends on its known point. The
// points seen from one set-up all take that set-up's correction. A *phrase.Fault
// tells of an open run, or of a missing sight length where distance counts.
func (r *Reduction) Adjust(m Method) (*Reduction, error) { panic("not yet") }

// Corrections are the corrections in proportion to distance of points along a
// run of the given length: −misclosure × along/length.
func Corrections(misclosure, length unit.Length, along []unit.Length) []unit.Length {
	panic("not yet")
}
