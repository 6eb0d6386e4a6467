package estimate_test

import (
	"errors"
	"fmt"

	"spadework/engine/estimate"
)

// Two benchmarks and a hub between them, each rise known to 2 mm.
func ExampleLeastSquares() {
	weight := 1 / (0.002 * 0.002)
	hub := []estimate.Term{{Unknown: 0, Coefficient: 1}}
	s, err := estimate.LeastSquares(estimate.Problem{Unknowns: 1, Observations: []estimate.Observation{
		{Terms: hub, Value: 100.000 + 1.234, Weight: weight},
		{Terms: hub, Value: 103.000 - 1.763, Weight: weight},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("hub %.4f m ± %.1f mm\n", s.X[0], 1000*s.StandardError(hub...))
	// Output: hub 101.2355 m ± 1.4 mm
}

func ExampleDeficient() {
	_, err := estimate.LeastSquares(estimate.Problem{Unknowns: 2, Observations: []estimate.Observation{
		{Terms: []estimate.Term{{Unknown: 0, Coefficient: 1}}, Value: 101.2, Weight: 1},
	}})
	var open *estimate.Deficient
	fmt.Println(errors.As(err, &open), err)
	// Output: true the observations do not determine unknowns [1]
}

// A beam's height error h and tilt: two backsights tell the height between
// them, not beyond to the side.
func ExampleInformation() {
	weight := 1 / (0.002 * 0.002)
	beam := func(x, y float64) []estimate.Term {
		return []estimate.Term{{Unknown: 0, Coefficient: 1}, {Unknown: 1, Coefficient: x}, {Unknown: 2, Coefficient: y}}
	}
	in := estimate.NewInformation(3)
	for _, o := range []estimate.Observation{
		{Terms: beam(-20, 0), Value: 0.001, Weight: weight},
		{Terms: beam(20, 0), Value: 0.003, Weight: weight},
	} {
		if err := in.Observe(o); err != nil {
			fmt.Println(err)
			return
		}
	}
	b := in.Belief()
	midway, ok := b.Of(beam(0, 0)...)
	fmt.Printf("midway %.1f mm, known %v\n", 1000*midway.Mean, ok)
	_, ok = b.Of(beam(0, 30)...)
	fmt.Printf("off to the side, known %v\n", ok)
	// Output:
	// midway 2.0 mm, known true
	// off to the side, known false
}
