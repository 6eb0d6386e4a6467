package sheet

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"spadework/engine/plan"
	"spadework/exchange"
)

// benchHead is a job without digs, its ground level, all conditions told.
const benchHead = `[job]
name = "Five hundred footings"
drawing = "S-1"
revision = "A"
units = "ft"
[[datum]]
id = "FFL"
elevation = 104.5
[[benchmark]]
id = "BM1"
at = [-10, -10]
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
range = 900
[[rod]]
id = "R1"
face = "inches"
longest = 16
[[utility]]
id = "W"
kind = "water"
line = [[-30, -30], [-30, 400]]
size = "2 in"
ticket = "t"
marked_on = 2026-05-04
expires = 2026-05-18
private_locate = true
[[setup]]
tag = "A1"
at = [120, -20]
backsights = [{ benchmark = "BM1", rod = "6'-4 1/4\"" }]
`

// cardsJob is a job of n footings on a grid.
func cardsJob(n int) string {
	var b strings.Builder
	b.WriteString(benchHead)
	for i := range n {
		fmt.Fprintf(&b, "[[excavation]]\nid = \"F%d\"\nkind = \"footing\"\nwords = \"T/FTG 2'-4 1/2\\\" below FFL, 12 in thick\"\nat = [%d, %d]\nsize = [4, 6]\n"+
			"bottom = { top = \"-2'-4 1/2\\\"\", datum = \"FFL\", thickness = \"12 in\" }\nsides_at = { working = \"1 ft\" }\ntolerance = { above = 0, below = \"1 in\" }\n", i+1, 14*(i%25), 14*(i/25))
	}
	return b.String()
}

// BenchmarkFiveHundredCards prints a dig card for each of 500 footings into one
// PDF, from the bytes of the job file on.
func BenchmarkFiveHundredCards(b *testing.B) {
	text := []byte(cardsJob(500))
	b.ReportAllocs()
	for b.Loop() {
		j, _, err := exchange.ReadJob("job.toml", text, nil)
		if err != nil {
			b.Fatal(err)
		}
		p, fault := plan.Make(j)
		if fault != nil {
			b.Fatal(fault)
		}
		d, fault := Book(p, View{j.Language, j.Style}, BookOptions{Parts: []Part{DigPart}, Address: withCodes})
		if fault != nil {
			b.Fatal(fault)
		}
		pdf := PDF(d)
		b.ReportMetric(float64(len(pdf))/1e6, "MB-PDF")
		b.ReportMetric(float64(len(d.Pages)), "pages")
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.Sys)/1e6, "MB-of-system")
}
