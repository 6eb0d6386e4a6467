package watch_test

import (
	"fmt"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// A self-levelling laser was set up on two benchmarks; at ten the first reads
// 18 mm off.
func ExampleJudge() {
	two := 2 * unit.Millimetre
	log := watch.Log{
		Setup: watch.Setup{At: geom.Point{X: 30, Y: 20}},
		Habits: watch.Habits{
			Bumps:   []watch.Bump{{Kind: watch.HeightJump, Rate: 0.125, Height: 10 * unit.Millimetre}},
			Misread: 0.002, MisreadBy: 50 * unit.Millimetre,
		},
		Points: []watch.Point{
			{ID: "BM1", Known: true, Sigma: two}, {ID: "BM2", At: geom.Point{X: 60, Y: 40}, Known: true, Sigma: two},
		},
		Readings: []watch.Reading{
			{Point: "BM1", Sigma: two}, {Point: "BM2", Sigma: two},
			{At: 3, Point: "BM1", Off: 18 * unit.Millimetre, Sigma: two},
		},
		Digs: []watch.Dig{{ID: "F1", At: geom.Point{X: 20, Y: 20}, Dug: 2.5, Band: beam.Band{Above: 12 * unit.Millimetre, Below: 12 * unit.Millimetre}}},
	}
	v, _ := watch.Judge(log, watch.DefaultLimit)
	fmt.Println(v.State, v.State.Numbers())
	for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
		for _, m := range v.Do {
			fmt.Println(m.Render(lang, unit.Style{}))
		}
	}
	// Output:
	// read_again false
	// stop digging to this beam: the last close does not fit
	// read the rod on BM1 again
	// deje de excavar con este rayo: el último cierre no cuadra
	// lea la mira en BM1 otra vez
}
