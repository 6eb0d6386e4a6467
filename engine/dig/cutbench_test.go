package dig

import (
	"math"
	"strconv"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/unit"
)

// benchSite is n digs on a grid of 16 m with sides of 1:1, every fourth so long
// that it runs into its neighbour, on ground of about 250 000 triangles.
func benchSite(tb testing.TB, n int) ([]CutSurface, ground.Surface) {
	tb.Helper()
	const step = 1.5
	var shots []ground.Shot
	for i := range 354 {
		for j := range 354 {
			x := float64(i)*step + 0.3*math.Sin(float64(7*i+13*j))
			y := float64(j)*step + 0.3*math.Cos(float64(11*i-5*j))
			shots = append(shots, ground.Shot{At: geom.Point{X: x, Y: y}, Z: 0.02*x + 0.3*math.Sin(x/9)*math.Cos(y/7)})
		}
	}
	g, _, err := ground.Build(shots, nil, ground.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	cuts := make([]CutSurface, n)
	for i := range cuts {
		x := pit(3, 4, 0, 1)
		x.ID = "P" + strconv.Itoa(i)
		x.At = geom.Point{X: 12 + 16*float64(i%32), Y: 12 + 16*float64(i/32)}
		if i%4 == 0 {
			x.Size[0] = 14
		}
		z, _ := g.Height(x.At)
		x.Bottom.Elevation = unit.Elevation(z - 2)
		d, err := Resolve(x, Site{})
		if err != nil {
			tb.Fatal(err)
		}
		cuts[i] = d.CutSurface()
	}
	return cuts, g
}

// BenchmarkExcavateThousand measures all volumes, shares and top edges of 1 000
// digs on ground of 250 000 triangles. Aim: under 2 s on two cores.
func BenchmarkExcavateThousand(b *testing.B) {
	cuts, g := benchSite(b, 1000)
	b.ReportAllocs()
	for b.Loop() {
		all := ExcavateAll(cuts, g)
		for i := range all {
			if !all[i].Known() || all[i].Top == nil {
				b.Fatalf("dig %d: missing %v, top edge %v", i, all[i].Missing, all[i].Top)
			}
		}
	}
}
