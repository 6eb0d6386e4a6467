package route_test

import (
	"fmt"

	"spadework/engine/route"
)

// Five stands along a trench, at metres from the gate, in no order.
func Example() {
	at := []float64{0, 40, 10, 30, 20}
	cost := make([][]float64, len(at))
	for i, a := range at {
		for _, b := range at {
			cost[i] = append(cost[i], max(a-b, b-a))
		}
	}
	r := route.New(cost, 0)
	r.Step(100)
	fmt.Println(r.Best())
	// Output:
	// [0 2 4 3 1]
}
