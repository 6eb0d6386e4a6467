package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"spadework/engine/plan"
	"spadework/exchange"
)

// wideYard is a job of n digs 16 m apart with sides of 1:1, every fourth so long that it runs into
// its neighbour, every eighth a trench with a pipe, on ground of about 250 000 triangles.
func wideYard(n int) (text, points string) {
	var b, c strings.Builder
	b.WriteString(strings.Replace(yard, "level = 0\n", "points = \"ground.csv\"\n", 1))
	c.WriteString("x,y,z\n")
	height := func(x, y float64) float64 { return 0.02*x + 0.3*math.Sin(x/9)*math.Cos(y/7) }
	for i := range 354 {
		for j := range 354 {
			x := float64(i)*1.5 + 0.3*math.Sin(float64(7*i+13*j))
			y := float64(j)*1.5 + 0.3*math.Cos(float64(11*i-5*j))
			fmt.Fprintf(&c, "%.4f,%.4f,%.4f\n", x, y, height(x, y))
		}
	}
	for i := range n {
		x, y := 12+16*float64(i%32), 12+16*float64(i/32)
		z := height(x, y) - 2
		long := 3
		if i%4 == 0 {
			long = 14
		}
		if i%8 == 3 {
			fmt.Fprintf(&b, "[[excavation]]\nid = \"T%d\"\nkind = \"trench\"\nline = [[%g, %g], [%g, %g]]\nwidth = 0.8\nbedding = 0.1\nbottom = { elevation = %.4f }\nfall = \"1 %%\"\nsides = \"0.5:1\"\ntolerance = \"10 mm\"\npipe = { outside = \"210 mm\", wall = \"5 mm\" }\n",
				i, x-6, y, x+6, y, z)
			continue
		}
		fmt.Fprintf(&b, "[[excavation]]\nid = \"P%d\"\nkind = \"footing\"\nat = [%g, %g]\nsize = [%d, 4]\nconcrete = 0.5\nblinding = 0.05\nbottom = { elevation = %.4f }\nsides = \"1:1\"\ntolerance = \"20 mm\"\n", i, x, y, long, z)
	}
	return b.String(), c.String()
}

// BenchmarkQuantitiesThousand measures all quantities of a site: volumes, shares, top edges,
// hand methods, bills, hauls, times and heaps of 1 000 digs. Aim: under 2 s on two cores.
func BenchmarkQuantitiesThousand(b *testing.B) {
	text, points := wideYard(1000)
	j, _, err := exchange.ReadJob("job.toml", []byte(text), func(string) ([]byte, error) { return []byte(points), nil })
	if err != nil {
		b.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		b.Fatal(f)
	}
	b.ReportAllocs()
	for b.Loop() {
		p.Measure()
		if q := p.Quantities; q == nil || len(q.Unknown) > 0 || !(q.Bank > 10_000) {
			b.Fatalf("quantities %+v", q)
		}
	}
}
