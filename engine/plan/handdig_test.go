package plan_test

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/plan"
)

// area sums the areas of cells.
func area(cells []plan.Cell) float64 {
	sum := 0.0
	for _, c := range cells {
		sum += c.Outline.Area()
	}
	return sum
}

// A 2 in pipe along a trench of 2 ft, 40 ft long (CGA Best Practices 5-19: zone
// 38 in wide, read): crossing square, the zone is a 38 in long piece of it.
func TestHandDigZoneOfACrossing(t *testing.T) {
	text := fill(beside("[[utility]]\nid = \"W\"\nkind = \"water\"\nsize = \"2 in\"\nline = [[20, -30], [20, 30]]\nprivate_locate = true"))
	p := planOf(t, text)
	const foot = 0.3048
	hand := p.HandDig("T1")
	if got, want := area(hand), 38.0/12*2*foot*foot; !(math.Abs(got-want) <= 1e-6) { // m²: places snap to 1 µm
		t.Errorf("hand-dug area = %.6f m², want %.6f", got, want)
	}
	if got, want := area(p.Cells("T1")), 40*2*foot*foot; !(math.Abs(got-want) <= 1e-6) {
		t.Errorf("cells together = %.6f m², want %.6f", got, want)
	}
	for _, c := range hand {
		if c.Service != "W" || math.Abs(float64(c.Stop)-19.0/12*foot) > 1e-9 {
			t.Errorf("cell %v: service %q, stop %v", c.Outline, c.Service, c.Stop)
		}
	}
	seen := fill(beside("[[utility]]\nid = \"W\"\nkind = \"water\"\nsize = \"2 in\"\nline = [[20, -30], [20, 30]]\nexposed = { by = \"B. Rodman\", top = 97 }"))
	if got := planOf(t, seen).HandDig("T1"); len(got) != 0 {
		t.Errorf("a service that was seen is still cut out: %v", got)
	}
}

// TestCellsAreTheDigAndKeepTheZone: cells are convex, do not overlap, and
// together are the bottom; hand cells lie in a zone, machine cells outside all,
// for bent services over an L-shaped pit.
func TestCellsAreTheDigAndKeepTheZone(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := func(name string) float64 { return math.Round(rapid.Float64Range(-20, 60).Draw(r, name)*10) / 10 }
		line := ""
		for i := range 3 {
			if i > 0 {
				line += ", "
			}
			line += "[" + num(n("x")) + ", " + num(n("y")) + "]"
		}
		text := fill(words{"kind": "pit", "machine": `type = "tracked"`, "place": "outline = [[0, 0], [40, 0], [40, 12], [15, 12], [15, 30], [0, 30]]"},
			beside("[[utility]]\nid = \"W\"\nkind = \"water\"\nsize = \"2 in\"\nline = ["+line+"]",
				"[[utility]]\nid = \"G\"\nkind = \"gas\"\nline = [[10, -5], [10, 50]]"))
		p := planOf(t, text)
		cells := p.Cells("T1")
		const foot = 0.3048
		if got, want := area(cells), (40*12+15*18)*foot*foot; !(math.Abs(got-want) <= 1e-6) { // m²
			r.Fatalf("cells together = %.7f m², want %.7f", got, want)
		}
		for _, c := range cells {
			// The middle of a cell is inside its zone, or outside all: zones are not thinner than a cell's rounding.
			held := false
			for _, z := range p.Bounds.Zones {
				held = held || z.Holds(c.Outline.Centroid())
			}
			if held != c.Hand {
				r.Fatalf("cell %v: hand %v, its middle in a zone %v", c.Outline, c.Hand, held)
			}
			if len(c.Outline) < 3 || !(c.Outline.Area() > 0) {
				r.Fatalf("cell %v has no area", c.Outline)
			}
		}
	})
}

func num(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
