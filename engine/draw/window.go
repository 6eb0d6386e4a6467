package draw

import (
	"spadework/engine/geom"
	"spadework/engine/plan"
)

// Window is the part of a site that a drawing shows: where its upper left corner
// lies, in metres of the job's local frame, and how many millimetres of paper a
// metre is, > 0.
type Window struct {
	Corner geom.Point
	Scale  float64
}

// On is where a place of the site stands in the window, millimetres right and
// down.
func (w Window) On(p geom.Point) geom.Point {
	return geom.Point{X: (p.X - w.Corner.X) * w.Scale, Y: (w.Corner.Y - p.Y) * w.Scale}
}

// Site is the place of the site that stands at a place of the window.
func (w Window) Site(p geom.Point) geom.Point {
	return geom.Point{X: w.Corner.X + p.X/w.Scale, Y: w.Corner.Y - p.Y/w.Scale}
}

// leastSite is what a window of the whole site shows at least, metres.
const leastSite = 20

// WholeSite is the window of a frame that shows everything, and a box beside it
// that may be empty.
func WholeSite(p *plan.Plan, f Frame, also geom.Box) Window {
	s := &sitePlan{Scene: &Scene{Width: f.Width, Height: f.Height}, p: p, size: f.Type, frame: f, also: also}
	b := s.bounds()
	room := s.margin()
	scale := min((f.Width-2*room)/max(b.Width(), leastSite), (f.Height-2*room)/max(b.Height(), leastSite))
	c := b.Centre()
	return Window{Corner: geom.Point{X: c.X - f.Width/2/scale, Y: c.Y + f.Height/2/scale}, Scale: scale}
}

// WindowedPlan is MarkedPlan of what a window shows, at its own scale: for a map
// that is moved about.
func WindowedPlan(p *plan.Plan, v Voice, f Frame, m Marks, w Window) Scene {
	s := &sitePlan{Scene: &Scene{Width: f.Width, Height: f.Height}, p: p, v: v, size: f.Type, frame: f, more: m, also: geom.EmptyBox()}
	s.labels.scene = s.Scene
	s.origin, s.scale = w.Corner, w.Scale
	s.everything()
	return *s.Scene
}
