package dig

import "spadework/engine/unit"

// Bench is a level shelf in a cut side.
type Bench struct {
	Height unit.Length // over the foot of the side, > 0
	Width  unit.Length // > 0
}

// Slope is how one side rises from the foot.
type Slope struct {
	Batter  float64 // horizontal per vertical, ≥ 0; 0 vertical
	Benches []Bench // by rising height
}

// Sides are the cut sides of an excavation. Each, where given, has one slope a
// side of the outline (a run: right side, far end, left side, near end) and
// goes before All.
type Sides struct {
	All  Slope
	Each []Slope
}
