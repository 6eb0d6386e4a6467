package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"spadework/engine/plan"
	"spadework/exchange"
)

// tile is the side of the smallest site; larger ones are tiles of it.
const tile = 400.0

// siteGround is a survey of n × n points over a square site, rolling by 3 m.
func siteGround(n int, side float64) string {
	var b strings.Builder
	b.WriteString("x,y,z\n")
	for r := range n {
		for c := range n {
			x, y := side*float64(c)/float64(n-1), side*float64(r)/float64(n-1)
			fmt.Fprintf(&b, "%.3f,%.3f,%.3f\n", x, y, 100+1.5*math.Sin(x/37)+1.5*math.Cos(y/41))
		}
	}
	return b.String()
}

// siteBench is a job of some digs on a survey of points over tiles × tiles of 400
// × 400 m, without a set-up.
func siteBench(digs, points, tiles int) (text, table string) {
	var b strings.Builder
	fmt.Fprintf(&b, strings.Replace(strings.Replace(siteHead, "level = 100", "points = \"ground.csv\"", 1), "range = 60", "range = 150", 1), 200, 200)
	b.WriteString("[closes]\nbenchmarks = 1\n")
	for i := range 8 * tiles * tiles {
		east, north := tile*float64(i/8%tiles), tile*float64(i/8/tiles)
		fmt.Fprintf(&b, "[[benchmark]]\nid = \"B%d\"\nat = [%g, %g]\nelevation = 101\n", i, east+float64(30+50*(i%8)), north+float64(30+(i%8*137)%340))
	}
	across := int(math.Ceil(math.Sqrt(float64(digs))))
	side := tile * float64(tiles)
	for i := range digs {
		x, y := 10+(side-20)*float64(i%across)/float64(across), 10+(side-20)*float64(i/across)/float64(across)
		z := 99.2 + 1.5*math.Sin(x/37) + 1.5*math.Cos(y/41)
		b.WriteString(sitePad(fmt.Sprintf("P%d", i+1), x, y, z))
	}
	return b.String(), siteGround(points, side)
}

// BenchmarkSetupsOfAJob plans the set-ups of 500 digs on 200 000 points from
// 2 000 places, a quarter and a sixteenth of the digs and points on the same site,
// and four and sixteen times the digs, points and ground. The places stay 2 000.
func BenchmarkSetupsOfAJob(b *testing.B) {
	for _, size := range []struct{ digs, points, tiles int }{{31, 112, 1}, {125, 224, 1}, {500, 448, 1}, {2000, 896, 2}, {8000, 1792, 4}} {
		b.Run(fmt.Sprintf("%d digs, %d points", size.digs, size.points*size.points), func(b *testing.B) {
			text, table := siteBench(size.digs, size.points, size.tiles)
			j, _, err := exchange.ReadJob("job.toml", []byte(text), func(string) ([]byte, error) { return []byte(table), nil })
			if err != nil {
				b.Fatal(err)
			}
			b.ResetTimer()
			for b.Loop() {
				p, fault := plan.Make(j)
				if fault != nil {
					b.Fatal(fault)
				}
				b.ReportMetric(float64(p.Siting.Count), "set-ups")
				b.ReportMetric(float64(p.Siting.Bound), "bound")
				b.ReportMetric(float64(p.Siting.Candidates), "candidates")
				b.ReportMetric(float64(len(p.Unserved)), "unserved")
			}
		})
	}
}
