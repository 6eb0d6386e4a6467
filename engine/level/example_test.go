package level_test

import (
	"errors"
	"fmt"

	"spadework/engine/level"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// loop is a level book from a benchmark over two turning points and back.
var loop = level.Run{
	Start: level.Mark{Point: "BM1", Elevation: 50.000},
	Close: &level.Mark{Point: "BM1", Elevation: 50.000},
	Lines: []level.Line{
		{Point: "BM1", Back: level.RodAt(1.523, 30)},
		{Point: "hub", Intermediate: level.RodAt(1.210, 12)},
		{Point: "TP1", Fore: level.RodAt(0.871, 30), Back: level.RodAt(1.102, 35)},
		{Point: "TP2", Fore: level.RodAt(1.640, 35), Back: level.RodAt(1.431, 25)},
		{Point: "BM1", Fore: level.RodAt(1.539, 25)},
	},
}

func ExampleReduce() {
	r, err := level.Reduce(loop)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, row := range r.Rows {
		fmt.Printf("%-4s %.3f m\n", row.Point, row.Elevation)
	}
	fmt.Printf("misclosure %.0f mm, page check %.3f m\n", r.Misclosure/unit.Millimetre, r.PageCheck())
	// Output:
	// BM1  50.000 m
	// hub  50.313 m
	// TP1  50.652 m
	// TP2  50.114 m
	// BM1  50.006 m
	// misclosure 6 mm, page check 0.000 m
}

func ExampleReduce_fault() {
	_, err := level.Reduce(level.Run{
		Start: level.Mark{Point: "BM1", Elevation: 50},
		Lines: []level.Line{{Point: "TP1", Fore: level.Rod(1.2)}},
	})
	var fault *phrase.Fault
	if errors.As(err, &fault) {
		fmt.Println(fault)
		fmt.Println("hint:", fault.Remedy.Render(phrase.English, unit.Style{}))
	}
	// Output:
	// lines[1]: a foresight on "TP1" without a backsight before it
	// hint: every set-up begins with a backsight on a point whose elevation is known or was just read. Was a backsight left out?
}

func ExampleReduction_Adjust() {
	r, err := level.Reduce(loop)
	if err != nil {
		fmt.Println(err)
		return
	}
	adjusted, err := r.Adjust(level.BySetup)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, row := range adjusted.Rows {
		fmt.Printf("%-4s %+.0f mm  %.3f m\n", row.Point, row.Correction/unit.Millimetre, row.Adjusted)
	}
	// Output:
	// BM1  +0 mm  50.000 m
	// hub  -2 mm  50.311 m
	// TP1  -2 mm  50.650 m
	// TP2  -4 mm  50.110 m
	// BM1  -6 mm  50.000 m
}

func ExampleParseRule() {
	r, err := level.Reduce(loop)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, text := range []string{"12 mm √K", "0.05 ft sqrt(M)", "1.5 mm per set-up"} {
		rule, err := level.ParseRule(text)
		if err != nil {
			fmt.Println(err)
			return
		}
		v, err := rule.Judge(r)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %.1f mm of %.1f mm, within: %v\n", rule, v.Misclosure/unit.Millimetre, v.Limit/unit.Millimetre, v.Within)
	}
	// Output:
	// 12 mm √K: 6.0 mm of 5.1 mm, within: false
	// 0.05 ft sqrt(M): 6.0 mm of 5.1 mm, within: false
	// 1.5 mm per set-up: 6.0 mm of 4.5 mm, within: false
}

func ExampleNetwork_Adjust() {
	sigma := 4 * unit.Millimetre // for one kilometre
	n := level.Network{
		Fixed:   []level.Mark{{Point: "BM1", Elevation: 50.000}, {Point: "BM2", Elevation: 52.500}},
		Weights: level.Absolute,
		Differences: []level.Difference{
			{From: "BM1", To: "hub", Rise: 1.204, Weight: level.WeightOf(250*unit.Metre, sigma)},
			{From: "hub", To: "BM2", Rise: 1.299, Weight: level.WeightOf(250*unit.Metre, sigma)},
			{From: "BM1", To: "peg", Rise: 0.480, Weight: level.WeightOf(100*unit.Metre, sigma)},
			{From: "peg", To: "hub", Rise: 0.722, Weight: level.WeightOf(150*unit.Metre, sigma)},
		},
	}
	a, err := n.Adjust()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, h := range a.Heights {
		fmt.Printf("%s %.4f m ± %.1f mm\n", h.Point, h.Elevation, h.StandardError/unit.Millimetre)
	}
	// Output:
	// BM1 50.0000 m ± 0.0 mm
	// BM2 52.5000 m ± 0.0 mm
	// hub 51.2023 m ± 1.2 mm
	// peg 50.4801 m ± 1.1 mm
}

func ExampleNetwork_Loops() {
	n := level.Network{
		Fixed: []level.Mark{{Point: "BM1", Elevation: 50}},
		Differences: []level.Difference{
			{From: "BM1", To: "a", Rise: 1.250, Weight: 1}, {From: "a", To: "b", Rise: 0.300, Weight: 1},
			{From: "b", To: "BM1", Rise: -1.541, Weight: 1},
		},
	}
	loops, err := n.Loops()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range loops {
		fmt.Printf("%v misses by %.0f mm\n", l.Points, l.Misclosure/unit.Millimetre)
	}
	// Output: [BM1 a b BM1] misses by 9 mm
}

func ExamplePegTest_Check() {
	c, err := level.PegTest{
		First:  level.PegSetup{A: level.RodAt(1.612, 20), B: level.RodAt(1.430, 20)},
		Second: level.PegSetup{A: level.RodAt(1.585, 44), B: level.RodAt(1.399, 4)},
	}.Check()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("B lies %.3f m over A; the line of sight rises %.2f mm in 10 m\n", c.Rise, 10000*c.Tilt)
	fmt.Printf("a reading of 1.585 m at 44 m should be %.4f m\n", c.Correct(1.585, 44))
	// Output:
	// B lies 0.182 m over A; the line of sight rises 1.00 mm in 10 m
	// a reading of 1.585 m at 44 m should be 1.5806 m
}

func ExampleFourWay_Check() {
	c, err := level.FourWay{Far: [4]unit.Reading{1.5036, 1.4991, 1.4976, 1.5021}, FarDistance: 30 * unit.Metre}.Check()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("tilt %.2f and %.2f mm/m, together %.1f seconds\n", 1000*c.A, 1000*c.B, unit.Angle(c.Tilt)/unit.ArcSecond)
	// Output: tilt 0.10 and -0.05 mm/m, together 23.1 seconds
}

func ExampleThreeStations_Check() {
	known := 0.2500 * unit.Metre
	c, err := level.ThreeStations{
		Between: 40 * unit.Metre, Beyond: 14.6 * unit.Metre,
		A: 0.2520 * unit.Metre, B: 0.2528 * unit.Metre, C: 0.2512 * unit.Metre, Known: &known,
	}.Check()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("cone %.2f mm/m, tilt %.2f mm/m\n", 1000*c.Cone, 1000*c.Tilt)
	// Output: cone 0.02 mm/m, tilt 0.05 mm/m
}

func ExampleCurvature() {
	for _, d := range []unit.Length{50, 100, 200} {
		fmt.Printf("%v m: %.2f mm\n", float64(d), level.Curvature(d)/unit.Millimetre)
	}
	// Output:
	// 50 m: 0.17 mm
	// 100 m: 0.68 mm
	// 200 m: 2.70 mm
}

func ExampleLeanError() {
	fmt.Printf("%.1f mm\n", level.LeanError(2*unit.Reading(unit.Metre), 2*unit.Degree)/unit.Millimetre)
	// Output: 1.2 mm
}

func ExampleCutByRod() {
	hi := level.HeightOfInstrument(100.000, 1.500)
	grade := level.GradeRod(hi, 98.200)
	fmt.Printf("grade rod %.3f m, still to cut %.3f m\n", grade, level.CutByRod(grade, 2.950))
	// Output: grade rod 3.300 m, still to cut 0.350 m
}
