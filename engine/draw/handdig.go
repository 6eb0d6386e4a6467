package draw

import "spadework/engine/plan"

// handHatch is how far apart the lines over hand-dug ground lie, in millimetres:
// closer than those of ground to keep off, so that a small piece shows some.
const handHatch = 1.2

// handDig hatches the pieces of a dig that only hands or vacuum dig.
func (s *sitePlan) handDig(d plan.Dig) {
	for _, c := range s.p.HandDig(d.Excavation.ID) {
		ring := s.all(c.Outline)
		s.hatch(Service, ring, handHatch)
		s.clipped(Service, append(ring, ring[0]))
	}
}
