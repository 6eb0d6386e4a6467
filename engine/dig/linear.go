package dig

import "spadework/engine/geom"

// linear is c + x·X + y·Y over the plan: a plane's height, a depth, or which
// side of a line a point lies on.
type linear struct{ c, x, y float64 }

// at is the value over p.
func (l linear) at(p geom.Point) float64 {
	return l.c + (float64(l.x*p.X) + float64(l.y*p.Y))
}

// minus is l − o.
func (l linear) minus(o linear) linear { return linear{l.c - o.c, l.x - o.x, l.y - o.y} }

// raised is l with h more everywhere.
func (l linear) raised(h float64) linear { return linear{l.c + h, l.x, l.y} }

// negative is −l.
func (l linear) negative() linear { return linear{-l.c, -l.x, -l.y} }

// beyond is how far a point lies beyond the line through at with unit normal n.
func beyond(at geom.Point, n geom.Vector) linear {
	return linear{-(float64(n.X*at.X) + float64(n.Y*at.Y)), n.X, n.Y}
}

// through is the plane of gradient g that has height z over at.
func through(at geom.Point, z float64, g geom.Vector) linear {
	return linear{z - (float64(g.X*at.X) + float64(g.Y*at.Y)), g.X, g.Y}
}

// leftOf is positive left of the line from a to b.
func leftOf(a, b geom.Point) linear {
	d := b.Sub(a)
	return linear{float64(d.Y*a.X) - float64(d.X*a.Y), -d.Y, d.X}
}

// planeOver is the plane of three points; false if they lie in a line in plan.
func planeOver(a, b, c geom.Point3) (linear, bool) {
	u, v := b.Plan().Sub(a.Plan()), c.Plan().Sub(a.Plan())
	det := u.Cross(v)
	if !(det > 0 || det < 0) {
		return linear{}, false
	}
	du, dv := b.Z-a.Z, c.Z-a.Z
	g := geom.Vector{
		X: (float64(du*v.Y) - float64(dv*u.Y)) / det,
		Y: (float64(dv*u.X) - float64(du*v.X)) / det,
	}
	return through(a.Plan(), a.Z, g), true
}
