package stands

import (
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/machine"
)

// body is the rectangle that holds base, blade and outriggers.
type body struct{ front, rear, half, turn float64 }

func newBody(b machine.Base) body {
	var o body
	o.front, o.rear, o.half = float64(b.Length/2+b.Behind), float64(b.Length/2-b.Behind), float64(b.Width/2)
	switch b.Blade {
	case machine.FrontBlade:
		o.front += float64(b.BladeOut)
	case machine.RearBlade:
		o.rear += float64(b.BladeOut)
	}
	for _, feet := range b.Feet(machine.Place{}) {
		for _, p := range feet {
			o.front, o.rear, o.half = max(o.front, p.Y), max(o.rear, -p.Y), max(o.half, math.Abs(p.X))
		}
	}
	ahead := max(o.front, o.rear)
	o.turn = math.Sqrt(float64(ahead*ahead) + float64(o.half*o.half))
	return o
}

// forward is the unit vector a machine at a place faces.
func forward(p machine.Place) geom.Vector {
	return geom.Vector{X: math.Sin(float64(p.Bearing)), Y: math.Cos(float64(p.Bearing))}
}

// at is the body at a place, swept straight on by a signed distance.
func (o body) at(p machine.Place, on float64) geom.Ring {
	front, rear := o.front+max(0, on), o.rear+max(0, -on)
	u := forward(p)
	return geom.Rectangle(p.At.Add(u.Scale((front-rear)/2)), u, front+rear, 2*o.half)
}

// ground is what may be stood and driven on.
type ground struct {
	body     body
	setback  float64
	allowed  geom.Ring
	cells    *shapes // daylight outlines
	keepouts *shapes // walls too
	walls    *shapes
	tail     float64
	open     []bool // by cell
	surface  Ground // nil: level
	steepest float64
}

func newGround(p Problem) *ground {
	g := &ground{body: newBody(p.Machine.Base), setback: float64(p.Setback), open: make([]bool, len(p.Cells))}
	if len(p.Allowed) > 0 {
		g.allowed = slices.Clone(p.Allowed.CounterClockwise())
	}
	rings := make([]geom.Ring, len(p.Cells))
	for i, c := range p.Cells {
		rings[i] = c.open()
	}
	g.cells, g.keepouts, g.walls = newShapes(rings), newShapes(slices.Concat(p.Keepouts, p.Walls)), newShapes(p.Walls)
	g.tail, g.surface, g.steepest = float64(p.Machine.Base.TailSwing), p.Ground, float64(p.Machine.Steepest)
	return g
}

// height is that of the ground, and whether a machine can stand on it there: it
// is known, and half a base ahead and to the sides it is no steeper than the
// machine works on. A machine that tells no such slope works on any.
func (g *ground) height(at geom.Point) (z float64, ok bool) {
	if g.surface == nil {
		return 0, true
	}
	if z, ok = g.surface.Height(at); !ok || !(g.steepest > 0) {
		return z, ok
	}
	r := slopeBase(g.body.front, g.body.rear)
	var h [4]float64
	for i, by := range []geom.Vector{{X: r}, {X: -r}, {Y: r}, {Y: -r}} {
		if h[i], ok = g.surface.Height(at.Add(by)); !ok {
			return z, false
		}
	}
	east, north := (h[0]-h[1])/(2*r), (h[2]-h[3])/(2*r)
	return z, float64(east*east)+float64(north*north) <= float64(g.steepest*g.steepest)
}

// slopeBase is how far from the swing centre the ground is looked at for its
// slope: a quarter of a base.
func slopeBase(front, rear float64) float64 { return (front + rear) / 4 }

// swings says that the tail of a machine clears the walls all round.
func (g *ground) swings(at geom.Point) bool {
	return g.walls.every(geom.BoxOf(at).Grown(g.tail), func(i int32) bool { return clearOf(at, at, g.walls.rings[i], g.tail) })
}

// firm says that a ring is on allowed ground and off every keep-out.
func (g *ground) firm(r geom.Ring) bool {
	for i := range r {
		if a, b := r.Side(i); !inside(a, b, g.allowed, 0) {
			return false
		}
	}
	return g.keepouts.every(r.Bounds(), func(i int32) bool { return apart(r, g.keepouts.rings[i], 0) })
}

// offOpen says that a ring keeps the set-back from every open cell.
func (g *ground) offOpen(r geom.Ring) bool {
	return g.cells.every(r.Bounds().Grown(g.setback), func(i int32) bool {
		return !g.open[i] || apart(r, g.cells.rings[i], g.setback)
	})
}

// turns says that the machine can drive and turn all along a straight leg.
func (g *ground) turns(a, b geom.Point) bool {
	n := int(a.Distance(b)/bucket) + 1
	for i := range n { // by pieces, so that a long leg is not held against all the site
		from, to := a.Toward(b, float64(i)/float64(n)), a.Toward(b, float64(i+1)/float64(n))
		if !g.rolls(from, to, g.body.turn, g.setback+g.body.turn, true) {
			return false
		}
	}
	return true
}

// rolls says that a segment keeps a distance from what is firm and one from
// cells, the open ones or none.
func (g *ground) rolls(a, b geom.Point, firm, open float64, cells bool) bool {
	if !inside(a, b, g.allowed, firm) {
		return false
	}
	box := geom.BoxOf(a, b)
	return g.keepouts.every(box.Grown(firm), func(i int32) bool { return clearOf(a, b, g.keepouts.rings[i], firm) }) &&
		(!cells || g.cells.every(box.Grown(open), func(i int32) bool {
			return !g.open[i] || clearOf(a, b, g.cells.rings[i], open)
		}))
}

// exitStep and exitSteps are how far a machine looks along its bearing for a
// place to turn.
const (
	exitStep  = 0.5
	exitSteps = 16
)

// exits are the nearest places to turn from a stand, along its bearing.
func (g *ground) exits(p machine.Place) []geom.Point {
	if g.turns(p.At, p.At) {
		return []geom.Point{p.At}
	}
	var out []geom.Point
	u := forward(p)
	for _, way := range []float64{1, -1} {
		for k := 1; k <= exitSteps; k++ {
			on := way * float64(k) * exitStep
			swept := g.body.at(p, on)
			if !g.firm(swept) || !g.offOpen(swept) {
				break
			}
			if at := p.At.Add(u.Scale(on)); g.turns(at, at) {
				out = append(out, at)
				break
			}
		}
	}
	return out
}
