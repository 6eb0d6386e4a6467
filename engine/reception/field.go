package reception

import (
	"spadework/engine/unit"
)

// Field is a site made ready. It does not change and may be asked from many
// goroutines, each with a Scratch of its own.
type Field struct {
	site Site
}

// Scratch is memory that questions reuse; the zero Scratch is ready. What From
// and Digs return lies in it and holds until it is used again.
type Scratch struct {
	windows []Window
}

// New makes a site ready. A range that is not above 0, a negative clearance, no
// ground, and an outline that is not simple are a *phrase.Fault.
func New(site Site) (*Field, error) { return &Field{site}, nil }

// From is the window of each target from one laser.
func (f *Field) From(l Laser, targets []Target, s *Scratch) []Window { panic("not yet") }

// Digs is the window of each dig: the heights that serve all its targets.
func (f *Field) Digs(l Laser, digs []Dig, s *Scratch) []Window { panic("not yet") }

// Serves says exactly whether the beam at height h serves the target.
func (f *Field) Serves(l Laser, h unit.Elevation, t Target) bool { panic("not yet") }

// Why is the reason why the beam at height h does not serve the target, the zero
// Reason if it does.
func (f *Field) Why(l Laser, h unit.Elevation, t Target) Reason { panic("not yet") }
