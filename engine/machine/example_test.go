package machine_test

import (
	"fmt"

	"spadework/engine/machine"
	"spadework/engine/unit"
)

func ExampleSheet_Envelope() {
	e, fault := machine.Sheet{MaxReach: 29 * unit.Foot, MaxDepth: 18 * unit.Foot, LevelDepth: 17 * unit.Foot}.Envelope()
	if fault != nil {
		fmt.Println(fault)
		return
	}
	s, ok := e.Span(6 * unit.Foot)
	fmt.Printf("%.2f to %.2f ft, %v\n", s.Near/unit.Foot, s.Far/unit.Foot, ok)
	// Output: 14.50 to 24.17 ft, true
}
