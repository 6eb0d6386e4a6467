package dig

import (
	"strconv"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/ground"
)

// BenchmarkResolveFootings resolves 10 000 footings below a datum with working
// space on level ground.
func BenchmarkResolveFootings(b *testing.B) {
	xs := make([]Excavation, 10000)
	for i := range xs {
		xs[i] = footing()
		xs[i].ID = "F" + strconv.Itoa(i)
		xs[i].At = geom.Point{X: float64(i%100) * 5, Y: float64(i/100) * 5}
		xs[i].Bottom = Bottom{Rule: BelowDatum, Depth: 1.2, Datum: Datum{"FFL", 100}}
		xs[i].Working, xs[i].Blinding = 0.45, 0.05
	}
	site := Site{Existing: ground.Level(100)}
	b.ReportAllocs()
	for b.Loop() {
		for i := range xs {
			if _, err := Resolve(xs[i], site); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// BenchmarkResolveTrench resolves one trench of 200 legs by cover.
func BenchmarkResolveTrench(b *testing.B) {
	x := coverTrench()
	x.Line = nil
	for i := 0; i <= 200; i++ {
		x.Line = append(x.Line, geom.Point{X: float64(i) * 5, Y: float64(i % 2)})
	}
	site := Site{Existing: ground.Level(100)}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Resolve(x, site); err != nil {
			b.Fatal(err)
		}
	}
}
