package ground

import (
	"math/rand/v2"
	"testing"

	"spadework/engine/geom"
)

func benchShots(n int) []Shot {
	r := rand.New(rand.NewPCG(uint64(n), 1))
	out := make([]Shot, n)
	for i := range out {
		p := geom.Point{X: 1000 * r.Float64(), Y: 1000 * r.Float64()}
		out[i] = Shot{p, p.X / 50}
	}
	return out
}

// benchLines is n short breaklines that do not cross, each in a square of its own.
func benchLines(side int) []Breakline {
	r := rand.New(rand.NewPCG(uint64(side), 2))
	var out []Breakline
	cell := 1000 / float64(side)
	for i := range side * side {
		at := func() Shot {
			x, y := float64(i%side)+r.Float64(), float64(i/side)+r.Float64()
			return Shot{geom.Point{X: x * cell, Y: y * cell}, x}
		}
		out = append(out, Breakline{at(), at()})
	}
	return out
}

func benchBuild(b *testing.B, shots []Shot, lines []Breakline) {
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := Build(shots, lines, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(shots)), "ns/shot")
}

func BenchmarkBuild1M(b *testing.B) { benchBuild(b, benchShots(1_000_000), nil) }
func BenchmarkBuild5M(b *testing.B) { benchBuild(b, benchShots(5_000_000), nil) }

func BenchmarkBuild1MBreaklines10k(b *testing.B) {
	benchBuild(b, benchShots(1_000_000), benchLines(100))
}

func BenchmarkBuildFullGrid(b *testing.B) {
	var shots []Shot
	for i := range 1_000_000 {
		shots = append(shots, Shot{geom.Point{X: float64(i % 1000), Y: float64(i / 1000)}, 1})
	}
	benchBuild(b, shots, nil)
}

// BenchmarkHeightGrid is 1 000 000 nodes over 100 000 shots.
func BenchmarkHeightGrid(b *testing.B) {
	t, _, err := Build(benchShots(100_000), nil, Options{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		t.HeightGrid(GridData{DX: 1, DY: 1, Cols: 1000, Rows: 1000})
	}
}

// BenchmarkHeight is single questions at random places.
func BenchmarkHeight(b *testing.B) {
	t, _, err := Build(benchShots(1_000_000), nil, Options{})
	if err != nil {
		b.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 1))
	for b.Loop() {
		t.Height(geom.Point{X: 1000 * r.Float64(), Y: 1000 * r.Float64()})
	}
}

// BenchmarkFirstHit is sights of 100 m over a grid of 0.5 m.
func BenchmarkFirstHit(b *testing.B) {
	g := GridData{DX: 0.5, DY: 0.5, Cols: 1000, Rows: 1000, Z: make([]float64, 1_000_000)}
	s, err := NewGrid(g)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s.FirstHit(geom.Point3{X: 250.1, Y: 250.2, Z: 2}, geom.Point3{X: 321, Y: 321.3, Z: 1})
	}
}

// BenchmarkFacets is the ground under a dig of 10 × 10 m on 1 M shots.
func BenchmarkFacets(b *testing.B) {
	t, _, err := Build(benchShots(1_000_000), nil, Options{})
	if err != nil {
		b.Fatal(err)
	}
	r, n := rand.New(rand.NewPCG(1, 1)), 0
	for b.Loop() {
		p := geom.Point{X: 990 * r.Float64(), Y: 990 * r.Float64()}
		t.Facets(geom.Box{Min: p, Max: p.Add(geom.Vector{X: 10, Y: 10})}, func(_, _, _ geom.Point3) bool { n++; return true })
	}
	b.ReportMetric(float64(n)/float64(b.N), "facets")
}
