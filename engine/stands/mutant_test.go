package stands

import (
	"math"
	"slices"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/machine"
)

// copied is a plan that may be spoilt.
func copied(p Plan) Plan {
	p.Visits, p.Unserved, p.Out = slices.Clone(p.Visits), slices.Clone(p.Unserved), slices.Clone(p.Out)
	for i := range p.Visits {
		v := &p.Visits[i]
		v.Path, v.Cells, v.Heaps = slices.Clone(v.Path), slices.Clone(v.Cells), slices.Clone(v.Heaps)
	}
	return p
}

// shift moves the stand of a visit, and both paths with it.
func shift(p *Plan, i int, to geom.Point) {
	v := &p.Visits[i]
	by := to.Sub(v.Stand.At)
	v.Stand.At = to
	n := len(v.Path)
	v.Path[n-1], v.Path[n-2] = to, v.Path[n-2].Add(by)
	next := p.Out
	if i+1 < len(p.Visits) {
		next = p.Visits[i+1].Path
	}
	next[0], next[1] = to, next[1].Add(by)
}

// mutant spoils a plan at a visit; ok is false where it has nothing to spoil.
type mutant struct {
	name  string
	spoil func(p Problem, plan *Plan, i int) (ok bool)
	rules []Rule // one of which must be broken
}

var mutants = []mutant{
	{"cells of a run swapped", func(p Problem, plan *Plan, i int) bool {
		c := plan.Visits[i].Cells
		for k := 1; k < len(c); k++ {
			a, b := p.Cells[c[k-1]], p.Cells[c[k]]
			if a.Dig == b.Dig && p.Digs[a.Dig].InOrder && a.Crossing == b.Crossing {
				c[k-1], c[k] = c[k], c[k-1]
				return true
			}
		}
		return false
	}, []Rule{RuleTurn}},
	{"cells of two stands swapped", func(p Problem, plan *Plan, i int) bool {
		if i == 0 {
			return false
		}
		a, b := &plan.Visits[i-1], &plan.Visits[i]
		if p.Machine.Covers(a.Stand, p.Cells[b.Cells[0]].Ring, p.Cells[b.Cells[0]].Depth) {
			return false
		}
		a.Cells, b.Cells = b.Cells, a.Cells
		return true
	}, []Rule{RuleReach, RuleEdge}},
	{"visits swapped", func(p Problem, plan *Plan, i int) bool {
		if i == 0 {
			return false
		}
		plan.Visits[i-1], plan.Visits[i] = plan.Visits[i], plan.Visits[i-1]
		return true
	}, []Rule{RuleJoin}},
	{"heap on a cell", func(p Problem, plan *Plan, i int) bool {
		v := plan.Visits[i]
		if len(v.Heaps) > 0 {
			v.Heaps[0].At = p.Cells[v.Cells[0]].Ring.Centroid()
		}
		return len(v.Heaps) > 0
	}, []Rule{RuleHeap, RuleDump}},
	{"heap on the next stand", func(p Problem, plan *Plan, i int) bool {
		v := plan.Visits[i]
		if len(v.Heaps) == 0 || i+1 == len(plan.Visits) {
			return false
		}
		v.Heaps[0].At = plan.Visits[i+1].Stand.At
		return true
	}, []Rule{RuleHeap, RuleDump, RuleBuried}},
	{"heap in the way out", func(p Problem, plan *Plan, i int) bool {
		v := plan.Visits[i]
		if len(v.Heaps) == 0 {
			return false
		}
		v.Heaps[0].At = plan.Out[len(plan.Out)/2]
		return true
	}, []Rule{RuleHeap, RuleDump, RuleBuried, RuleSight}},
	{"heap out of reach", func(p Problem, plan *Plan, i int) bool {
		v := plan.Visits[i]
		if len(v.Heaps) > 0 {
			v.Heaps[0].At = v.Stand.At.Add(geom.Vector{X: 7})
		}
		return len(v.Heaps) > 0
	}, []Rule{RuleDump}},
	{"two heaps in one", func(p Problem, plan *Plan, i int) bool {
		v := &plan.Visits[i]
		if len(v.Heaps) > 0 {
			v.Heaps = append(v.Heaps, v.Heaps[0])
		}
		return len(v.Heaps) > 0
	}, []Rule{RuleHeap}},
	{"spoil forgotten", func(p Problem, plan *Plan, i int) bool {
		v := &plan.Visits[i]
		if len(v.Heaps) == 0 {
			return false
		}
		v.Heaps = v.Heaps[1:]
		return true
	}, []Rule{RuleVolume}},
	{"heap too steep", func(p Problem, plan *Plan, i int) bool {
		v := plan.Visits[i]
		if len(v.Heaps) > 0 {
			v.Heaps[0].Radius, v.Heaps[0].Height = v.Heaps[0].Radius/2, v.Heaps[0].Height*4
		}
		return len(v.Heaps) > 0
	}, []Rule{RuleVolume, RuleDump}},
	{"stand on its cell", func(p Problem, plan *Plan, i int) bool {
		shift(plan, i, p.Cells[plan.Visits[i].Cells[0]].Ring.Centroid())
		return true
	}, []Rule{RuleEdge, RuleGround, RuleJoin, RuleReach, RuleBuried, RuleSlope, RuleTail}},
	{"stand 6 m on", func(p Problem, plan *Plan, i int) bool {
		v := plan.Visits[i]
		away := v.Stand.At.Sub(p.Cells[v.Cells[0]].Ring.Centroid()).Unit()
		shift(plan, i, v.Stand.At.Add(away.Scale(6)))
		return true
	}, []Rule{RuleEdge, RuleGround, RuleJoin, RuleReach, RuleBuried, RuleSlope, RuleTail}},
	{"stand beside the end of its path", func(p Problem, plan *Plan, i int) bool {
		plan.Visits[i].Stand.At.X += 0.01
		return true
	}, []Rule{RuleJoin}},
	{"cell forgotten", func(p Problem, plan *Plan, i int) bool {
		v := &plan.Visits[i]
		v.Cells = v.Cells[1:]
		return len(v.Cells) > 0
	}, []Rule{RuleOnce, RuleTurn, RuleVolume}},
	{"cell twice", func(p Problem, plan *Plan, i int) bool {
		v := &plan.Visits[i]
		v.Cells = append(v.Cells, v.Cells[0])
		return true
	}, []Rule{RuleOnce}},
	{"way through the open ground", func(p Problem, plan *Plan, i int) bool {
		if i+1 < len(plan.Visits) {
			return false
		}
		mid := p.Cells[plan.Visits[i].Cells[0]].Ring.Centroid()
		plan.Out = slices.Insert(plan.Out, 2, mid)
		return true
	}, []Rule{RuleEdge, RuleGround, RuleBuried}},
}

// TestSiteIsMinded: a plan made without a tail, a slope, ties or a way out for
// trucks breaks the rule it knew nothing of, in one of sixteen directions at
// least; the plan that minds it breaks none.
func TestSiteIsMinded(t *testing.T) {
	boxedIn := func(p *Problem, at geom.Point) {
		for _, by := range []geom.Vector{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
			p.Keepouts = append(p.Keepouts, geom.Rectangle(at.Add(by), geom.Vector{X: -by.Y, Y: by.X}, 2, 0.1))
		}
	}
	for _, c := range []struct {
		rule Rule
		mind func(p *Problem, plan *Plan, way geom.Vector)
	}{
		{RuleTail, func(p *Problem, plan *Plan, way geom.Vector) {
			p.Machine.Base.TailSwing = 2.8
			p.Walls = []geom.Ring{geom.Rectangle(plan.Visits[0].Stand.At.Add(way.Scale(2.7)), way, 0.1, 0.1)}
		}},
		{RuleSlope, func(p *Problem, _ *Plan, way geom.Vector) {
			p.Machine.Steepest = 0.1
			onHill(p, hill{east: 0.11 * way.X, north: 0.11 * way.Y})
		}},
		{RuleTie, func(p *Problem, plan *Plan, _ geom.Vector) {
			at := plan.Visits[0].Stand.At
			p.Tied = func(from geom.Point, _ int) bool { return from != at }
		}},
		{RuleTruck, func(p *Problem, plan *Plan, way geom.Vector) {
			span, _ := p.Machine.Envelope.Dump(loadHeight)
			p.Trucks = []geom.Point{plan.Visits[0].Stand.At.Add(way.Scale(float64(span.Near+span.Far) / 2))}
			boxedIn(p, p.Trucks[0])
			plan.Leave = make([]Path, 1)
			for i := range plan.Visits { // it loads there
				v := &plan.Visits[i]
				for _, h := range v.Heaps {
					v.Loaded += h.Volume
				}
				v.Heaps, v.Truck, v.Loaded, v.Carted = nil, 0, v.Loaded+v.Carted, 0
			}
		}},
	} {
		convicted := 0
		for k := range 16 {
			p := Problem{Machine: digger(t), Setback: 0.6, SpoilSetback: 0.6, Entry: geom.Point{X: 8, Y: 8}}
			addRun(&p, geom.Point{X: 20, Y: 20}, geom.Vector{Y: 1}, 2, 1.2)
			blind, _ := Solve(p)
			if v := Play(p, blind); v != nil || len(blind.Unserved) > 0 || len(blind.Visits) != 1 {
				t.Fatalf("%s: Play = %+v, %d not served, %d stands before, want none, 0, 1", c.rule, v, len(blind.Unserved), len(blind.Visits))
			}
			a := 2 * math.Pi * float64(k) / 16
			c.mind(&p, &blind, geom.Vector{X: math.Sin(a), Y: math.Cos(a)})
			seen, _ := Solve(p)
			if v := Play(p, seen); v != nil {
				t.Errorf("%s, direction %d: Play = %+v of the plan that minds it", c.rule, k, *v)
			}
			if v := Play(p, blind); v != nil && v.Rule == c.rule {
				convicted++
			}
		}
		if convicted == 0 {
			t.Errorf("%s: no plan that knows nothing of it is convicted", c.rule)
		}
	}
}

// TestMutantsAreConvicted: each spoilt plan breaks one of the rules it was
// spoilt against, and the plan it was made from none.
func TestMutantsAreConvicted(t *testing.T) {
	made := make([]int, len(mutants))
	for seed := range jobs() / 2 {
		p := site(t, seed)
		plan, _ := Solve(p)
		if v := Play(p, plan); v != nil {
			t.Fatalf("seed %d: Play = %+v before any mutant", seed, *v)
		}
		for m, mutant := range mutants {
			for i := range plan.Visits {
				bad := copied(plan)
				if !mutant.spoil(p, &bad, i) {
					continue
				}
				made[m]++
				if v := Play(p, bad); v == nil || !slices.Contains(mutant.rules, v.Rule) {
					t.Errorf("seed %d, visit %d, %s: Play = %+v, want one of %v", seed, i, mutant.name, v, mutant.rules)
				}
			}
		}
	}
	for m, n := range made {
		if n < 5 {
			t.Errorf("%s: made %d times, the test says little", mutants[m].name, n)
		}
	}
}

// TestRetreatCannotBeTurnedRound: in a corridor as wide as the machine, a trench
// is dug from its far end; the same stands the other way round drive over it.
func TestRetreatCannotBeTurnedRound(t *testing.T) {
	p := Problem{Machine: digger(t), Setback: 0.5, SpoilSetback: 0.6, Entry: geom.Point{X: 3, Y: -6},
		Allowed: geom.Ring{{X: 0, Y: -10}, {X: 6, Y: -10}, {X: 6, Y: 40}, {X: 0, Y: 40}}}
	addRun(&p, geom.Point{X: 3, Y: 2}, geom.Vector{Y: 1}, 12, 1.2)
	plan, _ := Solve(p)
	if v := Play(p, plan); v != nil || len(plan.Unserved) > 0 || len(plan.Visits) < 3 {
		t.Fatalf("Play = %+v, %d not served, %d stands, want none, none, 3 or more", v, len(plan.Unserved), len(plan.Visits))
	}
	for i := 1; i < len(plan.Visits); i++ {
		if a, b := plan.Visits[i-1].Stand.At.Y, plan.Visits[i].Stand.At.Y; !(a > b) {
			t.Errorf("stand %d at y %v after %v, want a retreat", i, b, a)
		}
	}
	turned := copied(plan)
	slices.Reverse(turned.Visits)
	var from *machine.Place
	for i := range turned.Visits {
		v := &turned.Visits[i]
		at := p.Entry
		if from != nil {
			at = from.At
		}
		v.Path, v.Heaps, v.Carted = Path{at, at, v.Stand.At, v.Stand.At}, nil, 0
		for _, c := range v.Cells {
			v.Carted += p.Cells[c].Spoil
		}
		from = &v.Stand
	}
	if v := Play(p, turned); v == nil || v.Rule != RuleEdge || v.Visit != 1 {
		t.Errorf("turned round: Play = %+v, want edge at visit 1", v)
	}
}
