package cover_test

import (
	"fmt"

	"spadework/engine/cover"
)

// Three places on a site see these of six digs; the last is seen from nowhere.
func ExampleNew() {
	s, err := cover.New(cover.Problem{Elements: 6, Sets: [][]int32{{0, 1, 2}, {1, 3}, {2, 3, 4}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for !s.Step(1_000_000) {
	}
	fmt.Println("places", s.Best().Sets, "proven", s.Proven(), "unseen digs", s.Infeasible())
	// Output: places [0 2] proven true unseen digs [5]
}
