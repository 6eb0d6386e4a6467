package dig_test

import (
	"fmt"

	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/pipe"
	"spadework/engine/unit"
)

// Every survey surface serves as the ground of a dig.
var _ dig.Ground = ground.Surface(nil)

func ExampleResolve() {
	footing := dig.Excavation{
		ID: "F7", Kind: dig.Footing, Words: "B/FTG 16 in BELOW FFL",
		At: geom.Point{X: 12, Y: 8}, Size: [2]unit.Length{1.5, 1.5},
		Bottom:    dig.Bottom{Rule: dig.BelowDatum, Datum: dig.Datum{ID: "FFL", Elevation: 104.5}, Depth: 16 * unit.Inch},
		Blinding:  100 * unit.Millimetre,
		Working:   450 * unit.Millimetre,
		Tolerance: &dig.Tolerance{Above: 10 * unit.Millimetre, Below: 25 * unit.Millimetre},
	}
	d, err := dig.Resolve(footing, dig.Site{})
	if err != nil {
		fmt.Println(err)
		return
	}
	p := d.Parts[0]
	fmt.Println(p.Trace.Words)
	fmt.Println(p.Trace.Message().Render(phrase.English, unit.Style{}))
	fmt.Printf("dug %.2f m², concrete %.2f m²\n", p.Outline.Area(), p.Neat.Area())
	// Output:
	// B/FTG 16 in BELOW FFL
	// 104.500 m FFL − 0.406 m below − 0.100 m blinding = 103.994 m
	// dug 5.76 m², concrete 2.25 m²
}

func ExampleDig_Points() {
	trench := dig.Excavation{
		ID: "D1", Kind: dig.Trench, Words: "INV 98.000 @ 1:100",
		Line: []geom.Point{{X: 0}, {X: 20}, {X: 20, Y: 15}}, Width: 0.6,
		Bottom: dig.Bottom{Rule: dig.ByInvert}, Fall: 0.01,
		Inverts:   []dig.Invert{{Station: 0, In: 98, Out: 98}},
		Pipe:      &pipe.Section{Outside: 160 * unit.Millimetre, Wall: 5 * unit.Millimetre},
		Bedding:   100 * unit.Millimetre,
		Tolerance: &dig.Tolerance{Above: 10 * unit.Millimetre, Below: 10 * unit.Millimetre},
	}
	d, err := dig.Resolve(trench, dig.Site{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, n := range d.Points(10 * unit.Metre) {
		fmt.Printf("%s %5.1f %.3f\n", n.Name, float64(n.Station), float64(n.Bottom))
	}
	// Output:
	// start   0.0 97.895
	// along-1  10.0 97.795
	// bend-1  20.0 97.695
	// along-2  30.0 97.595
	// end  35.0 97.545
}
