package dig

import "spadework/engine/unit"

// Truck is what one truck takes.
type Truck struct {
	Volume  unit.Volume // loose, 0 not known
	Payload float64     // kilograms, 0 not known
}

// Loads is how many trucks a haul takes. The larger of both counts, which holds;
// 0 stands for not known.
type Loads struct{ ByVolume, ByWeight int }

// Most is the larger of the two.
func (l Loads) Most() int { return max(l.ByVolume, l.ByWeight) }

// Loads of a loose volume and its mass in kilograms, each rounded up.
func (t Truck) Loads(loose unit.Volume, mass float64) Loads {
	var out Loads
	if t.Volume > 0 {
		out.ByVolume = roundedUp(float64(loose / t.Volume))
	}
	if t.Payload > 0 {
		out.ByWeight = roundedUp(mass / t.Payload)
	}
	return out
}

// roundedUp is the whole number at or over v; a billionth over counts as none,
// which is rounding.
func roundedUp(v float64) int {
	const most = 1e9 // nobody orders more
	if !(v > 0) {
		return 0
	}
	if v > most {
		return most
	}
	n := int(v)
	if v-float64(n) > 1e-9*v {
		n++
	}
	return n
}
