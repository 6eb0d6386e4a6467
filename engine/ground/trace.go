package ground

import "spadework/engine/geom"

// stop is a place where a traced line changes what it runs on: an end of the
// line, the crossing of an edge, or a vertex.
type stop struct {
	share float64 // of the way from a to b, rounded
	at    geom.Point
	z     float64 // height, where known
	known bool    // the survey speaks here
	open  bool    // it does not between here and the next stop
	rim   bool    // it crosses the rim of the net
	kind  stopKind
	// What exact decisions need: the edge crossed, u on the right and v on the
	// left of the line; the vertex u; or at an end the face that holds it.
	u, v int32
	face int32
}

type stopKind int

const (
	atEnd stopKind = iota
	atEdge
	atVertex
	offNet // an end outside all faces
)

// tracer follows the line a–b over a net and reports its stops in order. Every
// decision is by exact signs; only shares, places and heights are rounded.
type tracer struct {
	net
	a, b    geom.Point
	visit   func(stop) bool
	pending stop // told once what follows it is known
	has     bool
	stopped bool
}

// trace visits the stops of a–b until visit returns false. The first stop is a
// with share 0, the last b with share 1, also where these are outside. A line
// of no length has one stop.
func trace(n net, a, b geom.Point, visit func(stop) bool) {
	t := tracer{net: n, a: a, b: b, visit: visit}
	t.run()
	if t.has && !t.stopped {
		visit(t.pending)
	}
}

func (t *tracer) run() {
	if !isPlace(t.a) || !isPlace(t.b) {
		t.emit(stop{at: t.a, kind: offNet})
		t.off()
		return
	}
	f, ok := t.faceAt(t.a)
	if !ok {
		t.emit(stop{at: t.a, kind: offNet})
		if t.a != t.b {
			t.enter()
		}
		return
	}
	t.emit(t.endStop(t.a, 0, f))
	if t.a == t.b {
		return
	}
	for i := range int32(3) {
		if e := f<<2 | i; t.place(t.start(e)) == t.a {
			t.fromVertex(e)
			return
		}
	}
	t.fromInside(f)
}

// isPlace says that p is finite.
func isPlace(p geom.Point) bool { return p.X-p.X == 0 && p.Y-p.Y == 0 }

// emit tells the pending stop and keeps s until what follows it is known.
func (t *tracer) emit(s stop) {
	if t.has && !t.stopped && !t.visit(t.pending) {
		t.stopped = true
	}
	t.pending, t.has = s, true
}

// over says on what the line runs from the pending stop to the next.
func (t *tracer) over(known bool) { t.pending.open = !known }

// endStop is an end p of the line in face f.
func (t *tracer) endStop(p geom.Point, share float64, f int32) stop {
	s := stop{share: share, at: p, kind: atEnd, face: f}
	if g, ok := knownFace(t.net, p); ok {
		s.known, s.face, s.z = true, g, heightIn(t.net, g, p)
	}
	return s
}

// off ends the line outside the net.
func (t *tracer) off() {
	t.over(false)
	t.emit(stop{share: 1, at: t.b, kind: offNet})
}

// finishIn ends the line at b in face f, on which or along an edge of which it
// runs.
func (t *tracer) finishIn(f int32) {
	known := t.known(f)
	for i := range int32(3) {
		e := f<<2 | i
		if !known && t.line(e) == 0 && t.line(after(e)) == 0 {
			o, ok := t.across(e)
			known = ok && t.known(o>>2)
		}
	}
	t.over(known)
	t.emit(t.endStop(t.b, 1, f))
}

// holdsEnd says that b lies in face f or on its edge.
func (t *tracer) holdsEnd(f int32) bool {
	for i := range int32(3) {
		if sideOf(t.net, f<<2|i, t.b) < 0 {
			return false
		}
	}
	return true
}

// line is on which side of a–b the start of e lies.
func (t *tracer) line(e edge) int { return geom.Orient(t.a, t.b, t.place(t.start(e))) }

// fromInside goes on from a in face f, not at a corner.
func (t *tracer) fromInside(f int32) {
	if t.holdsEnd(f) {
		t.finishIn(f)
		return
	}
	for i := range int32(3) {
		e := f<<2 | i
		o, next := t.line(e), t.line(after(e))
		if o == 0 && ahead(t.a, t.b, t.place(t.start(e))) {
			t.alongOrIn(e, f)
			return
		}
		if o < 0 && next > 0 {
			t.leave(e)
			return
		}
	}
}

// alongOrIn goes on to the vertex at e from a in its face f or on an edge of it.
func (t *tracer) alongOrIn(e edge, f int32) {
	known := t.known(f)
	for i := range int32(3) {
		if x := f<<2 | i; sideOf(t.net, x, t.a) == 0 && t.line(x) == 0 {
			o, ok := t.across(x)
			known = known || ok && t.known(o>>2)
		}
	}
	t.over(known)
	t.arrive(e)
}

// leave goes on from a in the face of e, not at a corner, over e.
func (t *tracer) leave(e edge) {
	if sideOf(t.net, e, t.a) == 0 { // a lies on e: nothing of the line is in the face
		if next, ok := t.beyond(e); ok {
			t.crossEdge(next)
		}
		return
	}
	t.over(t.known(e >> 2))
	t.crossEdge(e)
}

// crossEdge is the crossing of edge e from its face outward, e running from the
// right of the line to its left, and all that follows.
func (t *tracer) crossEdge(e edge) {
	for more := true; more && !t.stopped; {
		t.emit(t.edgeStop(e))
		e, more = t.beyond(e)
	}
}

// beyond goes over e into the face across it: the edge crossed next, or false
// where all that follows is told.
func (t *tracer) beyond(e edge) (next edge, ok bool) {
	o, ok := t.across(e)
	if !ok {
		t.off()
		return 0, false
	}
	f := o >> 2
	if t.holdsEnd(f) {
		t.finishIn(f)
		return 0, false
	}
	t.over(t.known(f))
	switch t.line(before(o)) {
	case 0:
		t.arrive(before(o))
		return 0, false
	case 1: // the apex is left: out between it and the right end
		return after(o), true
	}
	return before(o), true
}

// edgeStop is the crossing of edge e.
func (t *tracer) edgeStop(e edge) stop {
	s := stop{kind: atEdge, u: t.start(e), v: t.start(after(e)), face: e >> 2}
	m := meetingOf(t.a, t.b, t.place(s.u), t.place(s.v))
	s.share, s.at = m.share, m.at
	if m.share < t.pending.share { // rounding must not lead backwards
		s.share, s.at = t.pending.share, t.a.Toward(t.b, t.pending.share)
	}
	s.z = t.elevation(s.u) + float64(m.other*(t.elevation(s.v)-t.elevation(s.u)))
	o, ok := t.across(e)
	s.rim = !ok
	s.known = t.known(e>>2) || ok && t.known(o>>2)
	return s
}

// arrive is the stop at the start of e, a vertex on the line, and all that
// follows.
func (t *tracer) arrive(e edge) {
	if t.stopped {
		return
	}
	v := t.start(e)
	p := t.place(v)
	s := stop{kind: atVertex, u: v, v: v, at: p, z: t.elevation(v), face: e >> 2}
	s.share = max(t.pending.share, alongLeg(p, t.a, t.b))
	if p == t.b {
		s.share = 1
	}
	s.face, s.known = knownAround(t.net, e)
	t.emit(s)
	if p != t.b {
		t.fromVertex(e)
	}
}

// fromVertex goes on from the vertex at the start of e, which lies on the line.
func (t *tracer) fromVertex(e edge) {
	from := t.place(t.start(e))
	found := false
	around(t.net, e, func(e edge) bool {
		x, y := t.place(t.start(after(e))), t.place(t.start(before(e)))
		ox, oy := geom.Orient(from, x, t.b), geom.Orient(from, y, t.b)
		switch {
		case ox == 0 && ahead(from, t.b, x):
			o, ok := t.across(e)
			t.along(after(e), t.known(e>>2) || ok && t.known(o>>2))
		case oy == 0 && ahead(from, t.b, y):
			o, ok := t.across(before(e))
			t.along(before(e), t.known(e>>2) || ok && t.known(o>>2))
		case ox > 0 && oy < 0:
			if t.holdsEnd(e >> 2) {
				t.finishIn(e >> 2)
			} else {
				t.over(t.known(e >> 2))
				t.crossEdge(after(e))
			}
		default:
			return true
		}
		found = true
		return false
	})
	if !found {
		t.off()
	}
}

// along runs on an edge to the vertex at the start of e, or to b before it.
func (t *tracer) along(e edge, known bool) {
	t.over(known)
	p := t.place(t.start(e))
	if p != t.b && ahead(p, t.a, t.b) {
		t.emit(t.endStop(t.b, 1, e>>2))
		return
	}
	t.arrive(e)
}

// enter comes in from outside.
func (t *tracer) enter() {
	for e := range t.rim {
		if sideOf(t.net, e, t.a) >= 0 {
			continue
		}
		ou, ov := t.line(e), t.line(after(e))
		switch {
		case ou > 0 && ov < 0 && sideOf(t.net, e, t.b) >= 0:
			t.over(false)
			t.comeIn(e)
			return
		case ou == 0 && t.reaches(e):
			t.over(false)
			t.arrive(e)
			return
		case ov == 0 && t.reaches(after(e)):
			t.over(false)
			t.arrive(after(e))
			return
		}
	}
	t.off()
}

// reaches says that the line gets as far as the vertex at e, which lies on it.
func (t *tracer) reaches(e edge) bool {
	return geom.BoxOf(t.a, t.b).Holds(t.place(t.start(e)))
}

// comeIn crosses the rim edge e into its face.
func (t *tracer) comeIn(e edge) {
	s := t.edgeStop(e)
	s.u, s.v = s.v, s.u // seen from outside the right end is the left one
	t.emit(s)
	f := e >> 2
	if t.holdsEnd(f) {
		t.finishIn(f)
		return
	}
	t.over(t.known(f))
	switch t.line(before(e)) {
	case 0:
		t.arrive(before(e))
	case 1:
		t.crossEdge(after(e))
	default:
		t.crossEdge(before(e))
	}
}
