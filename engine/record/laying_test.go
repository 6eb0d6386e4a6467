package record_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/exchange"
)

// laid is a sewer of 50 ft designed from 121.78 to 120.69, under a beam at 125.
const laid = `[job]
name = "laid"
units = "ft"
curvature = "none"
[[benchmark]]
id = "BM"
at = [0, 10]
elevation = 120
[ground]
level = 124
[[laser]]
id = "L"
accuracy = '1"'
range = 900
[[rod]]
id = "R"
face = "tenths"
longest = 16
[[setup]]
tag = "A"
at = [0, 10]
backsights = [{ benchmark = "BM", rod = 5 }]
[[excavation]]
id = "S"
kind = "trench"
line = [[0, 0], [50, 0]]
width = 2
inverts = [{ station = 0, invert = 121.78 }, { station = 50, invert = 120.69 }]
tolerance = "%s"
`

// TestAConstructedLaying: built 121.80, 121.26 at mid, 120.68 is off +0.02, +0.025 and
// −0.01 ft, which keeps 1/2 in and at mid not 1/4 in (constructed; the tolerances are
// those of the Carmel CA and Depoe Bay OR standards, read).
func TestAConstructedLaying(t *testing.T) {
	for _, c := range []struct {
		tolerance string
		in        [3]bool
	}{{"1/2 in", [3]bool{true, true, true}}, {"1/4 in", [3]bool{true, false, true}}} {
		j, _, err := exchange.ReadJob("job.toml", fmt.Appendf(nil, laid, c.tolerance), func(string) ([]byte, error) { return nil, errors.New("no files") })
		if err != nil {
			t.Fatal(err)
		}
		p, f := plan.Make(j)
		if f != nil {
			t.Fatal(f)
		}
		var shots []record.Shot
		for i, built := range []float64{121.80, 121.26, 120.68} {
			reading := unit.Reading(125-built) * unit.Reading(unit.Foot)
			shots = append(shots, record.Shot{Excavation: "S", Setup: "A", Reading: &reading, Station: station(25 * i)})
		}
		judged, f := record.Judge(p, shots)
		if f != nil {
			t.Fatal(f)
		}
		for i, off := range []float64{0.02, 0.025, -0.01} {
			g := judged[i]
			if !(math.Abs(float64(g.Deviation)/float64(unit.Foot)-off) <= 1e-9) || g.Within != c.in[i] {
				t.Errorf("%s: shot %d is %.4f ft off, in %v; want %g ft, %v", c.tolerance, i, float64(g.Deviation)/float64(unit.Foot), g.Within, off, c.in[i])
			}
		}
	}
}

// station is one of printed feet.
func station(feet int) *unit.Station {
	s := unit.Station(feet) * unit.Station(unit.Foot)
	return &s
}
