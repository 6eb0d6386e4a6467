package stands

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/unit"
)

// Rule names what a plan breaks.
type Rule string

// The rules, as the package comment tells them.
const (
	RuleOnce    Rule = "once"    // each cell is dug once or told as not served
	RuleReach   Rule = "reach"   // whole cell in the column of reach
	RuleTurn    Rule = "turn"    // the order between cells
	RuleGround  Rule = "ground"  // off allowed ground, or on a keep-out
	RuleEdge    Rule = "edge"    // too near an open cell
	RuleJoin    Rule = "join"    // a path that does not begin where the machine is, or drives in off its bearing
	RuleBuried  Rule = "buried"  // into a heap
	RuleDump    Rule = "dump"    // a heap or truck out of dump reach
	RuleHeap    Rule = "heap"    // a heap on a cell's set-back, another heap, a keep-out, or under the machine
	RuleSight   Rule = "sight"   // a heap in a line of sight
	RuleVolume  Rule = "volume"  // spoil that is not told, or a heap steeper than it lies
	RuleMachine Rule = "machine" // nothing is known of the base
	RuleTail    Rule = "tail"    // the tail swings into a wall, or a heap
	RuleSlope   Rule = "slope"   // on ground that is not known or steeper than the machine works on
	RuleTie     Rule = "tie"     // a cell dug where the beam is not received
	RuleTruck   Rule = "truck"   // a truck without a way out
)

// Violation is the first thing a plan does that it must not.
type Violation struct {
	Visit int // the number of visits for the way out and what is after
	Rule  Rule
	Cell  int // −1 where no cell is meant
	At    geom.Point
}

// tolerance is what a check lets pass, in metres (and cubic metres): rounding
// only.
const tolerance = 1e-6

// Play moves the machine through a plan, opens the ground cell by cell and pours
// the heaps; it returns the first violation, nil for none. It uses nothing of
// the planner.
func Play(p Problem, plan Plan) *Violation {
	g := game{p: p, plan: plan, opened: make([]int, len(p.Cells)), at: machine.Place{At: p.Entry}, atEntry: true}
	if !p.Machine.Base.Known() {
		if len(plan.Visits) > 0 {
			g.fail(RuleMachine, -1, p.Entry)
		}
		return g.found
	}
	g.turn = g.farthestCorner()
	for g.visit = range plan.Visits {
		if g.move(plan.Visits[g.visit]); g.found == nil {
			g.work(plan.Visits[g.visit])
		}
		if g.found != nil {
			return g.found
		}
	}
	g.visit = len(plan.Visits)
	if !g.atEntry {
		g.drive(plan.Out, nil)
	}
	for _, c := range plan.Hand {
		g.dig(c, true)
	}
	g.trucks()
	g.told()
	g.order()
	return g.found
}

// game is the site while a plan is played.
type game struct {
	p       Problem
	plan    Plan
	visit   int
	at      machine.Place
	atEntry bool
	turn    float64 // radius of the circle about the farthest corner
	opened  []int   // by cell: 0 closed, else the how-manieth opened
	count   int
	heaps   []Heap
	found   *Violation
}

func (g *game) fail(r Rule, cell int, at geom.Point) {
	if g.found == nil {
		g.found = &Violation{g.visit, r, cell, at}
	}
}

// corners of base, blade and outriggers at a place.
func (g *game) corners(p machine.Place) []geom.Point {
	out := append([]geom.Point{}, g.p.Machine.Base.Footprint(p)...)
	for _, foot := range g.p.Machine.Base.Feet(p) {
		out = append(out, foot...)
	}
	return out
}

func (g *game) farthestCorner() float64 {
	far := 0.0
	for _, c := range g.corners(machine.Place{}) {
		far = max(far, math.Sqrt(c.X*c.X+c.Y*c.Y))
	}
	return far
}

// move opens what is dug by hand and drives to a stand.
func (g *game) move(v Visit) {
	for _, c := range v.Opened {
		g.dig(c, true)
	}
	g.drive(v.Path, &v.Stand)
	g.at, g.atEntry = v.Stand, false
}

// drive follows a path to a stand, nil to the entry.
func (g *game) drive(path Path, to *machine.Place) {
	end := g.p.Entry
	if to != nil {
		end = to.At
	}
	n := len(path)
	if n < 2 || gapPoints(path[0], g.at.At) > tolerance || gapPoints(path[n-1], end) > tolerance {
		g.fail(RuleJoin, -1, g.at.At)
		return
	}
	if n == 2 && !g.atEntry && to != nil {
		g.fail(RuleJoin, -1, path[0]) // nowhere to turn between two bearings
		return
	}
	for i := 1; i < n; i++ {
		switch {
		case i == 1 && !g.atEntry:
			g.straight(g.at, path[0], path[1])
		case i == n-1 && to != nil:
			g.straight(*to, path[n-2], path[n-1])
		default:
			g.body([]geom.Point{path[i-1], path[i]}, g.turn)
		}
	}
	if to != nil {
		g.body(hullOf(g.corners(*to)), 0)
	}
}

// straight drives along the bearing of a place.
func (g *game) straight(p machine.Place, a, b geom.Point) {
	s, c := math.Sincos(float64(p.Bearing))
	if off := (b.X-a.X)*c - (b.Y-a.Y)*s; math.Abs(off) > tolerance {
		g.fail(RuleJoin, -1, a)
		return
	}
	corners := append(g.corners(machine.Place{At: a, Bearing: p.Bearing}), g.corners(machine.Place{At: b, Bearing: p.Bearing})...)
	g.body(hullOf(corners), 0)
}

// body checks what the machine covers, thickened all round.
func (g *game) body(r []geom.Point, thick float64) {
	if !holds(g.p.Allowed, r, thick) {
		g.fail(RuleGround, -1, r[0])
	}
	for _, list := range [][]geom.Ring{g.p.Keepouts, g.p.Walls} {
		for _, k := range list {
			if gap := gapRings(r, k); gap <= 0 || gap < thick-tolerance {
				g.fail(RuleGround, -1, r[0])
			}
		}
	}
	for c := range g.p.Cells {
		if g.opened[c] > 0 {
			g.edge(r, thick, c)
		}
	}
	for _, h := range g.heaps {
		if gapRings(r, []geom.Point{h.At}) < thick+float64(h.Radius)-tolerance {
			g.fail(RuleBuried, -1, h.At)
		}
	}
}

func (g *game) edge(r []geom.Point, thick float64, c int) {
	gap := gapRings(r, g.daylight(c))
	if gap <= 0 || gap < thick+float64(g.p.Setback)-tolerance {
		g.fail(RuleEdge, c, r[0])
	}
}

func (g *game) daylight(c int) []geom.Point {
	if d := g.p.Cells[c].Daylight; len(d) > 0 {
		return d
	}
	return g.p.Cells[c].Ring
}

// dig opens a cell.
func (g *game) dig(c int, hand bool) {
	if c < 0 || c >= len(g.p.Cells) || g.opened[c] > 0 || g.p.Cells[c].Hand != hand {
		g.fail(RuleOnce, c, g.at.At)
		return
	}
	g.count++
	g.opened[c] = g.count
}

// work digs the cells of a visit and gets rid of the spoil.
func (g *game) work(v Visit) {
	foot := hullOf(g.corners(v.Stand))
	g.stands(v.Stand)
	spoil := 0.0
	if len(v.Cells) == 0 {
		g.fail(RuleOnce, -1, v.Stand.At)
	}
	for _, c := range v.Cells {
		if g.dig(c, false); g.found != nil {
			return
		}
		if !g.reaches(v.Stand, c) {
			g.fail(RuleReach, c, v.Stand.At)
		}
		if g.p.Tied != nil && !g.p.Tied(v.Stand.At, c) {
			g.fail(RuleTie, c, v.Stand.At)
		}
		g.edge(foot, 0, c)
		spoil += float64(g.p.Cells[c].Spoil)
	}
	for _, c := range v.Opened {
		spoil += float64(g.p.Cells[c].Spoil)
	}
	for _, h := range v.Heaps {
		g.pour(v.Stand, h, foot)
		spoil -= float64(h.Volume)
	}
	if v.Loaded > 0 && (v.Truck < 0 || v.Truck >= len(g.p.Trucks) || !g.dumps(v.Stand, g.p.Trucks[v.Truck], float64(loadHeight))) {
		g.fail(RuleDump, -1, v.Stand.At)
	}
	if v.Loaded < 0 || v.Carted < 0 || math.Abs(spoil-float64(v.Loaded+v.Carted)) > tolerance {
		g.fail(RuleVolume, -1, v.Stand.At)
	}
}

// column is the column of reach of a cell for a machine at a place.
func (g *game) column(p machine.Place, c int) (machine.Span, bool) {
	cell := g.p.Cells[c]
	if g.p.Ground == nil {
		return g.p.Machine.Envelope.Column(cell.Depth)
	}
	z, known := g.p.Ground.Height(p.At)
	out, ok := g.p.Machine.Envelope.Column(unit.Length(z - float64(cell.Bottom)))
	if over := float64(cell.Top) - z; ok && over > 0 { // the top of the hole, over the machine's feet
		top, can := g.p.Machine.Envelope.Span(unit.Length(-over))
		out.Near, out.Far, ok = max(out.Near, top.Near), min(out.Far, top.Far), can
	}
	return out, known && ok
}

// stands checks the ground under a machine and what its tail swings over.
func (g *game) stands(p machine.Place) {
	tail := float64(g.p.Machine.Base.TailSwing)
	for _, w := range g.p.Walls {
		if gap := gapRings([]geom.Point{p.At}, w); gap < tail-tolerance {
			g.fail(RuleTail, -1, w[0])
		}
	}
	for _, h := range g.heaps {
		if gapPoints(p.At, h.At) < tail+float64(h.Radius)-tolerance {
			g.fail(RuleTail, -1, h.At)
		}
	}
	if g.p.Ground == nil {
		return
	}
	if _, known := g.p.Ground.Height(p.At); !known {
		g.fail(RuleSlope, -1, p.At)
	}
	most := float64(g.p.Machine.Steepest)
	if !(most > 0) {
		return
	}
	front, rear := g.alongReach()
	r := slopeBase(front, rear)
	z := func(dx, dy float64) float64 {
		h, known := g.p.Ground.Height(geom.Point{X: p.At.X + dx, Y: p.At.Y + dy})
		if !known {
			return math.NaN()
		}
		return h
	}
	east, north := (z(r, 0)-z(-r, 0))/(2*r), (z(0, r)-z(0, -r))/(2*r)
	if !(math.Sqrt(east*east+north*north) <= most+tolerance) {
		g.fail(RuleSlope, -1, p.At)
	}
}

// alongReach is how far the machine's body lies before and behind its swing
// centre.
func (g *game) alongReach() (front, rear float64) {
	for _, c := range g.corners(machine.Place{}) {
		front, rear = math.Max(front, c.Y), math.Max(rear, -c.Y)
	}
	return front, rear
}

// trucks checks that each place that is loaded at has a way out once all is
// open.
func (g *game) trucks() {
	loaded := map[int]bool{}
	for _, v := range g.plan.Visits {
		if v.Loaded > 0 {
			loaded[v.Truck] = true
		}
	}
	for i, place := range g.p.Trucks {
		if !loaded[i] {
			continue
		}
		if i >= len(g.plan.Leave) || len(g.plan.Leave[i]) < 2 {
			g.fail(RuleTruck, -1, place)
			continue
		}
		way := g.plan.Leave[i]
		if gapPoints(way[0], place) > tolerance || gapPoints(way[len(way)-1], g.p.Entry) > tolerance {
			g.fail(RuleTruck, -1, place)
		}
		for k := 1; k < len(way); k++ {
			g.body([]geom.Point{way[k-1], way[k]}, g.turn)
		}
	}
}

// reaches says that a cell lies in the column of reach.
func (g *game) reaches(p machine.Place, c int) bool {
	cell := g.p.Cells[c]
	column, ok := g.column(p, c)
	if !ok {
		return false
	}
	span := g.p.Machine.Plan(column)
	if gapRings([]geom.Point{p.At}, cell.Ring) < float64(span.Near)-tolerance || gapRings([]geom.Point{p.At}, cell.Ring) <= 0 {
		return false
	}
	for i, a := range cell.Ring {
		b := cell.Ring[(i+1)%len(cell.Ring)]
		if gapPoints(a, p.At) > float64(span.Far)+tolerance {
			return false
		}
		for k := range 16 { // corners and points of the sides
			t := float64(k) / 16
			if !g.swings(p, geom.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}) {
				return false
			}
		}
	}
	return true
}

// swings says that the arm turns to a point: the angle between the middle of
// its sector and the point is not more than it turns each way.
func (g *game) swings(p machine.Place, to geom.Point) bool {
	s := g.p.Machine.Swing
	my, mx := math.Sincos(math.Pi/2 - float64(p.Bearing+s.Middle))
	x, y := to.X-p.At.X, to.Y-p.At.Y
	return math.Abs(math.Atan2(mx*y-my*x, mx*x+my*y)) <= float64(s.EachWay)+tolerance
}

func (g *game) dumps(p machine.Place, to geom.Point, height float64) bool {
	span, ok := dumpSpan(g.p.Machine, height)
	d := gapPoints(p.At, to)
	return ok && d >= span[0]-tolerance && d <= span[1]+tolerance && g.swings(p, to)
}

// pour checks a heap and lays it.
func (g *game) pour(p machine.Place, h Heap, foot []geom.Point) {
	r, at := float64(h.Radius), []geom.Point{h.At}
	slope := float64(g.p.Repose)
	if !(slope > 0) {
		slope = 1 / 1.5
	}
	cone := math.Pi * r * r * float64(h.Height) / 3
	if !(math.Abs(cone-float64(h.Volume)) <= tolerance) || float64(h.Height) > r*slope+tolerance {
		g.fail(RuleVolume, -1, h.At)
	}
	if !g.dumps(p, h.At, float64(h.Height)) {
		g.fail(RuleDump, -1, h.At)
	}
	bad := gapRings(at, foot) < r-tolerance || !holds(g.p.Allowed, at, r)
	for _, list := range [][]geom.Ring{g.p.Keepouts, g.p.Walls} {
		for _, k := range list {
			bad = bad || gapRings(at, k) < r-tolerance
		}
	}
	bad = bad || gapPoints(h.At, p.At) < float64(g.p.Machine.Base.TailSwing)+r-tolerance
	for c := range g.p.Cells {
		bad = bad || gapRings(at, g.daylight(c)) < r+float64(g.p.SpoilSetback)-tolerance
	}
	for _, o := range g.heaps {
		bad = bad || gapPoints(h.At, o.At) < r+float64(o.Radius)-tolerance
	}
	if bad {
		g.fail(RuleHeap, -1, h.At)
	}
	for _, s := range g.p.Sights {
		if gapRings(at, []geom.Point{s.From, s.To}) < r-tolerance && !g.passesOver(s, h) {
			g.fail(RuleSight, -1, h.At)
		}
	}
	g.heaps = append(g.heaps, h)
}

// passesOver says that a line of sight runs over a heap: its ends within the
// heap's width lie no lower than the top.
func (g *game) passesOver(s Sight, h Heap) bool {
	if g.p.Ground == nil || s.Low == nil {
		return false
	}
	z, known := g.p.Ground.Height(h.At)
	long := gapPoints(s.From, s.To)
	if !known || long == 0 {
		return false
	}
	x, y := (s.To.X-s.From.X)/long, (s.To.Y-s.From.Y)/long
	along := (h.At.X-s.From.X)*x + (h.At.Y-s.From.Y)*y
	for _, d := range []float64{along - float64(h.Radius), along + float64(h.Radius)} {
		d = math.Max(0, math.Min(long, d))
		if beam := float64(s.Low[0]) + d/long*float64(s.Low[1]-s.Low[0]); z+float64(h.Height) > beam+tolerance {
			return false
		}
	}
	return true
}

// told checks that each cell is either dug or told as not served.
func (g *game) told() {
	not := make([]int, len(g.p.Cells))
	for _, u := range g.plan.Unserved {
		if u.Cell < 0 || u.Cell >= len(not) {
			g.fail(RuleOnce, u.Cell, g.at.At)
			return
		}
		not[u.Cell]++
	}
	for c := range not {
		if (g.opened[c] > 0) == (not[c] > 0) || not[c] > 1 {
			g.fail(RuleOnce, c, g.at.At)
		}
	}
}

// order checks every pair of cells that has an order.
func (g *game) order() {
	for a := range g.p.Cells {
		for b := range g.p.Cells {
			if a != b && g.opened[b] > 0 && (g.opened[a] == 0 || g.opened[a] > g.opened[b]) && g.first(a, b) {
				g.fail(RuleTurn, b, g.at.At)
			}
		}
	}
}

// first says that cell a has to be open before b.
func (g *game) first(a, b int) bool {
	x, y := g.p.Cells[a], g.p.Cells[b]
	if g.sameDig(x.Dig, y.Dig) {
		if x.Crossing != y.Crossing {
			return x.Crossing
		}
		return g.listed(x.Dig) && g.p.Digs[x.Dig].InOrder && a < b
	}
	if g.told2(x.Dig, y.Dig) {
		return true
	}
	lower := float64(x.Depth - y.Depth)
	if g.p.Ground != nil {
		lower = float64(y.Bottom - x.Bottom)
	}
	return lower > depthSlack && !g.told2(y.Dig, x.Dig) && g.neighbours(a, b)
}

func (g *game) neighbours(a, b int) bool {
	gap := gapRings(g.daylight(a), g.daylight(b))
	return gap <= 0 || gap < float64(g.p.Setback)-tolerance
}

func (g *game) listed(d int) bool { return d >= 0 && d < len(g.p.Digs) }

func (g *game) sameDig(a, b int) bool { return a == b || !g.listed(a) && !g.listed(b) }

// told2 says that a dig is told to come before another.
func (g *game) told2(a, b int) bool {
	if !g.listed(a) || !g.listed(b) {
		return false
	}
	for _, next := range g.p.Digs[a].Before {
		if next == b {
			return true
		}
	}
	return false
}
