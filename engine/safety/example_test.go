package safety_test

import (
	"fmt"

	"spadework/engine/phrase"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

func ExampleFindings() {
	book, err := safety.Rules(safety.USFederal)
	if err != nil {
		fmt.Println(err)
		return
	}
	depth := 5 * unit.Foot
	facts := safety.Facts{Digs: []safety.Dig{{ID: "T4", Depth: &depth, Sides: []safety.Side{{}}}}}
	style := unit.Style{System: unit.Imperial}
	for _, f := range safety.Findings(book, facts) {
		if f.Rule == "protection_depth" {
			fmt.Println(f.Severity, f.Clause)
			fmt.Println(f.What.Render(phrase.English, style))
			fmt.Println(f.Remedy.Render(phrase.English, style))
		}
	}
	// Output:
	// stop 29 CFR 1926.652(a)(1)
	// T4: depth 5.00 ft, sides vertical or not known. Nobody goes in before it is protected; sloped without support it stands no steeper than 1.5:1
	// slope, bench, shore or shield it; stable rock is exempt
}

func ExampleLimits() {
	book, err := safety.Rules(safety.USFederal, safety.Override{Rule: "tolerance_zone", Value: "24 in", Source: "state dig law"})
	if err != nil {
		fmt.Println(err)
		return
	}
	size := 2 * unit.Inch
	bounds := safety.Limits(book, safety.Site{Services: []safety.Service{{ID: "W1", Size: &size}}})
	fmt.Printf("the bucket stops %.0f in before the marks\n", float64(bounds.Zones[0].Stop/unit.Inch))
	// Output:
	// the bucket stops 25 in before the marks
}
