package level

import "spadework/engine/unit"

// LeanError is how much too large a rod reads that leans by tilt from the plumb
// line with the beam at length along it: L(1 − cos t). Never negative.
func LeanError(length unit.Reading, tilt unit.Angle) unit.Length { panic("not yet") }
