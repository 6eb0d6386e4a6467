package ground

import "spadework/engine/geom"

// The ground is solid up to its surface: a sight line is blocked where it is at
// the surface or under it. Between stops both are straight, so it is enough to
// decide at the stops, each by an exact sign.

// sightLine follows one sight line.
type sightLine struct {
	net
	from, to geom.Point3
	out      Sight
	last     stop // the stop before, clear
	started  bool
}

func firstHit(n net, from, to geom.Point3) Sight {
	l := sightLine{net: n, from: from, to: to}
	if !isSight(from, to) {
		return Sight{Unknown: true}
	}
	if from.Plan() == to.Plan() {
		l.plumb()
		return l.out
	}
	trace(n, from.Plan(), to.Plan(), l.pass)
	return l.out
}

// isSight says that both ends are finite.
func isSight(from, to geom.Point3) bool {
	return isPlace(from.Plan()) && isPlace(to.Plan()) && from.Z-from.Z == 0 && to.Z-to.Z == 0
}

// plumb is the sight straight up or down.
func (l *sightLine) plumb() {
	f, ok := knownFace(l.net, l.from.Plan())
	if !ok {
		l.out.Unknown = true
		return
	}
	if l.under(f, l.from) {
		l.block(0, l.from)
		return
	}
	if l.under(f, l.to) {
		z := heightIn(l.net, f, l.to.Plan())
		share := min(1, max(0, (z-l.from.Z)/(l.to.Z-l.from.Z)))
		l.block(share, l.from.Plan().Raised(z))
	}
}

func (l *sightLine) block(share float64, at geom.Point3) {
	l.out.Blocked, l.out.Share, l.out.At = true, share, at
}

// pass judges one stop; false ends the trace.
func (l *sightLine) pass(s stop) bool {
	if s.known && l.blockedAt(s) {
		l.hit(s)
		return false
	}
	if s.open || !s.known {
		l.out.Unknown = true
	}
	l.last, l.started = s, true
	return true
}

// hit finds where, between the last stop and s, the ground is met.
func (l *sightLine) hit(s stop) {
	at := l.from.Toward(l.to, s.share)
	share := s.share
	if l.started && l.last.known && !l.last.open {
		clear := l.from.Toward(l.to, l.last.share).Z - l.last.z
		under := at.Z - s.z
		if clear > 0 && under < 0 {
			share = l.last.share + float64((s.share-l.last.share)*(clear/(clear-under)))
			at = l.from.Toward(l.to, share)
		}
	}
	l.block(share, at)
}

// blockedAt says exactly whether the sight line is at the ground or under it at
// a known stop.
func (l *sightLine) blockedAt(s stop) bool {
	switch s.kind {
	case atEdge:
		u, v := l.place(s.u).Raised(l.elevation(s.u)), l.place(s.v).Raised(l.elevation(s.v))
		// u lies right, v left: the tetrahedron is positive where the line
		// passes over the edge.
		return geom.Orient3(l.to, l.from, u, v) <= 0
	case atVertex:
		return l.underVertex(s.u)
	}
	end := l.from
	if s.share > 0 {
		end = l.to
	}
	return l.under(s.face, end)
}

// under says that p is at the plane of face f or below it.
func (l *sightLine) under(f int32, p geom.Point3) bool {
	return geom.Orient3(corner(l.net, f<<2), corner(l.net, f<<2|1), corner(l.net, f<<2|2), p) >= 0
}

// underVertex says that the line is at the vertex, which lies on it in plan, or
// below: by the turn in the upright plane through the line.
func (l *sightLine) underVertex(v int32) bool {
	p := l.place(v)
	a, b, c := l.from.X, l.to.X, p.X
	if a == b {
		a, b, c = l.from.Y, l.to.Y, p.Y
	}
	turn := geom.Orient(geom.Point{X: a, Y: l.from.Z}, geom.Point{X: b, Y: l.to.Z}, geom.Point{X: c, Y: l.elevation(v)})
	if a < b {
		return turn >= 0
	}
	return turn <= 0
}
