package machine

import (
	"math"

	"spadework/engine/geom"
)

// The set of places that the teeth can take at one height is found from its
// ends. An end is an extreme of x under "the teeth are at height y": there every
// joint is at a limit, or is free and lies in one line with the others that are
// free and the teeth (Lagrange: the joint turns the teeth along the height). All
// such poses have a closed form; what lies between two neighbouring ends is
// reached all over or nowhere.

// arm is a linkage in bare SI, with the angles that the bucket may have from
// horizontal.
type arm struct {
	l1, l2, l3 float64
	limits     Linkage
	cut        Range
	front      float64 // no pin of the arm goes beyond it; 0 anywhere
}

// rad is a pose in radians.
type rad struct{ a, b, g float64 }

// add appends a pose if the joints and the bucket's angle can take it.
func (m arm) add(out []geom.Vector, p rad) []geom.Vector {
	g := m.limits.BucketAngles.nearest(wrap(p.g))
	a, b := wrap(p.a), wrap(p.b)
	if !m.limits.BoomAngles.holds(a) || !m.limits.StickAngles.holds(b) || !m.limits.BucketAngles.holds(g) {
		return out
	}
	th := a + b + g
	if !m.cut.holds(wrap(th)) && !m.cut.holds(th) {
		return out
	}
	pin := polar(m.l1, a)
	wrist := pin.Plus(polar(m.l2, a+b))
	if m.front > 0 && !(max(pin.X, wrist.X) <= m.front+angleSlack) {
		return out
	}
	return append(out, wrist.Plus(polar(m.l3, th)))
}

// ends of a range in radians.
func (r Range) ends() [2]float64 { return [2]float64{float64(r.Low), float64(r.High)} }

// risen is the two angles at which an arm of a length rises by dy; NaN if it is
// too short.
func risen(length, dy float64) [2]float64 {
	s := math.Asin(dy / length)
	return [2]float64{s, math.Pi - s}
}

// swingBoom adds the poses that reach height y by turning the boom.
func (m arm) swingBoom(out []geom.Vector, y, b, g float64) []geom.Vector {
	v := geom.Vector{X: m.l1}.Plus(polar(m.l2, b)).Plus(polar(m.l3, b+g))
	for _, s := range risen(v.Length(), y) {
		out = m.add(out, rad{s - direction(v), b, g})
	}
	return out
}

// swingStick adds the poses that reach height y by turning the stick.
func (m arm) swingStick(out []geom.Vector, y, a, g float64) []geom.Vector {
	u := geom.Vector{X: m.l2}.Plus(polar(m.l3, g))
	for _, s := range risen(u.Length(), y-m.l1*math.Sin(a)) {
		out = m.add(out, rad{a, s - direction(u) - a, g})
	}
	return out
}

// ends gathers the places of all poses at height y that can end the reach.
func (m arm) ends(y float64) []geom.Vector {
	var out []geom.Vector
	boom, stick, bucket := m.limits.BoomAngles.ends(), m.limits.StickAngles.ends(), m.limits.BucketAngles.ends()
	for _, g := range bucket {
		u := geom.Vector{X: m.l2}.Plus(polar(m.l3, g))
		for _, b := range stick {
			out = m.swingBoom(out, y, b, g)
		}
		for _, a := range boom {
			out = m.swingStick(out, y, a, g)
		}
		out = m.swingBoom(out, y, -direction(u), g)
		out = m.swingBoom(out, y, math.Pi-direction(u), g)
	}
	for _, g := range []float64{0, math.Pi} { // stick and bucket in one line
		for _, a := range boom {
			out = m.swingStick(out, y, a, g)
		}
	}
	for _, b := range stick {
		w := geom.Vector{X: m.l1}.Plus(polar(m.l2, b))
		out = m.swingBoom(out, y, b, direction(w)-b) // bucket in line with the boom foot
		out = m.swingBoom(out, y, b, direction(w)-b+math.Pi)
		for _, a := range boom {
			for _, th := range risen(m.l3, y-m.l1*math.Sin(a)-m.l2*math.Sin(a+b)) {
				out = m.add(out, rad{a, b, th - a - b})
			}
		}
	}
	for _, th := range m.cut.ends() {
		out = m.endsAtAngle(out, y, th)
	}
	return out
}

// endsAtAngle adds the ends with the bucket at one angle from horizontal.
func (m arm) endsAtAngle(out []geom.Vector, y, th float64) []geom.Vector {
	up := y - m.l3*math.Sin(th) // of the bucket pin
	for _, a := range m.limits.BoomAngles.ends() {
		for _, s := range risen(m.l2, up-m.l1*math.Sin(a)) {
			out = m.add(out, rad{a, s - a, th - s})
		}
	}
	for _, b := range m.limits.StickAngles.ends() {
		w := geom.Vector{X: m.l1}.Plus(polar(m.l2, b))
		for _, s := range risen(w.Length(), up) {
			a := s - direction(w)
			out = m.add(out, rad{a, b, th - a - b})
		}
	}
	for _, g := range m.limits.BucketAngles.ends() {
		for _, a := range risen(m.l1, up-m.l2*math.Sin(th-g)) {
			out = m.add(out, rad{a, th - g - a, g})
		}
	}
	return out
}

// reaches says that the teeth can be put at a place, relative to the boom foot
// pin, with the bucket at an allowed angle. With the place fixed one motion is
// left; it ends at a limit, and so some pose at a limit is allowed if any is.
// That holds because the stick never comes straight (StickAngles).
func (m arm) reaches(p geom.Vector) bool {
	for _, th := range m.cut.ends() {
		if m.takesAngle(p, th) {
			return true
		}
	}
	var out []geom.Vector
	booms := m.limits.BoomAngles.ends()
	stops := booms[:]
	if m.front > 0 {
		stops = append(stops, math.Acos(m.front/m.l1), -math.Acos(m.front/m.l1))
	}
	for _, a := range stops {
		for _, e := range elbows(m.l2, m.l3, p.Plus(polar(-m.l1, a))) {
			out = m.add(out, rad{a, e[0] - a, e[1] - e[0]})
		}
	}
	for _, b := range m.limits.StickAngles.ends() {
		w := geom.Vector{X: m.l1}.Plus(polar(m.l2, b))
		for _, e := range elbows(w.Length(), m.l3, p) {
			a := e[0] - direction(w)
			out = m.add(out, rad{a, b, e[1] - a - b})
		}
	}
	for _, g := range m.limits.BucketAngles.ends() {
		u := geom.Vector{X: m.l2}.Plus(polar(m.l3, g))
		for _, e := range elbows(m.l1, u.Length(), p) {
			out = m.add(out, rad{e[0], e[1] - direction(u) - e[0], g})
		}
	}
	return len(out) > 0
}

// takesAngle says that the teeth can be at p with the bucket at an angle.
func (m arm) takesAngle(p geom.Vector, th float64) bool {
	for _, e := range elbows(m.l1, m.l2, p.Plus(polar(-m.l3, th))) {
		if len(m.add(nil, rad{e[0], e[1] - e[0], th - e[1]})) > 0 {
			return true
		}
	}
	return false
}

// elbows is the two ways in which two links from the origin end at p, as the
// links' angles from horizontal; NaN angles where they cannot.
func elbows(first, second float64, p geom.Vector) [2][2]float64 {
	c := (p.Dot(p) - first*first - second*second) / (2 * first * second)
	if c > 1 && c < 1+angleSlack {
		c = 1
	}
	var out [2][2]float64
	for i, b := range []float64{math.Acos(c), -math.Acos(c)} {
		a := direction(p) - math.Atan2(second*math.Sin(b), first+second*math.Cos(b))
		out[i] = [2]float64{a, a + b}
	}
	return out
}
