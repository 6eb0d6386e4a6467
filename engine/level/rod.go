package level

import (
	"math"

	"spadework/engine/unit"
)

// LeanError is how much too large a rod reads that leans by tilt from the plumb
// line, with the beam at length along it: L(1 − cos t), as 2L sin²(t/2) so that
// small tilts keep their digits. Not negative for L ≥ 0; NaN for NaN.
func LeanError(length unit.Reading, tilt unit.Angle) unit.Length {
	s := math.Sin(float64(tilt) / 2)
	return unit.Length(2 * float64(length) * float64(s*s))
}
