package unit_test

import (
	"fmt"

	"spadework/engine/unit"
)

func ExampleParseLength() {
	for _, text := range []string{"16 in", `2'-4 1/2"`, "2-4-1/2", "1.33'", "410 mm", "0,41 m", "5 1/2"} {
		l, err := unit.ParseLength(text, unit.Feet)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%s is %.4f m\n", text, float64(l))
	}
	// Output:
	// 16 in is 0.4064 m
	// 2'-4 1/2" is 0.7239 m
	// 2-4-1/2 is 0.7239 m
	// 1.33' is 0.4054 m
	// 410 mm is 0.4100 m
	// 0,41 m is 0.4100 m
	// length: ambiguous: "5 1/2": 5 1/2 in (0.1397 m) | 5 1/2 ft (1.6764 m)
}

func ExampleParseSlope() {
	style := unit.Style{}
	for _, text := range []string{"1/4 in/ft", "2 %", "1:80", "2 in/100 ft"} {
		s, err := unit.ParseSlope(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%s is %d/%d, %s\n", s, s.Rise, s.Run, style.Grade(s.Grade()))
	}
	// Output:
	// 1/4 in/ft is 1/48, 2.083 %
	// 2 % is 1/50, 2 %
	// 1:80 is 1/80, 1.25 %
	// 2 in/100 ft is 1/600, 0.167 %
}

func ExampleStyle_Reading() {
	rod := 4*unit.Foot + 10.375*unit.Inch
	for _, face := range []unit.Face{unit.FaceInches, unit.FaceTenths, unit.FaceMetric} {
		fmt.Println(unit.Style{Face: face}.Reading(unit.Reading(rod)))
	}
	// Output:
	// 4'-10 3/8"
	// 4.86
	// 1.483
}

func ExampleStyle_Split() {
	f, ok := unit.Style{Fraction: 8}.Split(28.5 * unit.Inch)
	fmt.Println(f.Feet, f.Inches, f.Num, f.Den, ok)
	// Output: 2 4 1 2 true
}
