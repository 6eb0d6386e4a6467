package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"spadework/engine/plan"
	"spadework/exchange"
)

// head is a job without digs.
const head = `[job]
name = "bench"
units = "ft"
[[datum]]
id = "FFL"
elevation = 104.5
[[benchmark]]
id = "BM1"
at = [0, 0]
elevation = 101.37
[ground]
level = 102.3
[rules]
competent_person = "somebody"
[conditions]
fissured = false
vibration = false
disturbed = false
water = false
surcharge = false
people = true
air_hazard = false
support = "none"
open_hours = 20
way_out = 20
[[laser]]
id = "L1"
accuracy = '10"'
range = 9000
[[rod]]
id = "R1"
face = "inches"
longest = 16
[[setup]]
tag = "A1"
at = [50, 0]
backsights = [{ benchmark = "BM1", rod = "6'-4 1/4\"" }]
`

// bigJob is a job of n footings, in the file itself or in a schedule.
func bigJob(n int, schedule bool) (text, table string) {
	var b, c strings.Builder
	b.WriteString(head)
	c.WriteString("id,x,y,width,length,below,datum\n")
	for i := range n {
		x, y := 10*(i%100), 10*(i/100)
		fmt.Fprintf(&c, "F%d,%d,%d,4'-6\",6,3'-4 1/2\",FFL\n", i, x, y)
		if !schedule {
			fmt.Fprintf(&b, "[[excavation]]\nid = \"F%d\"\nkind = \"footing\"\nat = [%d, %d]\nsize = [4, 6]\nbottom = { below = \"3'-4 1/2\\\"\", datum = \"FFL\" }\ntolerance = { above = 0, below = \"1 in\" }\n", i, x, y)
		}
	}
	if schedule {
		b.WriteString("[[schedule]]\nfile = \"f.csv\"\nkind = \"footing\"\ntolerance = { above = 0, below = \"1 in\" }\n")
	}
	return b.String(), c.String()
}

// BenchmarkTenThousandDigs plans 10 000 footings from the bytes of the file to
// the JSON. Aim: under 150 ms and 200 MB.
func BenchmarkTenThousandDigs(b *testing.B) {
	for _, c := range []struct {
		name     string
		schedule bool
	}{{"toml", false}, {"schedule", true}} {
		b.Run(c.name, func(b *testing.B) {
			text, table := bigJob(10_000, c.schedule)
			b.ReportAllocs()
			for b.Loop() {
				j, _, err := exchange.ReadJob("job.toml", []byte(text), func(string) ([]byte, error) { return []byte(table), nil })
				if err != nil {
					b.Fatal(err)
				}
				p, f := plan.Make(j)
				if f != nil {
					b.Fatal(f)
				}
				if out := p.AppendJSON(nil); len(out) < 1_000_000 || len(p.Numbers) != 10_000 {
					b.Fatalf("%d bytes, %d numbers", len(out), len(p.Numbers))
				}
			}
		})
	}
}
