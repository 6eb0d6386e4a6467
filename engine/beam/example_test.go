package beam_test

import (
	"fmt"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

func ExampleFromBacksights() {
	in := beam.Instrument{At: geom.Point{X: 12, Y: 8}, Accuracy: 0.00005}
	pl, residuals, fault := beam.FromBacksights(in, []beam.Backsight{
		{Benchmark: "BM1", At: geom.Point{}, Elevation: 31.200, Sigma: 0.001, Rod: 1.474},
		{Benchmark: "BM2", At: geom.Point{X: 40}, Elevation: 30.850, Sigma: 0.001, Rod: 1.826},
	})
	if fault != nil {
		fmt.Println(fault)
		return
	}
	rod := pl.GradeRod(geom.Point{X: 25, Y: 10}, 29.4)
	fmt.Printf("HI %.3f, BM2 off %+.4f m, grade rod %.3f m\n", pl.HI, residuals[1].Off, rod)
	// Output: HI 32.675, BM2 off +0.0010 m, grade rod 3.275 m
}

func ExampleDialForRun() {
	run := beam.Run{ID: "D1", From: geom.Point{}, To: geom.Point{Y: 60}, FromElevation: 20.5, ToElevation: 20.5 - 60.0/80}
	laser := beam.Laser{ID: "L1", Axes: 1, Step: 0.0001, PlusMeans: beam.Down}
	laser.Steepest[0] = beam.GradeRange{Min: -0.10, Max: 0.15}
	aim := beam.Aim{Mark: "T4", From: geom.Point{Y: -5}, At: geom.Point{Y: 70}}
	plan, fault := beam.DialForRun(run, laser, aim, run.From)
	if fault != nil {
		fmt.Println(fault)
		return
	}
	fmt.Println(plan.Text.Render(phrase.English, unit.Style{}))
	fmt.Printf("rounding: %+.4f m at the start, %+.4f m at the end\n", plan.Rounding[0].Start, plan.Rounding[0].End)
	// Output:
	// aim the mark at T4; the beam must fall 1.25 % towards it; on this laser +1.250
	// rounding: +0.0000 m at the start, +0.0000 m at the end
}

func ExampleClampStrip() {
	rod := beam.Rod{ID: "R1", Step: 0.005}
	groups, _ := beam.ClampStrip([]beam.ClampRod{
		rod.Exactly("F1", 1.8312), rod.Exactly("F2", 2.1290), rod.Exactly("F3", 1.8288),
	}, rod.Step)
	for _, g := range groups {
		fmt.Printf("clamp at %.3f m:", g.Clamp)
		for _, d := range g.Digs {
			fmt.Printf(" %s", d.ID)
		}
		fmt.Println()
	}
	// Output:
	// clamp at 1.830 m: F1 F3
	// clamp at 2.130 m: F2
}
