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

// SlopeOf is how a side of a part's outline rises; false for one across the dig,
// which does not.
func (d Dig) SlopeOf(part, side int) (Slope, bool) {
	p := &d.Parts[part]
	label := side
	if p.outer != nil {
		label = p.outer[side]
	}
	if label < 0 {
		return Slope{}, false
	}
	return d.slope(label), true
}
