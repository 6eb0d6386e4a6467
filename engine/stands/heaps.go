package stands

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/real"
	"spadework/engine/unit"
)

// usualRepose is the slope of a heap of loose earth, 1 : 1.5 (common practice).
const usualRepose = 1 / 1.5

// loadHeight is how high a bucket has to empty over a truck. Assumed by this
// program; common practice 2.5 to 3 m.
const loadHeight unit.Length = 3

// dumps are into how many equal heaps the spoil of a visit may be parted.
var dumps = []int{1, 2, 3, 4, 6, 8}

// dumpSpans and dumpWays are how many distances and directions a heap is tried
// at.
const (
	dumpSpans = 8
	dumpWays  = 32
)

// repose is the slope in force.
func (p *Problem) repose() float64 {
	if p.Repose > 0 {
		return float64(p.Repose)
	}
	return usualRepose
}

// cone is the radius of a heap of a volume: V = π r³ s/3.
func (p *Problem) cone(v unit.Volume) unit.Length {
	return unit.Length(real.Exp(real.Log(3*float64(v)/(math.Pi*p.repose())) / 3))
}

// keep is ground that heaps up to a visit have to leave: within gap of a leg,
// or in a rectangle.
type keep struct {
	last int // visit
	a, b geom.Point
	gap  float64
	ring geom.Ring
}

// yard places the heaps of a plan.
type yard struct {
	p      *Problem
	g      *ground
	plan   *Plan
	keeps  []keep
	index  *shapes
	sights *shapes // in pieces, so that a long one meets few buckets
	pieces []int32 // the sight of each piece
	laid   laid
	next   int
}

func newYard(p *Problem, g *ground, plan *Plan) *yard {
	y := &yard{p: p, g: g, plan: plan}
	var prev *machine.Place
	for i := range plan.Visits {
		v := &plan.Visits[i]
		y.drive(v.Path, prev, &v.Stand, i-1)
		y.keeps = append(y.keeps, keep{last: i, ring: g.body.at(v.Stand, 0)}, keep{last: i, a: v.Stand.At, b: v.Stand.At, gap: g.tail})
		prev = &v.Stand
	}
	if prev != nil {
		y.drive(plan.Out, prev, nil, len(plan.Visits)-1)
	}
	for _, way := range plan.Leave {
		y.drive(way, nil, nil, len(plan.Visits))
	}
	rings := make([]geom.Ring, len(y.keeps))
	for i, k := range y.keeps {
		if rings[i] = k.ring; k.ring == nil {
			rings[i] = geom.BoxOf(k.a, k.b).Grown(k.gap).Ring()
		}
	}
	y.index = newShapes(rings)
	var lines []geom.Ring
	for i, s := range p.Sights {
		n := int(s.From.Distance(s.To)/bucket) + 1
		for k := range n {
			from, to := s.From.Toward(s.To, float64(k)/float64(n)), s.From.Toward(s.To, float64(k+1)/float64(n))
			lines, y.pieces = append(lines, geom.Ring{from, to}), append(y.pieces, int32(i))
		}
	}
	y.sights, y.laid = newShapes(lines), laid{}
	return y
}

// drive keeps the ground of a path.
func (y *yard) drive(path Path, from, to *machine.Place, last int) {
	n := len(path)
	for i := 1; i < n; i++ {
		switch {
		case i == 1 && from != nil:
			y.straight(*from, path[1], last)
		case i == n-1 && to != nil:
			y.straight(*to, path[n-2], last)
		default:
			y.keeps = append(y.keeps, keep{last: last, a: path[i-1], b: path[i], gap: y.g.body.turn})
		}
	}
}

// straight keeps the ground of a drive along a bearing.
func (y *yard) straight(p machine.Place, to geom.Point, last int) {
	on := to.Sub(p.At).Dot(forward(p))
	y.keeps = append(y.keeps, keep{last: last, ring: y.g.body.at(p, on)})
}

// step places the spoil of one visit; done when all is placed.
func (y *yard) step() (done bool) {
	if y.next == len(y.plan.Visits) {
		return true
	}
	v := &y.plan.Visits[y.next]
	var spoil, hand unit.Volume
	for _, c := range v.Cells {
		spoil += y.p.Cells[c].Spoil
	}
	for _, c := range v.Opened {
		hand += y.p.Cells[c].Spoil
	}
	v.Heaps = y.best(v, spoil)
	for _, h := range v.Heaps {
		spoil -= h.Volume
	}
	y.laid.add(v.Heaps)
	if spoil = max(0, spoil); spoil > 1e-9 {
		if v.Truck = y.truck(v.Stand); v.Truck >= 0 {
			v.Loaded, spoil = spoil, 0
		}
	} else {
		spoil = 0
	}
	v.Carted = spoil + hand
	y.next++
	return y.next == len(y.plan.Visits)
}

// best is the heaps that hold most of the spoil, the fewest of such.
func (y *yard) best(v *Visit, spoil unit.Volume) (best []Heap) {
	if !(spoil > 0) {
		return nil
	}
	most := unit.Volume(0)
	for _, n := range dumps {
		heaps := y.heap(v, spoil/unit.Volume(n), n)
		if held := spoil * unit.Volume(len(heaps)) / unit.Volume(n); held > most+1e-9 {
			best, most = heaps, held
		}
		if len(best) > 0 && len(best) == n {
			break
		}
	}
	return best
}

// heap places up to n heaps of a volume, with the least swing from the cells.
func (y *yard) heap(v *Visit, volume unit.Volume, n int) (out []Heap) {
	r := y.p.cone(volume)
	height := r * unit.Length(y.p.repose())
	span, ok := y.p.Machine.Envelope.Dump(height)
	if !ok {
		return nil
	}
	span = y.p.Machine.Plan(span)
	for _, at := range y.places(v, span) {
		if h := (Heap{at, r, height, volume}); y.clear(h, out) {
			if out = append(out, h); len(out) == n {
				break
			}
		}
	}
	return out
}

// places are where the bucket can empty, by their distance from the cells.
func (y *yard) places(v *Visit, span machine.Span) []geom.Point {
	var all geom.Point
	for _, c := range v.Cells {
		m := y.p.Cells[c].Ring.Centroid()
		all.X, all.Y = all.X+m.X/float64(len(v.Cells)), all.Y+m.Y/float64(len(v.Cells))
	}
	var out []geom.Point
	for i := range dumpWays {
		a := 2 * math.Pi * float64(i) / dumpWays
		u := geom.Vector{X: math.Sin(a), Y: math.Cos(a)}
		for k := range dumpSpans {
			d := float64(span.Near) + float64(span.Far-span.Near)*(float64(k)+0.5)/dumpSpans
			if at := v.Stand.At.Add(u.Scale(d)); y.p.Machine.Swing.Turns(v.Stand, at) {
				out = append(out, at)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b geom.Point) int { return cmp.Compare(a.Distance(all), b.Distance(all)) })
	return out
}

// clear says that a heap may lie where it is, beside those of its visit.
func (y *yard) clear(h Heap, beside []Heap) bool {
	r := float64(h.Radius)
	box := geom.BoxOf(h.At)
	if h.meets(beside) || y.laid.meets(h) {
		return false
	}
	back := r + float64(y.p.SpoilSetback)
	return y.g.rolls(h.At, h.At, r, 0, false) &&
		y.g.cells.every(box.Grown(back), func(i int32) bool { return clearOf(h.At, h.At, y.g.cells.rings[i], back) }) &&
		y.sights.every(box.Grown(r), func(i int32) bool {
			piece := y.sights.rings[i]
			return geom.PointGap(h.At, piece[0], piece[1]) > r || y.p.Sights[y.pieces[i]].over(h, y.p.Ground)
		}) &&
		y.index.every(box.Grown(r), func(i int32) bool { return y.keeps[i].last < y.next || y.keeps[i].leaves(h) })
}

// over says that a line of sight passes over a heap, wherever in its width.
func (s Sight) over(h Heap, ground Ground) bool {
	if ground == nil || s.Low == nil {
		return false
	}
	z, known := ground.Height(h.At)
	way := s.To.Sub(s.From)
	long := way.Dot(way)
	if !known || long == 0 {
		return false
	}
	t, r := h.At.Sub(s.From).Dot(way)/long, float64(h.Radius)/math.Sqrt(long)
	top := z + float64(h.Height)
	at := func(t float64) float64 {
		t = min(1, max(0, t))
		return float64(s.Low[0]) + t*float64(s.Low[1]-s.Low[0])
	}
	return top <= min(at(t-r), at(t+r))
}

// laid are the heaps so far, by bucket of their middle.
type laid struct {
	at   map[[2]int][]Heap
	most float64 // radius of the widest
}

func bucketOf(v float64) int { return int(math.Floor(v / bucket)) }

func (l *laid) add(heaps []Heap) {
	if l.at == nil {
		l.at = map[[2]int][]Heap{}
	}
	for _, h := range heaps {
		key := [2]int{bucketOf(h.At.X), bucketOf(h.At.Y)}
		l.at[key] = append(l.at[key], h)
		l.most = max(l.most, float64(h.Radius))
	}
}

// meets says that a heap touches one that is laid.
func (l *laid) meets(h Heap) bool {
	box := geom.BoxOf(h.At).Grown(float64(h.Radius) + l.most)
	for x := bucketOf(box.Min.X); x <= bucketOf(box.Max.X); x++ {
		for y := bucketOf(box.Min.Y); y <= bucketOf(box.Max.Y); y++ {
			if h.meets(l.at[[2]int{x, y}]) {
				return true
			}
		}
	}
	return false
}

// meets says that a heap touches one of others.
func (h Heap) meets(others []Heap) bool {
	for _, o := range others {
		if h.At.Distance(o.At) < float64(h.Radius+o.Radius) {
			return true
		}
	}
	return false
}

// leaves says that a heap leaves the ground.
func (k keep) leaves(h Heap) bool {
	if k.ring != nil {
		return clearOf(h.At, h.At, k.ring, float64(h.Radius))
	}
	return geom.PointGap(h.At, k.a, k.b) >= float64(h.Radius)+k.gap
}

// leave finds the ways of trucks to the entry once all that the plan digs is
// open.
func leave(p *Problem, l *lattice, plan *Plan) []Path {
	closed := make([]bool, len(p.Cells))
	for _, u := range plan.Unserved {
		closed[u.Cell] = true
	}
	all := func(by int16) {
		for c := range p.Cells {
			if !closed[c] {
				l.dig(int32(c), by)
			}
		}
	}
	all(1)
	defer all(-1)
	out := make([]Path, len(p.Trucks))
	for i, t := range p.Trucks {
		if way, ok := l.way(t, p.Entry); ok {
			out[i] = way
		}
	}
	return out
}

// truck is the first truck place with a way out that a stand can load, −1 for
// none.
func (y *yard) truck(s machine.Place) int {
	span, ok := y.p.Machine.Envelope.Dump(loadHeight)
	if !ok {
		return -1
	}
	span = y.p.Machine.Plan(span)
	for i, t := range y.p.Trucks {
		if len(y.plan.Leave[i]) == 0 {
			continue
		}
		d := unit.Length(t.Distance(s.At))
		if d >= span.Near && d <= span.Far && y.p.Machine.Swing.Turns(s, t) {
			return i
		}
	}
	return -1
}
