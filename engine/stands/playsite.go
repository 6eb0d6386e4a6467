package stands

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/machine"
)

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
