package reception

import "spadework/engine/unit"

// Window is the beam heights at a laser that serve: every float64 from Low to
// High, both included, and no other. Where none does, Low > High and Why tells
// the reason.
type Window struct {
	Low, High unit.Elevation
	Why       Reason // the zero Reason where the window is open
}

// Open says that some beam height serves.
func (w Window) Open() bool { return w.Low <= w.High }

// Holds says that beam height h serves.
func (w Window) Holds(h unit.Elevation) bool { return w.Low <= h && h <= w.High }
