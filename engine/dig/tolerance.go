package dig

import "spadework/engine/unit"

// Tolerance is what the bottom must keep. All figures are ≥ 0.
type Tolerance struct {
	Above     unit.Length // most that the bottom may lie over its design
	Below     unit.Length // most that it may lie under it
	Fall      unit.Grade  // most that a fall may depart from its design, 0 not asked
	LevelOver unit.Grade  // most that two points may differ per distance between them, 0 not asked
	NoReverse bool        // no piece may fall the other way
	Equal     unit.Length // most that two outlets may differ, 0 not asked
}

// Levelness is the most that the ends of a run of a length may differ under
// LevelOver; 0 where it is not asked.
func (t Tolerance) Levelness(run unit.Length) unit.Length { return t.LevelOver.Over(run) }
