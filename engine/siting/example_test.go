package siting_test

import (
	"fmt"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/reception"
	"spadework/engine/siting"
)

// Level ground at 100.00 with a long wall, a footing on each side of it and one
// too far from anywhere: three places, of which one sees past the end of the wall.
func Example() {
	field, err := reception.New(reception.Site{Ground: ground.Level(100), Range: 60,
		Obstacles: []reception.Obstacle{{ID: "wall", Outline: geom.Ring{{X: 20, Y: -50}, {X: 21, Y: -50}, {X: 21, Y: 10}, {X: 20, Y: 10}}, Top: 104}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	footing := func(id string, x float64) siting.Cell {
		return siting.Cell{ID: id, Gradients: []int{0},
			Targets: []reception.Target{{At: geom.Point{X: x}, Bottom: 98.8, Lowest: 0.3, Highest: 4}}}
	}
	p := siting.Problem{
		Gradients:  []geom.Vector{{}},
		Cells:      []siting.Cell{footing("F1", 10), footing("F2", 32), footing("F3", 200)},
		Benchmarks: []reception.Target{{At: geom.Point{X: 5, Y: 30}, Bottom: 100, Lowest: 0.3, Highest: 4}},
		Need:       1,
		Receiver:   field,
	}
	for _, at := range []geom.Point{{X: 0}, {X: 40}, {X: 20, Y: 20}} {
		p.Places = append(p.Places, siting.Place{At: at, Low: 101.2, High: 101.9})
	}
	s, fault := siting.New(p, 0)
	if fault != nil {
		fmt.Println(fault)
		return
	}
	for !s.Step(1_000_000) {
		// Tell s.Stage(), or stop and take s.Best() as it is.
	}
	for _, u := range s.Best() {
		fmt.Printf("at %v, beam %.2f to %.2f, cells %v, backsights on %v\n", u.At, u.Low, u.High, u.Cells, u.Benchmarks)
	}
	fmt.Println("proven fewest:", s.Proof().Proven)
	for _, m := range s.Infeasible() {
		fmt.Printf("%s: %.0f m too far from %v\n", p.Cells[m.Cell].ID, m.Reception.By, m.Place)
	}
	// Output:
	// at {20 20}, beam 101.20 to 101.90, cells [0 1], backsights on [0]
	// proven fewest: true
	// F3: 100 m too far from {40 0}
}
