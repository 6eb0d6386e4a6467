package reception

import (
	"math"
	"math/rand/v2"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/ground"
)

// hills is a grid of 2 000 × 2 000 nodes at 0.5 m: slopes, mounds and noise.
func hills(b testing.TB) *ground.Grid {
	r := rand.New(rand.NewPCG(3, 5))
	g := ground.GridData{DX: 0.5, DY: 0.5, Cols: 2000, Rows: 2000, Z: make([]float64, 4_000_000)}
	for i := range g.Z {
		p := g.Node(i%g.Cols, i/g.Cols)
		g.Z[i] = 0.01*p.X + 0.8*math.Sin(p.X/23)*math.Cos(p.Y/31) + 0.05*r.NormFloat64()
	}
	s, err := ground.NewGrid(g)
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// footings is n rods on bottoms 1.2 m under the ground, over the whole site.
func footings(s ground.Surface, n int) []Target {
	r := rand.New(rand.NewPCG(9, 9))
	var out []Target
	for len(out) < n {
		p := geom.Point{X: 1000 * r.Float64(), Y: 1000 * r.Float64()}
		if t, ok := (&Field{asked: s}).Foot(p, 0.3, 5); ok {
			t.Bottom -= 1.2
			out = append(out, t)
		}
	}
	return out
}

func benchFrom(b *testing.B, l Laser, s ground.Surface, targets []Target) {
	f, err := New(Site{Ground: s, Range: 100})
	if err != nil {
		b.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 1))
	var sc Scratch
	open := 0
	b.ReportAllocs()
	for b.Loop() {
		l.At = geom.Point{X: 100 + 800*r.Float64(), Y: 100 + 800*r.Float64()}
		for _, w := range f.From(l, targets, &sc) {
			if w.Open() {
				open++
			}
		}
	}
	b.ReportMetric(float64(open)/float64(b.N), "open/place")
}

// BenchmarkPlace1000Digs is one candidate place and 1 000 digs on 1 × 1 km, range
// 100 m: about 31 of them in range.
func BenchmarkPlace1000Digs(b *testing.B) {
	s := hills(b)
	benchFrom(b, Laser{}, s, footings(s, 1000))
}

// BenchmarkPlace1000DigsDialled is the same under a dialled plane.
func BenchmarkPlace1000DigsDialled(b *testing.B) {
	s := hills(b)
	benchFrom(b, Laser{Gradient: geom.Vector{X: 0.01, Y: -0.005}}, s, footings(s, 1000))
}

// BenchmarkPlace1000DigsTIN is the same over a triangulation of 200 000 shots.
func BenchmarkPlace1000DigsTIN(b *testing.B) {
	g := hills(b)
	r := rand.New(rand.NewPCG(4, 4))
	var shots []ground.Shot
	for range 200_000 {
		i := r.IntN(len(g.Z))
		shots = append(shots, ground.Shot{At: g.Node(i%g.Cols, i/g.Cols), Z: g.Z[i]})
	}
	s, _, err := ground.Build(shots, nil, ground.Options{})
	if err != nil {
		b.Fatal(err)
	}
	benchFrom(b, Laser{}, s, footings(s, 1000))
}

// BenchmarkPlaceNodes is one candidate place and a lattice of stands 2 m apart
// within range: about 7 850.
func BenchmarkPlaceNodes(b *testing.B) {
	s := hills(b)
	var targets []Target
	f := &Field{asked: s}
	for x := 0.0; x < 1000; x += 2 {
		for y := 0.0; y < 1000; y += 2 {
			if t, ok := f.Foot(geom.Point{X: x, Y: y}, 1, 4); ok {
				targets = append(targets, t)
			}
		}
	}
	benchFrom(b, Laser{}, s, targets)
}
