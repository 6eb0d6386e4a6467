package trust

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/real"
	"spadework/engine/unit"
)

// Between is the chance that a normal value lies from low to high, kept exact in
// the tails. NaN for NaN; a sigma of 0 is the value itself.
func Between(low, high, mean, sigma float64) float64 {
	if sigma == 0 {
		if low <= mean && mean <= high {
			return 1
		}
		return 0
	}
	a, b := (low-mean)/sigma, (high-mean)/sigma
	if a > 0 { // both in the upper tail: its own digits
		a, b = -b, -a
	}
	return math.Max(real.NormalCDF(b)-real.NormalCDF(a), 0)
}

// Within is the chance that the finished bottom keeps its tolerance when dug to
// aim over the design. NaN where the outlook is not known.
func (o Outlook) Within(t beam.Band, aim unit.Length) unit.Chance {
	return unit.Chance(Between(-float64(t.Below), float64(t.Above), float64(o.Mean+aim), float64(o.Final)))
}

// Over is the chance that the first pass goes under the lowest bottom allowed.
// NaN where the outlook is not known.
func (o Outlook) Over(t beam.Band, aim unit.Length) unit.Chance {
	return unit.Chance(Between(math.Inf(-1), -float64(t.Below), float64(o.Mean+aim), float64(o.First)))
}
