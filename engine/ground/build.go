package ground

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// Breakline is a line the surface bends along, with heights at its points.
type Breakline []Shot

// listed is how many of each kind a Report lists.
const listed = 100

// coordinateLimit is the greatest coordinate Build takes, in metres: far over
// any map's, far under geom.CircleLimit.
const coordinateLimit = 1e15

// Build triangulates shots and breaklines into a surface: the constrained
// Delaunay triangulation, of exact signs, of all their points. Where a circle
// passes through four points or more the choice among the Delaunay
// triangulations depends only on the points and their order.
//
// A point that is not finite or beyond ±1e15 m, fewer than three places, or
// all places on one line are a *phrase.Fault. So are a boundary or hole of
// fewer than three corners or with a corner that is no such place, and legs
// whose crossings never end. The inputs are not modified.
func Build(shots []Shot, breaklines []Breakline, o Options) (*TIN, Report, error) {
	in := newInput(shots, breaklines)
	box, err := in.check()
	if err != nil {
		return nil, Report{}, err
	}
	if err := o.check(); err != nil {
		return nil, Report{}, err
	}
	b := builder{input: in, options: o, TIN: &TIN{box: box}}
	b.free = true
	if b.options.Near == 0 {
		b.options.Near = 1e-3
	}
	b.order()
	if !b.triangulate() {
		return nil, Report{}, tooFew()
	}
	b.settleDuplicates()
	b.countNearby()
	if !b.layBreaklines() || !b.layLimits() {
		return nil, Report{}, phrase.NewFault(phrase.New("ground.tangled"), phrase.New("ground.tangled_remedy"))
	}
	b.TIN.at = nil
	b.TIN.finish()
	b.countGround()
	return b.TIN, b.report, nil
}

// builder carries one Build.
type builder struct {
	*TIN
	input
	options Options
	report  Report
	twice   []leg // later points (b) at the place of a vertex (a)
}

// input is shots and breakline points in one numbering.
type input struct {
	shots []Shot
	lines []Breakline
	extra []Shot // the points of lines
}

func newInput(shots []Shot, lines []Breakline) input {
	in := input{shots: shots, lines: lines}
	for _, l := range lines {
		in.extra = append(in.extra, l...)
	}
	return in
}

func (in *input) len() int { return len(in.shots) + len(in.extra) }

func (in *input) shot(i int32) *Shot {
	if int(i) < len(in.shots) {
		return &in.shots[i]
	}
	return &in.extra[int(i)-len(in.shots)]
}

// row names point i of the numbering.
func (in *input) row(i int32) Row {
	if i < 0 {
		return Row{Line: -2}
	}
	k := int(i)
	if k < len(in.shots) {
		return Row{-1, k}
	}
	k -= len(in.shots)
	for n, l := range in.lines {
		if k < len(l) {
			return Row{n, k}
		}
		k -= len(l)
	}
	return Row{Line: -2}
}

// check finds values that are no places and the box of the rest.
func (in *input) check() (geom.Box, error) {
	box := geom.EmptyBox()
	for _, part := range [2][]Shot{in.shots, in.extra} {
		for i := range part {
			s := &part[i]
			if !isMapped(s.At) || !(math.Abs(s.Z) <= coordinateLimit) {
				k := i
				if len(part) != len(in.shots) || &part[0] != &in.shots[0] {
					k += len(in.shots)
				}
				return box, notFinite(in.row(int32(k)), s)
			}
			box = box.With(s.At)
		}
	}
	if in.len() < 3 || box.Min == box.Max {
		return box, tooFew()
	}
	return box, nil
}

// isMapped says that p is finite and within coordinateLimit.
func isMapped(p geom.Point) bool {
	return math.Abs(p.X) <= coordinateLimit && math.Abs(p.Y) <= coordinateLimit
}

func tooFew() error {
	return phrase.NewFault(phrase.New("ground.too_few"), phrase.New("ground.too_few_remedy"))
}

func notFinite(r Row, s *Shot) error {
	args := []phrase.Arg{phrase.With("row", r.Index+1), phrase.With("x", s.At.X), phrase.With("y", s.At.Y), phrase.With("z", s.Z)}
	key := phrase.Key("ground.not_finite")
	if r.Line >= 0 {
		key = "ground.not_finite_line"
		args = append(args, phrase.With("line", r.Line+1))
	}
	return phrase.NewFault(phrase.New(key, args...), phrase.New("ground.not_finite_remedy"))
}

// order takes over the points along the curve.
func (b *builder) order() {
	n := b.len()
	items := hilbertOrder(&b.input, b.box)
	b.pts = make([]geom.Point, n)
	b.z = make([]float64, n)
	b.rows = make([]int32, n)
	for k, it := range items {
		i := it.index()
		s := b.shot(i)
		b.pts[k], b.z[k], b.rows[k] = s.At, s.Z, i
	}
}

// triangulate inserts all points; false if all lie on one line.
func (b *builder) triangulate() bool {
	order := insertionOrder(len(b.pts))
	start, ok := b.seed(order)
	if !ok {
		return false
	}
	b.faces = make([]face, 0, 2*len(b.pts))
	b.findLattice(b.box)
	b.first(start[0], start[1], start[2])
	f := int32(0)
	for _, v := range order {
		if v == start[0] || v == start[1] || v == start[2] {
			continue
		}
		var same int32
		if f, same = b.insert(v, f); same != far {
			b.twice = append(b.twice, leg{same, v})
		}
	}
	return true
}

// seed is the first three vertices of an order that are not on one line.
func (b *builder) seed(order []int32) (s [3]int32, ok bool) {
	s[0] = order[0]
	p, i := b.pts[s[0]], 1
	for i < len(order) && b.pts[order[i]] == p {
		i++
	}
	if i == len(order) {
		return s, false
	}
	s[1] = order[i]
	q := b.pts[s[1]]
	for _, v := range order[i:] {
		if geom.Orient(p, q, b.pts[v]) != 0 {
			s[2] = v
			return s, true
		}
	}
	return s, false
}

// settleDuplicates lets the earliest row of each place hold and counts the rest.
func (b *builder) settleDuplicates() {
	if len(b.twice) == 0 {
		return
	}
	for _, d := range b.twice {
		if b.rows[d.b] < b.rows[d.a] {
			// From here on the two swap rows, so that the vertex in the mesh is
			// the earliest.
			b.rows[d.a], b.rows[d.b] = b.rows[d.b], b.rows[d.a]
			b.z[d.a], b.z[d.b] = b.z[d.b], b.z[d.a]
		}
	}
	byRow := make([]int32, b.len()) // place in twice, from 1
	for k, d := range b.twice {
		byRow[b.rows[d.b]] = int32(k) + 1
	}
	for _, k := range byRow {
		if k == 0 {
			continue
		}
		d := b.twice[k-1]
		if b.z[d.a] == b.z[d.b] {
			b.report.Merged++
			continue
		}
		b.report.Conflicts++
		if len(b.report.ConflictList) < listed {
			pair := Pair{b.row(b.rows[d.a]), b.row(b.rows[d.b])}
			b.report.ConflictList = append(b.report.ConflictList, Conflict{pair, b.z[d.a], b.z[d.b]})
		}
	}
}

// countNearby counts neighbours closer than Options.Near. The nearest other
// point of every point is a neighbour in the Delaunay mesh.
func (b *builder) countNearby() {
	if b.closest > float64(b.options.Near*b.options.Near)*(1+1e-9) {
		return
	}
	pairs := b.pairsWithin(b.options.Near)
	b.report.Nearby = len(pairs)
	slices.SortFunc(pairs, func(x, y leg) int {
		return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
	})
	for _, p := range pairs[:min(listed, len(pairs))] {
		b.report.NearbyList = append(b.report.NearbyList, Pair{b.row(p.a), b.row(p.b)})
	}
}

// pairsWithin is the edges shorter than d, as pairs of rows.
func (b *builder) pairsWithin(d float64) (pairs []leg) {
	limit := float64(d*d) * (1 + 1e-9) // what is over it is not under d
	square := func(p, q geom.Point) float64 {
		x, y := p.X-q.X, p.Y-q.Y
		return float64(x*x) + float64(y*y)
	}
	for f := range b.faces {
		v := &b.faces[f].v
		if v[0]|v[1]|v[2] < 0 {
			continue
		}
		p, q, r := b.pts[v[0]], b.pts[v[1]], b.pts[v[2]]
		if square(p, q) > limit && square(q, r) > limit && square(r, p) > limit {
			continue
		}
		for i := range int32(3) {
			e := edge(f)<<2 | i
			o := b.twin(e)
			x, y := b.from(e), b.to(e)
			if (e < o || b.isGhost(o>>2)) && b.pts[x].Distance(b.pts[y]) < d {
				pairs = append(pairs, leg{min(b.rows[x], b.rows[y]), max(b.rows[x], b.rows[y])})
			}
		}
	}
	return pairs
}

// layBreaklines forces every leg of every breakline.
func (b *builder) layBreaklines() bool {
	if len(b.extra) == 0 {
		return true
	}
	b.indexCorners()
	b.free = false
	vertex := b.extraVertices()
	l := layer{TIN: b.TIN, budget: max(crossingsAtLeast, crossingsPerLeg*len(b.extra))}
	k := 0
	for _, line := range b.lines {
		for i := range line {
			if i > 0 {
				if vertex[k] == vertex[k-1] {
					b.report.Dropped++
				} else if !l.lay(leg{vertex[k-1], vertex[k]}) {
					return false
				}
			}
			k++
		}
	}
	b.report.Crossings, b.report.CrossingList = l.count, l.met
	return true
}

// extraVertices is the vertex of each breakline point.
func (b *builder) extraVertices() []int32 {
	vertex := make([]int32, len(b.extra))
	note := func(row, v int32) {
		if k := int(row) - len(b.shots); k >= 0 {
			vertex[k] = v
		}
	}
	for v, row := range b.rows {
		note(row, int32(v))
	}
	for _, d := range b.twice {
		note(b.rows[d.b], d.a)
	}
	return vertex
}

// countGround finishes the report.
func (b *builder) countGround() {
	if o := &b.options; len(o.Boundary)+len(o.Holes) == 0 && o.LongestEdge == 0 {
		b.report.Points = len(b.pts) - len(b.twice)
		b.report.Triangles = len(b.faces) - b.ghosts()
		return
	}
	used := make([]bool, len(b.pts))
	for f := range b.faces {
		v := &b.faces[f].v
		if v[3]&noGround == 0 && !b.isGhost(int32(f)) {
			b.report.Triangles++
			used[v[0]], used[v[1]], used[v[2]] = true, true, true
		}
	}
	for v, u := range used {
		switch {
		case u:
			b.report.Points++
		case b.rows[v] >= 0:
			b.report.Outside++
		}
	}
	b.report.Outside -= len(b.twice)
}

// ghosts is the number of ghost faces.
func (b *builder) ghosts() int {
	n := 0
	for range b.hull {
		n++
	}
	return n
}
