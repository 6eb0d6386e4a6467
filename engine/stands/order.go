package stands

import (
	"cmp"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/unit"
)

// order makes a sequence of visits of chosen candidates. A chosen stand is
// complete when every cell that no other stand to come can dig can be dug from
// it now without taking the ground of another; a complete stand stays so, and
// digging from it takes nothing from the others but ways. So complete ones are
// visited as rank says; where there is none, a stand is visited more than once
// or others are taken.
type order struct {
	p      *Problem
	l      *lattice
	found  []candidate
	before [][]int32
	rank   []float64 // by candidate; nil is nearest first
	left   []int32   // chosen candidates to come
	reachers,
	blocked []int32 // by cell: how many of left can dig it, lose their ground by it
	dug     []bool
	here    *machine.Place // nil at the entry
	plan    Plan
	loose   bool // the chosen ones led nowhere, any candidate will do
	retreat bool // choose none beforehand, dig what is farthest from the entry first
}

func newOrder(p *Problem, l *lattice, found []candidate, before [][]int32) *order {
	n := len(p.Cells)
	return &order{p: p, l: l, found: found, before: before,
		reachers: make([]int32, n), blocked: make([]int32, n), dug: make([]bool, n)}
}

// count adds a candidate to what is to come, or with by −1 takes it off.
func (o *order) count(k int32, by int32) {
	for _, c := range o.found[k].reach {
		o.reachers[c] += by
	}
	for _, c := range o.found[k].blocks {
		o.blocked[c] += by
	}
}

func (o *order) choose(chosen []int32) {
	o.left = slices.Clone(chosen)
	for _, k := range chosen {
		o.count(k, 1)
	}
}

func (o *order) drop(k int32) {
	if i := slices.Index(o.left, k); i >= 0 {
		o.left = slices.Delete(o.left, i, i+1)
		o.count(k, -1)
	}
}

// option is what could be done next from a candidate.
type option struct {
	stand  int32
	cells  []int32
	opened []int32 // by hand
	whole  bool
	rank   float64
}

// option looks at a candidate, which counts among those to come or not.
func (o *order) option(k int32) option {
	c := o.found[k]
	opt := option{stand: k, whole: true}
	for _, b := range c.blocks {
		if o.dug[b] {
			return option{stand: k}
		}
	}
	for more := true; more; {
		more = false
		for _, cell := range c.reach {
			if !o.dug[cell] && o.blocked[cell] == 0 && !slices.Contains(opt.cells, cell) && o.ready(cell, &opt, k) {
				opt.cells, more = append(opt.cells, cell), true
			}
		}
	}
	for _, cell := range c.reach {
		if !o.dug[cell] && o.reachers[cell] <= 1 && !slices.Contains(opt.cells, cell) {
			opt.whole = false
		}
	}
	opt.rank = o.rankOf(k)
	return opt
}

func (o *order) rankOf(k int32) float64 {
	if o.rank != nil {
		return o.rank[k]
	}
	return o.found[k].place.At.Distance(o.spot())
}

func (o *order) spot() geom.Point {
	if o.here == nil {
		return o.p.Entry
	}
	return o.here.At
}

// ready says that all a cell waits for is open, or will be by then; cells dug by
// hand are opened for it.
func (o *order) ready(cell int32, opt *option, k int32) bool {
	var open []int32
	for _, b := range o.before[cell] {
		if o.dug[b] || slices.Contains(opt.cells, b) || slices.Contains(opt.opened, b) || slices.Contains(open, b) {
			continue
		}
		if !o.byHand(b, k, &open) {
			return false
		}
	}
	opt.opened = append(opt.opened, open...)
	return true
}

// byHand opens a cell by hand, what it waits for first.
func (o *order) byHand(h, k int32, open *[]int32) bool {
	if !o.p.Cells[h].Hand || !wellFormed(o.p.Cells[h]) || o.blocked[h] > 0 || slices.Contains(o.found[k].blocks, h) {
		return false
	}
	for _, b := range o.before[h] {
		if !o.dug[b] && !slices.Contains(*open, b) && !o.byHand(b, k, open) {
			return false
		}
	}
	if !slices.Contains(*open, h) {
		*open = append(*open, h)
	}
	return true
}

// tries is how many stands are tried before a step gives up.
const tries = 40

// step makes one visit; done when there is nothing more to do.
func (o *order) step() (done bool) {
	if o.retreat {
		return !o.back() && !o.any()
	}
	var whole, part []option
	for _, k := range slices.Clone(o.left) {
		if !slices.ContainsFunc(o.found[k].reach, func(c int32) bool { return !o.dug[c] }) {
			o.drop(k)
		}
	}
	for _, k := range o.left {
		switch opt := o.option(k); {
		case len(opt.cells) == 0:
		case opt.whole:
			whole = append(whole, opt)
		default:
			part = append(part, opt)
		}
	}
	slices.SortFunc(whole, func(a, b option) int { return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.stand, b.stand)) })
	if o.first(whole, true) || o.first(mostFirst(part), false) {
		return false
	}
	if !o.loose {
		o.loose = true
		o.release()
	}
	return !o.any()
}

func mostFirst(opts []option) []option {
	slices.SortFunc(opts, func(a, b option) int {
		return cmp.Or(cmp.Compare(len(b.cells), len(a.cells)), cmp.Compare(a.rank, b.rank), cmp.Compare(a.stand, b.stand))
	})
	return opts
}

// first makes the first visit that can be made.
func (o *order) first(opts []option, drop bool) bool {
	for _, opt := range opts[:min(len(opts), tries)] {
		if n := o.visit(opt); n > 0 {
			if drop && n == len(opt.cells) {
				o.drop(opt.stand)
			}
			return true
		}
	}
	return false
}

// release forgets the chosen stands.
func (o *order) release() {
	for len(o.left) > 0 {
		o.drop(o.left[0])
	}
}

// any makes a visit from whatever candidate digs most.
func (o *order) any() bool {
	var opts []option
	for k := range o.found {
		if opt := o.option(int32(k)); len(opt.cells) > 0 {
			opts = append(opts, opt)
		}
	}
	return o.first(mostFirst(opts), false)
}

// back makes a visit that digs the farthest cell from the entry that can be dug,
// with the most cells behind the stand as seen from there.
func (o *order) back() bool {
	for _, c := range o.byDistance() {
		var opts []option
		for k, f := range o.found {
			if _, is := slices.BinarySearch(f.reach, c); !is {
				continue
			}
			if opt := o.option(int32(k)); slices.Contains(opt.cells, c) {
				opt.rank = -float64(o.behind(opt.cells, f.place))
				opts = append(opts, opt)
			}
		}
		slices.SortFunc(opts, func(a, b option) int { return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.stand, b.stand)) })
		if o.first(opts, false) {
			return true
		}
	}
	return false
}

// byDistance lists the closed cells, the farthest from the entry first.
func (o *order) byDistance() (list []int32) {
	for c, dug := range o.dug {
		if !dug && !o.p.Cells[c].Hand {
			list = append(list, int32(c))
		}
	}
	slices.SortStableFunc(list, func(a, b int32) int { return cmp.Compare(o.away(b), o.away(a)) })
	return list
}

func (o *order) away(c int32) float64 { return o.p.Entry.Distance(o.p.Cells[c].Ring.Centroid()) }

// behind counts the cells that are farther from the entry than a stand.
func (o *order) behind(cells []int32, p machine.Place) (n int) {
	for _, c := range cells {
		if o.away(c) > o.p.Entry.Distance(p.At) {
			n++
		}
	}
	return n
}

// visit moves to a stand and digs, if there is a way there and, after, out; it
// returns how many cells are dug.
func (o *order) visit(opt option) int {
	o.open(opt.opened, 1)
	place := o.found[opt.stand].place
	path, ok := o.path(o.here, &place)
	if ok {
		opt.cells = o.digOut(opt.cells, &place)
		ok = len(opt.cells) > 0
	}
	if !ok {
		o.open(opt.opened, -1)
		return 0
	}
	o.here = &place
	o.plan.Visits = append(o.plan.Visits, Visit{Stand: place, Path: path, Opened: ints(opt.opened), Cells: ints(opt.cells), Truck: -1})
	o.plan.Travel += path.Length()
	return len(opt.cells)
}

// digOut opens cells, or if that closes the way out those of them, in their
// order, that leave it open; it returns what it opened.
func (o *order) digOut(cells []int32, from *machine.Place) []int32 {
	o.open(cells, 1)
	if o.wayOut(from) {
		return cells
	}
	o.open(cells, -1)
	var dug []int32
	for _, c := range cells {
		if o.waits(int(c)) >= 0 {
			continue
		}
		o.open([]int32{c}, 1)
		if o.wayOut(from) {
			dug = append(dug, c)
		} else {
			o.open([]int32{c}, -1)
		}
	}
	return dug
}

// wayOut says that there is a way from a stand to the entry.
func (o *order) wayOut(from *machine.Place) bool {
	_, leave := o.ends(from)
	return slices.ContainsFunc(leave, func(x geom.Point) bool { return o.l.linked(x, o.p.Entry) })
}

func ints(list []int32) (out []int) {
	for _, v := range list {
		out = append(out, int(v))
	}
	return out
}

func (o *order) open(cells []int32, by int16) {
	for _, c := range cells {
		o.dug[c] = by > 0
		o.l.dig(c, by)
	}
}

// path is the shortest way found between two stands, nil being the entry.
func (o *order) path(a, b *machine.Place) (best Path, ok bool) {
	from, leave := o.ends(a)
	to, come := o.ends(b)
	var length unit.Length
	for _, x := range leave {
		for _, y := range come {
			if ok && from.Distance(x)+x.Distance(y)+y.Distance(to) >= float64(length) {
				continue
			}
			way, can := o.l.way(x, y)
			if !can {
				continue
			}
			path := append(append(Path{from}, way...), to)
			if l := path.Length(); !ok || l < length {
				best, length, ok = path, l, true
			}
		}
	}
	return best, ok
}

// ends are a stand's place and the places to turn from it.
func (o *order) ends(s *machine.Place) (geom.Point, []geom.Point) {
	if s == nil {
		return o.p.Entry, []geom.Point{o.p.Entry}
	}
	return s.At, o.l.ground.exits(*s)
}

// finish drives out, opens by hand what is left, closes the ground again and
// lists what is not served.
func (o *order) finish(circle []bool, s *survey) Plan {
	if o.here != nil {
		o.plan.Out, _ = o.path(o.here, nil)
		o.plan.Travel += o.plan.Out.Length()
	}
	for c, dug := range o.dug {
		if dug {
			o.l.dig(int32(c), -1)
		}
	}
	for more := true; more; {
		more = false
		for c, cell := range o.p.Cells {
			if cell.Hand && !o.dug[c] && wellFormed(cell) && o.waits(c) < 0 {
				o.dug[c], more = true, true
				o.plan.Hand = append(o.plan.Hand, c)
			}
		}
	}
	reach := make([]bool, len(o.dug))
	for _, k := range o.found {
		for _, c := range k.reach {
			reach[c] = true
		}
	}
	for c, dug := range o.dug {
		if !dug {
			o.plan.Unserved = append(o.plan.Unserved, Unserved{c, o.why(c, reach[c], circle[c], s)})
		}
	}
	return o.plan
}

// waits is a cell that has to be open before c and is not, −1 for none.
func (o *order) waits(c int) int32 {
	for _, b := range o.before[c] {
		if !o.dug[b] {
			return b
		}
	}
	return -1
}

func (o *order) why(c int, reach, circle bool, s *survey) Why {
	switch {
	case !wellFormed(o.p.Cells[c]):
		return NotConvex
	case circle:
		return Ambiguous
	case o.waits(c) >= 0:
		return Waits
	case !s.reached[c]:
		return NoReach
	case !reach && s.beamless[c]:
		return NoBeam
	case !reach:
		return NoGround
	}
	return NoWay
}
