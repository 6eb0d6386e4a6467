package record_test

import (
	"math"
	"slices"
	"testing"

	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/exchange"
)

const holes = `[job]
name = "holes"
units = "ft"
[[benchmark]]
id = "BM"
at = [0, 0]
elevation = 100
[ground]
level = 100
[risk]
cost_over = 150
cost_trim = 25
[[laser]]
id = "L"
accuracy = '10"'
range = 900
[[rod]]
id = "R"
face = "inches"
longest = 16
[[setup]]
tag = "A"
at = [10, 10]
hi = 105
[[excavation]]
id = "F6"
kind = "footing"
at = [0, 20]
size = [6, 9]
bottom = { elevation = 96 }
concrete = 2
tolerance = "1/2 in"
[[excavation]]
id = "F8"
kind = "footing"
at = [30, 20]
size = [6, 9]
bottom = { elevation = 96 }
concrete = 2
tolerance = "1/2 in"
[[excavation]]
id = "F9"
kind = "footing"
at = [60, 20]
size = [6, 9]
bottom = { elevation = 96 }
concrete = 2
tolerance = "1/2 in"
`

// Three footings of 6 × 9 × 2 ft, 4 yd³ each, plain arithmetic: F6 is over-dug 3 in
// at both shots, F8 6 in at one and 3 in high at the other, which takes nothing off
// and so is 3 in in the mean; F9 is not shot.
func TestHolesAsDug(t *testing.T) {
	j, _, err := exchange.ReadJob("job.toml", []byte(holes), nil)
	if err != nil {
		t.Fatal(err)
	}
	p, fault := plan.Make(j)
	if fault != nil {
		t.Fatal(fault)
	}
	shot := func(id, at string, call record.Call, inches float64) record.Shot {
		return record.Shot{Excavation: id, Setup: "A", Point: at, Call: call, Amount: unit.Length(inches) * unit.Inch}
	}
	results, fault := record.Judge(p, []record.Shot{
		shot("F6", "", record.Low, 3), shot("F6", "corner-1", record.Low, 3),
		shot("F8", "", record.Low, 6), shot("F8", "corner-2", record.High, 3),
	})
	if fault != nil {
		t.Fatal(fault)
	}
	got, order := record.HolesAsDug(p, results)
	over := 2 * 54 * 0.25 / 27 * float64(unit.CubicYard) // 3 in over 54 ft², twice
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"order", float64(order.Concrete), 12*float64(unit.CubicYard) + over},
		{"over-dig", float64(order.OverConcrete), over},
		{"cost", *order.Cost, 150*over + 25},
		{"F6", float64(got[0].Over), float64(3 * unit.Inch)},
		{"F8", float64(got[1].Over), float64(3 * unit.Inch)},
	} {
		if !(math.Abs(c.got-c.want) <= 1e-5) {
			t.Errorf("%s = %.9g, want %.9g (tol 1e-5: elevations are snapped to 1e-6 m)", c.name, c.got, c.want)
		}
	}
	if !slices.Equal(order.Over, []string{"F6", "F8"}) || !slices.Equal(order.Unshot, []string{"F9"}) || got[1].High != 1 {
		t.Errorf("over-dug %v, not shot %v, high in F8 %d", order.Over, order.Unshot, got[1].High)
	}
}
