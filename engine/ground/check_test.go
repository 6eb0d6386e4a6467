package ground

import (
	"fmt"
	"iter"
	"math"
	"math/big"
	"slices"

	"spadework/engine/geom"
)

// survey is what a surface is built from.
type survey struct {
	shots   []Shot
	lines   []Breakline
	options Options
}

func (s survey) build() (*TIN, Report, error) { return Build(s.shots, s.lines, s.options) }

// rows is all points in the order of Build's numbering.
func (s survey) rows() []Shot {
	out := slices.Clone(s.shots)
	for _, l := range s.lines {
		out = append(out, l...)
	}
	return out
}

// smallMesh is up to how many vertices every pair of them is looked at.
const smallMesh = 400

// validate tests what defines the triangulation of the input: a mesh whose
// faces fit together, all counter-clockwise, none with another's point in its
// circle unless a fixed edge hides it (that each free edge is locally Delaunay
// is enough: Lee and Lin 1986; small meshes are looked through pair by pair as
// well), filling the hull exactly; every point used or counted; every leg of
// every breakline a chain of fixed edges and no other edge fixed; the ground
// ending at the boundary and the holes.
func (s survey) validate(t *TIN, r Report) error {
	for _, check := range []func() error{
		t.validateFit,
		t.validateCircles,
		t.validateVisible,
		func() error { return t.validateArea(s) },
		func() error { return t.validateUse(r, s) },
		func() error { return t.validateNearby(r, s) },
		func() error { return validateCrossings(r, s) },
		func() error { return t.validateLines(r, s) },
		func() error { return t.validateLimits(s.options) },
	} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

func validate(t *TIN, r Report, shots []Shot, lines []Breakline) error {
	return survey{shots: shots, lines: lines}.validate(t, r)
}

func (t *TIN) validateFit() error {
	for f := range int32(len(t.faces)) {
		for i := range int32(3) {
			e := f<<2 | i
			o := t.twin(e)
			if t.twin(o) != e || t.from(o) != t.to(e) || t.to(o) != t.from(e) {
				return fmt.Errorf("edge %d and its twin %d do not fit", e, o)
			}
			if t.isFixed(e) != t.isFixed(o) {
				return fmt.Errorf("edge %d is fixed on one side", e)
			}
		}
		v := t.faces[f].v
		if !t.isGhost(f) && geom.Orient(t.pts[v[0]], t.pts[v[1]], t.pts[v[2]]) <= 0 {
			return fmt.Errorf("face %d of %v is not counter-clockwise", f, v)
		}
	}
	return nil
}

func (t *TIN) validateCircles() error {
	for f := range int32(len(t.faces)) {
		for i := range int32(3) {
			e := f<<2 | i
			o := t.twin(e)
			if t.isFixed(e) || t.isGhost(f) || t.isGhost(o>>2) {
				continue
			}
			if geom.InCircle(t.pts[t.from(e)], t.pts[t.to(e)], t.pts[t.apex(e)], t.pts[t.apex(o)]) > 0 {
				return fmt.Errorf("vertex %d lies in the circle of face %d", t.apex(o), f)
			}
		}
	}
	return nil
}

// validateVisible finds, in a small mesh, a vertex in the circle of a face that
// can be seen from within the face past the fixed edges.
func (t *TIN) validateVisible() error {
	if len(t.pts) > smallMesh {
		return nil
	}
	var walls [][2]geom.Point
	for e := range t.edges() {
		if t.isFixed(e) {
			walls = append(walls, [2]geom.Point{t.pts[t.from(e)], t.pts[t.to(e)]})
		}
	}
	used := t.corners(func(int32) bool { return true })
	for f := range int32(len(t.faces)) {
		if t.isGhost(f) {
			continue
		}
		v := t.faces[f].v
		a, b, c := t.pts[v[0]], t.pts[v[1]], t.pts[v[2]]
		for w, p := range t.pts {
			if used[w] && geom.InCircle(a, b, c, p) > 0 && seen(p, a, b, c, walls) {
				return fmt.Errorf("vertex %d lies in the circle of face %d and is seen from it", w, f)
			}
		}
	}
	return nil
}

// seen says that p is seen from one of some places strictly inside a, b, c. To
// touch a wall elsewhere than at p hides it: then it is seen from beside.
func seen(p, a, b, c geom.Point, walls [][2]geom.Point) bool {
	for _, w := range [][3]float64{{1, 1, 1}, {18, 1, 1}, {1, 18, 1}, {1, 1, 18}, {1, 9, 9}, {9, 1, 9}, {9, 9, 1}} {
		sum := w[0] + w[1] + w[2]
		q := a.Add(b.Sub(a).Scale(w[1] / sum)).Add(c.Sub(a).Scale(w[2] / sum))
		if geom.Orient(a, b, q) <= 0 || geom.Orient(b, c, q) <= 0 || geom.Orient(c, a, q) <= 0 {
			continue // a sliver: the place was rounded out of it
		}
		hidden := slices.ContainsFunc(walls, func(w [2]geom.Point) bool {
			return w[0] != p && w[1] != p && geom.Meet(q, p, w[0], w[1]) != geom.Apart
		})
		if !hidden {
			return true
		}
	}
	return false
}

// edges is every edge between two points once, as seen from one of its faces.
func (t *TIN) edges() iter.Seq[edge] {
	return func(yield func(edge) bool) {
		for e := range edge(4 * len(t.faces)) {
			if e&3 == 3 || t.from(e) == far || t.to(e) == far || t.twin(e) < e {
				continue
			}
			if !yield(e) {
				return
			}
		}
	}
}

// corners marks the vertices of the proper faces that are wanted.
func (t *TIN) corners(want func(f int32) bool) []bool {
	out := make([]bool, len(t.pts))
	for f := range int32(len(t.faces)) {
		if !t.isGhost(f) && want(f) {
			for _, v := range t.faces[f].v[:3] {
				out[v] = true
			}
		}
	}
	return out
}

// validateArea compares the faces' exact area with that of a convex hull found
// another way, of the input and of what limits added: where these leave the survey
// a point may be rounded out of it.
func (t *TIN) validateArea(s survey) error {
	sum := new(big.Rat)
	for f := range int32(len(t.faces)) {
		if !t.isGhost(f) {
			v := t.faces[f].v
			sum.Add(sum, area2(geom.Ring{t.pts[v[0]], t.pts[v[1]], t.pts[v[2]]}))
		}
	}
	var points []geom.Point
	for _, shot := range s.rows() {
		points = append(points, shot.At)
	}
	given := hull(points)
	if len(s.options.Holes)+len(s.options.Boundary) > 0 {
		for v, p := range t.pts {
			if t.rows[v] != far {
				continue
			}
			points = append(points, p)
			if off := outOf(given, p); !(off <= t.rounding()) {
				return fmt.Errorf("vertex %v was added %v m outside the survey", p, off)
			}
		}
	}
	if want := area2(hull(points)); sum.Cmp(want) != 0 {
		got, _ := sum.Float64()
		w, _ := want.Float64()
		return fmt.Errorf("faces cover twice %v m², hull twice %v m²", got, w)
	}
	return nil
}

// outOf is how far p lies outside a convex ring, 0 inside.
func outOf(r geom.Ring, p geom.Point) float64 {
	off, out := math.Inf(1), false
	for i := range r {
		a, b := r.Side(i)
		out = out || geom.Orient(a, b, p) < 0
		off = min(off, offSegment(p, a, b))
	}
	if !out {
		return 0
	}
	return off
}

// area2 is twice the exact area.
func area2(r geom.Ring) *big.Rat {
	sum := new(big.Rat)
	rat := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	for i := range r {
		a, b := r.Side(i)
		sum.Add(sum, new(big.Rat).Mul(rat(a.X), rat(b.Y)))
		sum.Sub(sum, new(big.Rat).Mul(rat(a.Y), rat(b.X)))
	}
	return sum
}

// hull is the convex hull by the monotone chain (Andrew 1979).
func hull(points []geom.Point) geom.Ring {
	p := slices.Clone(points)
	slices.SortFunc(p, func(a, b geom.Point) int {
		switch {
		case a.X < b.X || a.X == b.X && a.Y < b.Y:
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	p = slices.Compact(p)
	var out geom.Ring
	for range 2 {
		base := len(out)
		for _, q := range p {
			for len(out) >= base+2 && geom.Orient(out[len(out)-2], out[len(out)-1], q) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, q)
		}
		out = out[:len(out)-1]
		slices.Reverse(p)
	}
	return out
}

// validateUse counts the input again: the first row of each place holds and is
// a corner of the mesh, later ones are merged or in conflict; places at no face
// with ground are outside.
func (t *TIN) validateUse(r Report, s survey) error {
	type vertex struct {
		z    float64
		used bool
	}
	at := map[geom.Point]vertex{}
	ground := t.corners(func(f int32) bool { return t.faces[f].v[3]&noGround == 0 })
	points := 0
	for v, inMesh := range t.corners(func(int32) bool { return true }) {
		if inMesh {
			at[t.pts[v]] = vertex{t.z[v], ground[v]}
		}
		if ground[v] {
			points++
		}
	}
	first := map[geom.Point]float64{}
	merged, conflicts, outside := 0, 0, 0
	for _, shot := range s.rows() {
		z, again := first[shot.At]
		v, inMesh := at[shot.At]
		switch {
		case again && z == shot.Z:
			merged++
		case again:
			conflicts++
		case !inMesh || v.z != shot.Z:
			return fmt.Errorf("point %v is in the mesh %v at %v", shot, inMesh, v.z)
		default:
			first[shot.At] = shot.Z
			if !v.used {
				outside++
			}
		}
	}
	triangles := 0
	for f := range int32(len(t.faces)) {
		if !t.isGhost(f) && t.known(f) {
			triangles++
		}
	}
	got := [5]int{r.Points, r.Triangles, r.Merged, r.Conflicts, r.Outside}
	if want := [5]int{points, triangles, merged, conflicts, outside}; got != want {
		return fmt.Errorf("points, triangles, merged, conflicts, outside are told as %v, want %v", got, want)
	}
	return nil
}

// validateNearby compares the count of close neighbours with all pairs of
// places: not more than the close pairs, and at least one for every two places
// that have another within Near.
func (t *TIN) validateNearby(r Report, s survey) error {
	near := s.options.Near
	if near == 0 {
		near = 1e-3
	}
	seen := map[geom.Point]bool{}
	var places []geom.Point
	for _, shot := range s.rows() {
		if !seen[shot.At] {
			seen[shot.At] = true
			places = append(places, shot.At)
		}
	}
	if len(places) > smallMesh {
		return nil
	}
	pairs, close := 0, map[int]bool{}
	for i, p := range places {
		for j, q := range places[:i] {
			if p.Distance(q) < near {
				pairs++
				close[i], close[j] = true, true
			}
		}
	}
	if r.Nearby > pairs || 2*r.Nearby < len(close) {
		return fmt.Errorf("%d pairs told as near, want at most %d, and %d points have one", r.Nearby, pairs, len(close))
	}
	return nil
}

// validateCrossings says of a small survey whether breaklines cross at all: a
// pair that crosses where no point lies must be told, and none told without.
func validateCrossings(r Report, s survey) error {
	var legs [][2]geom.Point
	for _, l := range s.lines {
		for i := 1; i < len(l); i++ {
			legs = append(legs, [2]geom.Point{l[i-1].At, l[i].At})
		}
	}
	if len(legs) > smallMesh {
		return nil
	}
	met, bare := false, false
	for i, x := range legs {
		for _, y := range legs[:i] {
			if geom.Meet(x[0], x[1], y[0], y[1]) != geom.Crossing {
				continue
			}
			met = true
			bare = bare || !slices.ContainsFunc(s.rows(), func(p Shot) bool {
				return geom.OnSegment(p.At, x[0], x[1]) && geom.OnSegment(p.At, y[0], y[1])
			})
		}
	}
	if bare && r.Crossings == 0 || !met && r.Crossings > 0 {
		return fmt.Errorf("%d crossings told, want some: %v", r.Crossings, bare)
	}
	return nil
}

// bruteDelaunay finds a vertex in the circle of a face, looking at all pairs.
func bruteDelaunay(t *TIN) error {
	for f := range int32(len(t.faces)) {
		if t.isGhost(f) {
			continue
		}
		v := t.faces[f].v
		for w, p := range t.pts {
			if geom.InCircle(t.pts[v[0]], t.pts[v[1]], t.pts[v[2]], p) > 0 {
				return fmt.Errorf("vertex %d lies in the circle of face %d", w, f)
			}
		}
	}
	return nil
}
