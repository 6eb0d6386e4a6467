package siting_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/reception"
	"spadework/engine/siting"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// job is an invented site of rods on hilly ground with huts and benchmarks, all
// its coordinates from a corner at move, whole metres away from the origin.
type job struct {
	field   *reception.Field
	surface ground.Surface
	problem siting.Problem
}

type size struct {
	digs, nodes, places int
	side                float64 // of the site, in metres
	move                geom.Vector
}

// newJob draws a site; its figures are whole millimetres.
func newJob(t testing.TB, n size) *job {
	r := rand.New(rand.NewPCG(uint64(n.digs), 17))
	at := func() geom.Point {
		x, y := math.Round(r.Float64()*(n.side-1)*1000)/1000, math.Round(r.Float64()*(n.side-1)*1000)/1000
		return geom.Point{X: x + n.move.X, Y: y + n.move.Y}
	}
	j := &job{surface: hilly(t, n, r)}
	site := reception.Site{Ground: j.surface, Range: 150, Curvature: beam.Combined}
	for i := range 5 + n.digs/50 {
		p := at()
		z, _ := j.surface.Height(p)
		w, h := 4+float64(r.IntN(6)), 3+float64(r.IntN(5))
		site.Obstacles = append(site.Obstacles, reception.Obstacle{ID: fmt.Sprint("H", i), Top: unit.Elevation(z + 2.5),
			Outline: geom.Ring{p, {X: p.X + w, Y: p.Y}, {X: p.X + w, Y: p.Y + h}, {X: p.X, Y: p.Y + h}}})
	}
	f, err := reception.New(site)
	if err != nil {
		t.Fatal(err)
	}
	j.field = f
	j.digs(n, r, at)
	j.places(n)
	j.problem.Judge = judge{&j.problem, 0.012}
	return j
}

// hilly is a square grid of about n.nodes nodes.
func hilly(t testing.TB, n size, r *rand.Rand) ground.Surface {
	side := int(math.Ceil(math.Sqrt(float64(n.nodes))))
	step := math.Ceil(n.side/float64(side-1)*1000) / 1000
	g := ground.GridData{Origin: geom.Point{}.Add(n.move), DX: step, DY: step, Cols: side, Rows: side}
	for i := range side * side {
		x, y := float64(i%side)*step, float64(i/side)*step
		wave := math.Sin(x/23) * math.Cos(y/31)
		g.Z = append(g.Z, math.Round((100+0.01*x+0.8*wave+0.03*r.NormFloat64())*1000)/1000)
	}
	s, err := ground.NewGrid(g)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// digs are footings of four corners; one in ten is a run of pipe that takes the
// dialled gradient too.
func (j *job) digs(n size, r *rand.Rand, at func() geom.Point) {
	j.problem.Receiver, j.problem.Range = j.field, 150
	j.problem.Gradients = []geom.Vector{{}, {X: 0.01}}
	j.problem.Need, j.problem.Spacing = 1, unit.Length(n.side/math.Sqrt(float64(n.places)))
	for i := range n.digs {
		p := at()
		z, _ := j.surface.Height(p)
		bottom := unit.Elevation(math.Round((z-1.2)*1000) / 1000)
		c := siting.Cell{ID: fmt.Sprint("F", i), Gradients: []int{0}}
		for _, d := range []geom.Vector{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}} {
			c.Targets = append(c.Targets, reception.Target{At: p.Add(d), Bottom: bottom, Lowest: 0.3, Highest: 5})
		}
		if i%10 == 0 {
			c.Gradients = []int{1}
		}
		j.problem.Cells = append(j.problem.Cells, c)
	}
	for range 4 + n.digs/12 {
		t, _ := j.field.Foot(at(), 0.3, 5)
		j.problem.Benchmarks = append(j.problem.Benchmarks, t)
	}
}

// stand is a place of a tripod.
func (j *job) stand(p geom.Point) (siting.Place, bool) {
	z, ok := j.surface.Height(p)
	low := unit.Elevation(math.Round((z+1.1)*1000) / 1000)
	return siting.Place{At: p, Low: low, High: low + 0.7, Eyes: [2]unit.Elevation{low + 0.4, low + 0.6}}, ok
}

func (j *job) places(n size) {
	j.problem.Ground = j.stand
	box := j.surface.Bounds()
	count := int(math.Round(math.Sqrt(float64(n.places))))
	step := math.Floor(n.side/float64(count)*1000) / 1000
	for i := range count * count {
		p := geom.Point{X: box.Min.X + float64(i%count)*step, Y: box.Min.Y + float64(i/count)*step}
		if pl, ok := j.stand(p); ok {
			j.problem.Places = append(j.problem.Places, pl)
		}
	}
}

// judge asks trust for what a rod with a receiver leaves.
type judge struct {
	p     *siting.Problem
	limit unit.Length
}

type outlook struct {
	judge
	belief *trust.Belief
}

func (j judge) Setup(at geom.Point, gradient int, benchmarks []int) siting.Outlook {
	var c trust.Control
	for _, b := range benchmarks {
		c.Points = append(c.Points, trust.Point{ID: fmt.Sprint(b), At: j.p.Benchmarks[b].At, Known: true, Sigma: 0.002})
	}
	s := trust.Setup{ID: "S", Laser: "L", At: at, Prior: trust.FromAccuracy(unit.Grade(10 * unit.ArcSecond)),
		Dial: trust.Dialling{Gradient: j.p.Gradients[gradient], Axes: gradient, Step: 1e-5, Accuracy: 1e-4, Aiming: unit.Angle(0.001)}}
	belief, f := trust.Predict(s, c, 0.002)
	if f != nil {
		panic(f)
	}
	return outlook{j, belief}
}

func (o outlook) Error(cell int) (worst unit.Length, ok bool) {
	way := trust.Way{DeadBand: 0.006, Cutting: 0.010, Trimming: 0.003}
	for _, t := range o.p.Cells[cell].Targets {
		worst = max(worst, o.belief.At(t.At, 2.4, way).Final)
	}
	return worst, worst <= o.limit
}

var benchSizes = []struct {
	name string
	size size
}{
	{"1x", size{digs: 500, nodes: 200_000, places: 2_000, side: 1000}},
	{"4x", size{digs: 2_000, nodes: 800_000, places: 8_000, side: 2000}},
	{"16x", size{digs: 8_000, nodes: 3_200_000, places: 32_000, side: 4000}},
}

// BenchmarkPlan is a whole plan: who receives what, how well, fewest set-ups, the
// smallest worst error and least walking, in steps of ten million operations.
func BenchmarkPlan(b *testing.B) {
	for _, c := range benchSizes {
		b.Run(c.name, func(b *testing.B) {
			if testing.Short() && c.name != "1x" {
				b.Skip("only the smallest in short mode")
			}
			j := newJob(b, c.size)
			for b.Loop() {
				s, f := siting.New(j.problem, 0)
				if f != nil {
					b.Fatal(f)
				}
				for !s.Step(10_000_000) {
				}
				p := s.Proof()
				b.ReportMetric(float64(p.Count), "set-ups")
				b.ReportMetric(float64(p.Bound), "bound")
				b.ReportMetric(float64(p.Places), "places")
				b.ReportMetric(float64(p.Candidates), "candidates")
				b.ReportMetric(float64(len(s.Infeasible())), "unserved")
			}
		})
	}
}
