package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"spadework/engine/plan"
	"spadework/exchange"
)

// siteGround is a survey of n × n points over 400 × 400 m, rolling by 3 m.
func siteGround(n int) string {
	var b strings.Builder
	b.WriteString("x,y,z\n")
	for r := range n {
		for c := range n {
			x, y := 400*float64(c)/float64(n-1), 400*float64(r)/float64(n-1)
			fmt.Fprintf(&b, "%.3f,%.3f,%.3f\n", x, y, 100+1.5*math.Sin(x/37)+1.5*math.Cos(y/41))
		}
	}
	return b.String()
}

// siteBench is a job of some digs on a survey of points, without a set-up.
func siteBench(digs, points int) (text, table string) {
	var b strings.Builder
	fmt.Fprintf(&b, strings.Replace(strings.Replace(siteHead, "level = 100", "points = \"ground.csv\"", 1), "range = 60", "range = 150", 1), 200, 200)
	b.WriteString("[closes]\nbenchmarks = 1\n")
	for i := range 8 {
		fmt.Fprintf(&b, "[[benchmark]]\nid = \"B%d\"\nat = [%d, %d]\nelevation = 101\n", i, 30+50*i, 30+(i*137)%340)
	}
	across := int(math.Ceil(math.Sqrt(float64(digs))))
	for i := range digs {
		x, y := 10+380*float64(i%across)/float64(across), 10+380*float64(i/across)/float64(across)
		z := 99.2 + 1.5*math.Sin(x/37) + 1.5*math.Cos(y/41)
		b.WriteString(sitePad(fmt.Sprintf("P%d", i+1), x, y, z))
	}
	return b.String(), siteGround(points)
}

// BenchmarkSetupsOfAJob plans the set-ups of 500 digs on 200 000 points from
// 2 000 places, and a quarter and a sixteenth of the digs and points.
func BenchmarkSetupsOfAJob(b *testing.B) {
	for _, size := range []struct{ digs, points int }{{31, 112}, {125, 224}, {500, 448}} {
		b.Run(fmt.Sprintf("%d digs, %d points", size.digs, size.points*size.points), func(b *testing.B) {
			text, table := siteBench(size.digs, size.points)
			j, _, err := exchange.ReadJob("job.toml", []byte(text), func(string) ([]byte, error) { return []byte(table), nil })
			if err != nil {
				b.Fatal(err)
			}
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
