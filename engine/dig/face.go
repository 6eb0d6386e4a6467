package dig

import "spadework/engine/geom"

// face is a side of a piece that rises from its foot, or a wall: a line across
// the dig that the piece does not pass.
type face struct {
	label     int // side of the dig's outline, −1 for a wall
	from, to  geom.Point
	along     geom.Vector // unit, from from to to
	out       geom.Vector // unit, outward
	beyond    linear      // outward distance from the line of the side
	foot      linear      // elevation of the bottom at the nearest point of that line
	low       float64     // lowest elevation of the foot on the side itself
	rise      rise
	straightA bool // the rounding of the corner at from is no concern of the piece
	straightB bool // likewise at to
}

// wall says that the face does not rise.
func (f *face) wall() bool { return f.label < 0 }

// newFace is the side from–to of a part with a bottom.
func newFace(from, to geom.Point, label int, bottom linear) face {
	along := to.Sub(from).Unit()
	out := along.Right()
	slope := along.Scale(geom.Vector{X: bottom.x, Y: bottom.y}.Dot(along))
	zA, zB := bottom.at(from), bottom.at(to)
	return face{
		label: label, from: from, to: to, along: along, out: out, beyond: beyond(from, out),
		foot: through(from, zA, slope), low: min(zA, zB),
	}
}

// plane is the surface of shelf k of the face.
func (f *face) plane(k int) linear {
	s := f.rise.shelves[k]
	d := f.beyond
	h := s.height - float64(s.from*s.grade)
	return linear{
		f.foot.c + h + float64(d.c*s.grade),
		f.foot.x + float64(d.x*s.grade),
		f.foot.y + float64(d.y*s.grade),
	}
}

// width is how far out the face can be dug under ground that is nowhere higher
// than top.
func (f *face) width(top float64) float64 {
	if f.wall() || !(top > f.low) {
		return 0
	}
	return f.rise.width(top - f.low)
}

// distance is how far along its line p lies from the face's start.
func (f *face) distance(p geom.Point) float64 { return p.Sub(f.from).Dot(f.along) }

// length is the length of the side.
func (f *face) length() float64 { return f.to.Sub(f.from).Dot(f.along) }
