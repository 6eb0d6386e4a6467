package stands

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/unit"
)

// digger is a small tracked machine, by a sheet of invented figures.
func digger(t testing.TB) machine.Machine {
	e, fault := machine.Sheet{MaxReach: 6.2, MaxDepth: 3.8, DumpHeight: 4.2, DumpReach: 4.5,
		Floors: []machine.Floor{{Depth: -1, Span: machine.Span{Near: 1.8, Far: 6}}, {Depth: 0, Span: machine.Span{Near: 1.8, Far: 6}},
			{Depth: 2, Span: machine.Span{Near: 2, Far: 5.2}}, {Depth: 3, Span: machine.Span{Near: 2.5, Far: 4}}}}.Envelope()
	if fault != nil {
		t.Fatal(fault)
	}
	return machine.Machine{Type: machine.Tracked, Envelope: e, Swing: machine.SwingOf(machine.Tracked, 0),
		Base: machine.Base{Length: 2.6, Width: 1.9, Blade: machine.FrontBlade, BladeOut: 0.4}}
}

// backhoe digs behind itself on outriggers.
func backhoe(t testing.TB) machine.Machine {
	m := digger(t)
	m.Type, m.Swing = machine.BackhoeLoader, machine.SwingOf(machine.BackhoeLoader, 0)
	m.Base = machine.Base{Length: 3, Width: 2, Behind: -1, Outriggers: 2.4}
	return m
}

// addRun adds a run of cells, a trench, as a dig.
func addRun(p *Problem, from geom.Point, along geom.Vector, n int, depth float64) {
	for i := range n {
		mid := from.Add(along.Scale(1.5 * (float64(i) + 0.5)))
		batter := 0.3 * depth
		p.Cells = append(p.Cells, Cell{Ring: geom.Rectangle(mid, along, 1.5, 0.8), Daylight: geom.Rectangle(mid, along, 1.5, 0.8+2*batter),
			Depth: unit.Length(depth), Spoil: unit.Volume(1.5 * (0.8 + batter) * depth * 1.25), Dig: len(p.Digs)})
	}
	p.Digs = append(p.Digs, Dig{})
}

// site is a random job on a plot, some digs in order, some before others, with
// hand cells, crossings, keep-outs and sights.
func site(t testing.TB, seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 8))
	p := Problem{Machine: digger(t), Setback: 0.6, SpoilSetback: 0.6, Entry: geom.Point{X: 3, Y: 3},
		Allowed: geom.Box{Max: geom.Point{X: 44, Y: 36}}.Ring()}
	if r.IntN(4) == 0 {
		p.Machine = backhoe(t)
	}
	for d := range 1 + r.IntN(4) {
		at := geom.Point{X: 10 + 11*float64(d%3) + 2*r.Float64(), Y: 10 + 14*float64(d/3) + 4*r.Float64()}
		a := 2 * math.Pi * r.Float64()
		addRun(&p, at, geom.Vector{X: math.Sin(a), Y: math.Cos(a)}, 1+r.IntN(5), 0.8+1.4*r.Float64())
		last := &p.Digs[len(p.Digs)-1]
		last.InOrder = r.IntN(3) == 0
		if d > 0 && r.IntN(4) == 0 {
			last.Before = []int{r.IntN(d)}
		}
		if n := len(p.Cells); r.IntN(3) == 0 {
			p.Cells[n-1].Crossing = true
			p.Cells[n-1].Hand = r.IntN(2) == 0
		}
	}
	if r.IntN(2) == 0 {
		p.Keepouts = []geom.Ring{geom.Rectangle(geom.Point{X: 8 + 28*r.Float64(), Y: 8 + 20*r.Float64()}, geom.Vector{X: 1}, 2, 3)}
	}
	if r.IntN(2) == 0 {
		p.Sights = []Sight{{From: geom.Point{X: 1, Y: 34}, To: geom.Point{X: 40 * r.Float64(), Y: 5}}}
	}
	if r.IntN(2) == 0 {
		p.Trucks = []geom.Point{{X: 8 + 28*r.Float64(), Y: 8 + 20*r.Float64()}}
	}
	if r.IntN(3) == 0 {
		p.Machine.Base.TailSwing = 1.6
		p.Walls = []geom.Ring{geom.Rectangle(geom.Point{X: 8 + 28*r.Float64(), Y: 8 + 20*r.Float64()}, geom.Vector{Y: 1}, 4, 0.3)}
	}
	if r.IntN(3) == 0 {
		onHill(&p, hill{0.04 * r.Float64(), 0.04 * r.Float64(), 0.3 * r.Float64()})
		p.Machine.Steepest = 0.09
		for i, s := range p.Sights {
			a, _ := p.Ground.Height(s.From)
			b, _ := p.Ground.Height(s.To)
			p.Sights[i].Low = &[2]unit.Elevation{unit.Elevation(a + 1.2*r.Float64()), unit.Elevation(b + 1.2*r.Float64())}
		}
	}
	if r.IntN(4) == 0 {
		shade := geom.Point{X: 8 + 28*r.Float64(), Y: 8 + 20*r.Float64()}
		p.Tied = func(at geom.Point, cell int) bool { return at.Distance(shade) > 3+float64(cell%3) }
	}
	return p
}

// hill is a tilted plane with waves.
type hill struct{ east, north, wave float64 }

func (h hill) Height(at geom.Point) (float64, bool) {
	return 100 + h.east*at.X + h.north*at.Y + h.wave*math.Sin(at.X/5)*math.Sin(at.Y/6), at.X > 0 && at.Y > 0
}

// onHill lays the cells of a problem into a hill, as deep under their lowest
// corner as they are.
func onHill(p *Problem, h hill) {
	p.Ground = h
	for i := range p.Cells {
		c := &p.Cells[i]
		low, high := math.Inf(1), math.Inf(-1)
		for _, at := range c.open() {
			z, _ := h.Height(at)
			low, high = min(low, z), max(high, z)
		}
		c.Top, c.Bottom = unit.Elevation(high), unit.Elevation(low)-unit.Elevation(c.Depth)
		c.Depth = c.Top.Above(c.Bottom)
	}
}

// jobs is how many random jobs are played.
func jobs() uint64 {
	if os.Getenv("SPADEWORK_LONG") == "1" {
		return 500
	}
	return 60
}

func TestRandomJobsPlay(t *testing.T) {
	cells, served, visits, bounds, heaps, hand, machineCells := 0, 0, 0, 0, 0, 0, 0
	why := map[Why]int{}
	for seed := range jobs() {
		p := site(t, seed)
		plan, bound := Solve(p)
		if v := Play(p, plan); v != nil {
			t.Fatalf("seed %d: Play = %+v, want none", seed, *v)
		}
		if len(plan.Unserved) == 0 && len(plan.Visits) < bound {
			t.Errorf("seed %d: %d stands, under the bound %d", seed, len(plan.Visits), bound)
		}
		for _, u := range plan.Unserved {
			why[u.Why]++
		}
		cells, served, bounds = cells+len(p.Cells), served+len(p.Cells)-len(plan.Unserved), bounds+bound
		visits += len(plan.Visits)
		hand += len(plan.Hand)
		for _, v := range plan.Visits {
			heaps += len(v.Heaps)
			hand += len(v.Opened)
			machineCells += len(v.Cells)
		}
	}
	t.Logf("%d cells, %d served (%d by machine, %d by hand), not served by reason %v; %d stands, bound %d; %d heaps", cells, served, machineCells, hand, why, visits, bounds, heaps)
	if machineCells*10 < cells*8 || hand == 0 || heaps < visits/2 {
		t.Errorf("%d of %d cells by machine, %d by hand, %d heaps of %d stands: the jobs say little", machineCells, cells, hand, heaps, visits)
	}
}
