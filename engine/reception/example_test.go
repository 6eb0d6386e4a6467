package reception_test

import (
	"fmt"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// A level site at 100.00 with a shed, and footings 1.20 m deep read with a rod
// of 0.30 to 3.00 m.
func Example() {
	field, err := reception.New(reception.Site{
		Ground:    ground.Level(100),
		Obstacles: []reception.Obstacle{{ID: "shed", Outline: geom.Ring{{X: 20, Y: -3}, {X: 24, Y: -3}, {X: 24, Y: 3}, {X: 20, Y: 3}}, Top: 102.5}},
		Range:     60,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	rod := func(x, y float64) reception.Target {
		return reception.Target{At: geom.Point{X: x, Y: y}, Bottom: 98.8, Lowest: 0.3, Highest: 3, Guidance: beam.ByRod}
	}
	targets := []reception.Target{rod(15, 0), rod(40, 0), rod(70, 0)}
	var s reception.Scratch
	for _, w := range field.From(reception.Laser{}, targets, &s) {
		if w.Open() {
			fmt.Printf("beam from %.3f to %.3f\n", w.Low, w.High)
			continue
		}
		fmt.Println(w.Why.Message().Render(phrase.English, unit.Style{}))
	}
	fmt.Println(field.Why(reception.Laser{}, 102, targets[0]).Message().Render(phrase.Spanish, unit.Style{}))
	// Output:
	// beam from 100.000 to 101.800
	// hidden by "shed" at 20.000 m east, 0.000 m north: to clear it the beam must be 0.700 m higher than the rod reaches
	// too far from the laser by 10.000 m
	// el rayo va 0.200 m demasiado alto para la mira
}
