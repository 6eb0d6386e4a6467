package ground_test

import (
	"fmt"

	"spadework/engine/geom"
	"spadework/engine/ground"
)

// slope is a yard of 20 × 10 m that rises 2 cm a metre to the east.
func slope() (*ground.TIN, ground.Report) {
	shot := func(x, y, z float64) ground.Shot { return ground.Shot{At: geom.Point{X: x, Y: y}, Z: z} }
	tin, report, err := ground.Build([]ground.Shot{
		shot(0, 0, 100), shot(20, 0, 100.4), shot(20, 10, 100.4), shot(0, 10, 100),
		shot(0, 0, 100), // shot twice
	}, nil, ground.Options{})
	if err != nil {
		panic(err)
	}
	return tin, report
}

func ExampleBuild() {
	tin, report := slope()
	fmt.Println(report.Points, "points,", report.Triangles, "triangles,", report.Merged, "merged")
	z, ok := tin.Height(geom.Point{X: 5, Y: 5})
	fmt.Printf("%.2f m %v\n", z, ok)
	_, ok = tin.Height(geom.Point{X: 25, Y: 5})
	fmt.Println("25 m east:", ok)
	// Output:
	// 4 points, 2 triangles, 1 merged
	// 100.10 m true
	// 25 m east: false
}

func ExampleNewGrid() {
	grid, err := ground.NewGrid(ground.GridData{DX: 5, DY: 5, Cols: 3, Rows: 2, Z: []float64{
		10, 10, 10, // the south
		11, 11, 11,
	}})
	if err != nil {
		panic(err)
	}
	z, _ := grid.Height(geom.Point{X: 2, Y: 2.5})
	fmt.Printf("%.2f m\n", z)
	// Output: 10.50 m
}

func ExampleTIN_Profile() {
	tin, _ := slope()
	for _, p := range tin.Profile([]geom.Point{{X: 0, Y: 5}, {X: 20, Y: 5}}) {
		fmt.Printf("%4.1f m: %.2f m\n", p.Station, p.Z)
	}
	// Output:
	//  0.0 m: 100.00 m
	// 10.0 m: 100.20 m
	// 20.0 m: 100.40 m
}

// A sight falling 10 cm a metre meets ground that rises 2 cm a metre.
func ExampleTIN_FirstHit() {
	tin, _ := slope()
	hit := tin.FirstHit(geom.Point3{X: 0, Y: 5, Z: 101.5}, geom.Point3{X: 20, Y: 5, Z: 99.5})
	fmt.Printf("%v, %.1f m out at %.2f m\n", hit.Blocked, hit.At.X, hit.At.Z)
	// Output: true, 12.5 m out at 100.25 m
}

func ExampleTIN_Contour() {
	tin, _ := slope()
	for _, line := range tin.Contour(100.2) {
		for _, p := range line {
			fmt.Printf("%.0f east, %.0f north\n", p.X, p.Y)
		}
	}
	// Output:
	// 10 east, 10 north
	// 10 east, 5 north
	// 10 east, 0 north
}
