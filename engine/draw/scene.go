package draw

import "spadework/engine/geom"

// Pen is what a line or word means. A writer gives it colour, width and dash.
type Pen string

// The pens.
const (
	Ink     Pen = "ink"     // outlines and words
	Fine    Pen = "fine"    // thin lines: contours, ticks
	Leader  Pen = "leader"  // from a thing to its name
	Grid    Pen = "grid"    // crosses of the coordinate grid
	Earth   Pen = "earth"   // hatching of ground that stays
	Ground  Pen = "ground"  // the surface as surveyed
	Dug     Pen = "dug"     // the sides of a dig
	Bottom  Pen = "bottom"  // the heavy line of what is dug to
	Band    Pen = "band"    // its tolerance
	Neat    Pen = "neat"    // concrete or pipe zone inside the dug outline
	Beam    Pen = "beam"    // the laser and its dimensions
	Ray     Pen = "ray"     // the beam itself, dash-dot
	Planned Pen = "planned" // hollow: not to be dug to yet
	Service Pen = "service" // lettered lines of buried services
	Caution Pen = "caution" // ground to keep off
	Zone    Pen = "zone"    // along a service: only hands dig
	Reach   Pen = "reach"   // how far a laser is received
	Module  Pen = "module"  // of a code that a camera reads
)

// Pens is every pen.
func Pens() []Pen {
	return []Pen{Ink, Fine, Leader, Grid, Earth, Ground, Dug, Bottom, Band, Neat, Beam, Ray, Planned, Service, Caution, Zone, Reach, Module}
}

// Anchor is which part of a text stands at its place.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Fill is how an outline is filled.
type Fill uint8

// The fills.
const (
	Hollow Fill = iota // not at all
	Tint               // a breath of the pen's colour
	Solid              // the pen's colour
)

// Item is a line, an outline or a text.
type Item struct {
	Pen    Pen
	Points []geom.Point // of a line; one of a text
	Closed bool
	Fill   Fill
	Text   string // "" for a line
	Size   float64
	Anchor Anchor
	Upward bool // the text runs from below upwards
	Set    Setting
}

// Scene is a drawing.
type Scene struct {
	Width, Height float64 // millimetres
	Items         []Item
	Unplaced      int // figures and names that found no free place
}

// Frame is the paper a drawing has and the size of its type, in millimetres.
// OnSheet says that it is part of a sheet of paper whose size is known, so that
// its scale holds as printed.
type Frame struct {
	Width, Height, Type float64
	OnSheet             bool
}

func (s *Scene) line(pen Pen, points ...geom.Point) {
	s.Items = append(s.Items, Item{Pen: pen, Points: points})
}

func (s *Scene) ring(pen Pen, fill Fill, points ...geom.Point) {
	s.Items = append(s.Items, Item{Pen: pen, Points: points, Closed: true, Fill: fill})
}

// arrow is a line with a head at its end.
func (s *Scene) arrow(pen Pen, from geom.Point, v geom.Vector) {
	to := from.Add(v)
	back := v.Unit().Scale(-2.2)
	side := back.Right().Scale(0.4)
	s.line(pen, from, to)
	s.ring(pen, Solid, to, to.Add(back).Add(side), to.Add(back).Add(side.Scale(-1)))
}

// tripod is a set-up seen from the front, its beam at a point; hollow while it
// is only planned.
func (s *Scene) tripod(pen Pen, c geom.Point, k float64) {
	for _, foot := range []geom.Vector{{X: -0.8, Y: 1.4}, {Y: 1.6}, {X: 0.8, Y: 1.4}} {
		s.line(pen, c.Add(geom.Vector{Y: 0.25 * k}), c.Add(foot.Scale(k)))
	}
	fill := Solid
	if pen == Planned {
		fill = Hollow
	}
	h := 0.4 * k
	s.ring(pen, fill, c.Add(geom.Vector{X: -h, Y: -h}), c.Add(geom.Vector{X: h, Y: -h}), c.Add(geom.Vector{X: h, Y: h}), c.Add(geom.Vector{X: -h, Y: h}))
}
