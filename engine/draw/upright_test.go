package draw_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// bottoms are the heavy lines of a drawing.
func bottoms(s draw.Scene) []draw.Item {
	var out []draw.Item
	for _, it := range s.Items {
		if it.Pen == draw.Bottom && it.Text == "" {
			out = append(out, it)
		}
	}
	return out
}

// TestEveryRodIsDrawnOrCounted: a figure that is not on the drawing is counted.
func TestEveryRodIsDrawnOrCounted(t *testing.T) {
	for _, name := range examples {
		p := example(t, name)
		for _, s := range uprights(t, p) {
			set, _ := p.Setup(s.cut.Setup)
			want, drawn := 0, 0
			for _, n := range p.Numbers {
				if n.Excavation != s.cut.Dig.Excavation.ID || n.Setup != set.ID || n.From != plan.FromBeam {
					continue
				}
				if n.Kind == dig.Centre || n.HasStation && (s.cut.Dig.Excavation.Count < 2 || n.Part == "1") {
					want++
				}
			}
			for _, it := range s.Items {
				if it.Upward {
					drawn++
				}
			}
			if len(s.cut.Dig.Parts) > 1 && s.cut.Dig.Excavation.Kind.Area() {
				want = min(want, 1) // the first part's centre stands for the section
			}
			if s.cut.Setup == "" && drawn > 0 {
				t.Errorf("%s, %s: %d rods without a beam", name, s.name, drawn)
			}
			if s.cut.Setup != "" && drawn < want-s.Unplaced {
				t.Errorf("%s, %s: %d rods, want %d less %d counted as left out", name, s.name, drawn, want, s.Unplaced)
			}
		}
	}
}

// TestARunsEndsAlwaysHaveTheirRods: the two ends come before all between.
func TestARunsEndsAlwaysHaveTheirRods(t *testing.T) {
	p := example(t, "alder-quay")
	d, _ := p.Dig("SD1")
	s, ok := draw.Profile(draw.Cut{Plan: p, Dig: d, Setup: "A1"}, voice(p), along)
	// The two figures as the command line prints them for this example.
	if found := words(s); !ok || found[`8'-0 3/4"`] != 1 || found[`10'-5 5/8"`] != 1 {
		t.Errorf("rods of SD1 under A1: %v", found)
	}
}

// TestPlannedRodsShowNoReading: not to be taken for a number to dig to.
func TestPlannedRodsShowNoReading(t *testing.T) {
	p := example(t, "alder-quay")
	d, _ := p.Dig("AF")
	s, _ := draw.Profile(draw.Cut{Plan: p, Dig: d, Setup: "A3"}, voice(p), along)
	rods := 0
	for _, it := range s.Items {
		if it.Upward {
			rods++
			if it.Pen != draw.Planned || !strings.Contains(it.Text, "____") {
				t.Errorf("planned rod %q with pen %s", it.Text, it.Pen)
			}
		}
		if it.Pen == draw.Ray {
			t.Error("a planned beam is drawn as a live one")
		}
	}
	if set, _ := p.Setup("A3"); rods == 0 || set.State != beam.Planned {
		t.Errorf("%d planned rods of a %s set-up", rods, set.State)
	}
}

const cutJob = `[job]
name = "One pit"
units = "m"
[[datum]]
id = "D"
elevation = 10
[[benchmark]]
id = "BM"
at = [0, 0]
elevation = 10
[ground]
level = 10
[[laser]]
id = "L"
accuracy = '10"'
range = 100
[[rod]]
id = "R"
face = "metric"
longest = 5
[[excavation]]
id = "Q"
kind = "pit"
at = [20, 0]
size = [4, 6]
bottom = { below = 2, datum = "D" }
sides = "1.5:1"
tolerance = "50 mm"
[[setup]]
tag = "A"
at = [0, 10]
backsights = [{ benchmark = "BM", rod = 1.5 }]
`

// TestASectionIsTrueToItsFigures: a pit 4 m wide and 2 m deep with sides of 1.5
// to 1 under a beam 1.5 m over the ground; its lengths follow by hand.
func TestASectionIsTrueToItsFigures(t *testing.T) {
	p := planned(t, cutJob, func(string) ([]byte, error) { return nil, errors.New("no files") })
	d, _ := p.Dig("Q")
	s, ok := draw.Section(draw.Cut{Plan: p, Dig: d, Setup: "A"}, voice(p), across)
	if !ok {
		t.Fatal("no section")
	}
	heavy := bottoms(s)
	if len(heavy) != 1 {
		t.Fatalf("%d heavy lines, want 1", len(heavy))
	}
	perMetre := heavy[0].Points[0].Distance(heavy[0].Points[1]) / 4
	var tops []geom.Point
	for _, it := range s.Items {
		if it.Pen == draw.Dug {
			tops = append(tops, it.Points[len(it.Points)-1])
		}
	}
	if len(tops) != 2 {
		t.Fatalf("%d cut sides, want 2", len(tops))
	}
	// 4 + 2 × 1.5 × 2 = 10 m between the edges.
	if got := tops[1].X - tops[0].X; !(math.Abs(got/perMetre-10) < 0.04) {
		t.Errorf("edges %.3f m apart, want 10 m (tol 40 mm: the search along both sides)", got/perMetre)
	}
	if got := (heavy[0].Points[0].Y - tops[0].Y) / perMetre; !(math.Abs(got-2) < 1e-6) {
		t.Errorf("depth %.4f m, want 2 m", got)
	}
	if found := words(s); found["3.500"] != 1 || found["cut 2.000 m"] != 1 || found["bottom 8.000"] != 1 {
		t.Errorf("figures %v, want rod 3.500, cut 2.000 m, bottom 8.000", found)
	}
}

// TestSectionSidesAreThoseOfTheCut: both sides of a section rise as the surface that is
// dug does, at every corner of the drawn line, and end on the ground: benches, slopes
// of each side, an outline drawn the other way round, thickened edges.
func TestSectionSidesAreThoseOfTheCut(t *testing.T) {
	const plain, each = `sides = "1.5:1"`, "sides = [{ batter = \"1:1\" }, { batter = \"1.5:1\" }, { batter = \"0.5:1\" }, { batter = \"2:1\" }]"
	const benched = "sides = { batter = \"0.5:1\", benches = [{ height = 0.8, width = 0.7 }, { height = 1.4, width = 0.4 }] }"
	box := "at = [20, 0]\nsize = [4, 6]\n"
	for _, c := range []struct{ name, dig string }{
		{"plain", box + plain}, {"benched", box + benched}, {"each its own", box + each},
		{"clockwise", "outline = [[18, -3], [18, 3], [22, 3], [22, -3]]\n" + each},
		{"slanting", "outline = [[18, -3], [22, -3], [24, 3], [17, 3]]\n" + benched},
		{"thickened edges", box + "edges = [{ side = \"all\", width = 0.6, depth = 0.3 }]\n" + each},
	} {
		text := strings.Replace(cutJob, "at = [20, 0]\nsize = [4, 6]\n", "", 1)
		text = strings.Replace(text, plain, c.dig, 1)
		p := planned(t, text, func(string) ([]byte, error) { return nil, errors.New("no files") })
		d, _ := p.Dig("Q")
		s, ok := draw.Section(draw.Cut{Plan: p, Dig: d, Setup: "A"}, voice(p), across)
		heavy := bottoms(s)
		if !ok || len(heavy) == 0 {
			t.Fatalf("%s: no section", c.name)
		}
		least := 4 // two places a side
		if strings.Contains(c.dig, benched) {
			least = 8 // and the bench
		}
		if held := heldByCut(t, s, d, heavy); held < least {
			t.Errorf("%s: %d places of the sides were looked at, want %d or more", c.name, held, least)
		}
	}
}

// heldByCut holds the drawn sides against the cut, half-way along each stretch that
// leans and at their tops, and counts the places.
func heldByCut(t *testing.T, s draw.Scene, d plan.Dig, heavy []draw.Item) int {
	t.Helper()
	first, last := heavy[0].Points[0], heavy[len(heavy)-1].Points[1]
	centre := d.Parts[0].Outline.Centroid()
	// Across the bearing of 0 the paper's way is east: the bottom tells the scale.
	line := d.Excavation.Outline
	if line == nil {
		line = geom.Ring{{X: 18, Y: -3}, {X: 22, Y: -3}, {X: 22, Y: 3}, {X: 18, Y: 3}}
	}
	west, east := crossed(line, centre.Y)
	perMetre := (last.X - first.X) / (east - west)
	cut := d.CutSurface()
	depth := float64(d.Parts[len(d.Parts)-1].BottomAt(centre))
	held := 0
	for _, it := range s.Items {
		if it.Pen != draw.Dug || len(it.Points) < 2 || it.Points[0].Distance(first) > 1e-9 && it.Points[0].Distance(last) > 1e-9 {
			continue
		}
		for i, p := range it.Points[1:] {
			for _, q := range []geom.Point{p, it.Points[i].Toward(p, 0.5)} {
				x, z := west+(q.X-first.X)/perMetre, depth+(first.Y-q.Y)/perMetre
				if upright := math.Abs(p.X-it.Points[i].X) < 1e-6; upright {
					continue // no height of its own
				}
				want, ok := cut.Height(geom.Point{X: x, Y: centre.Y})
				if !ok || !(math.Abs(float64(want)-z) < 0.03) {
					t.Errorf("side at %.3f drawn %.3f m, dug %.3f (tol 30 mm: the search along the side)", x, z, want)
				}
				held++
			}
		}
	}
	return held
}

// crossed is where an east-west line crosses an outline, from west to east.
func crossed(r geom.Ring, y float64) (west, east float64) {
	west, east = math.Inf(1), math.Inf(-1)
	for i := range r {
		a, b := r.Side(i)
		if (a.Y < y) != (b.Y < y) {
			x := a.Toward(b, (y-a.Y)/(b.Y-a.Y)).X
			west, east = min(west, x), max(east, x)
		}
	}
	return west, east
}

// TestSidesWithoutGroundAreHollow: what is not known is drawn so and said.
func TestSidesWithoutGroundAreHollow(t *testing.T) {
	p := planned(t, strings.Replace(cutJob, "[ground]\nlevel = 10\n", "", 1), func(string) ([]byte, error) { return nil, errors.New("no files") })
	d, _ := p.Dig("Q")
	s, _ := draw.Section(draw.Cut{Plan: p, Dig: d, Setup: "A"}, voice(p), across)
	said := false
	for text := range words(s) {
		said = said || strings.HasPrefix(text, "Dashed side")
	}
	for _, it := range s.Items {
		if it.Pen == draw.Dug || it.Pen == draw.Earth || it.Pen == draw.Ground {
			t.Errorf("a %s line though no ground is known", it.Pen)
		}
	}
	if !said {
		t.Errorf("nothing says why the sides are dashed: %v", words(s))
	}
}

// TestHeightsOfAProfileAreTrue: the exaggeration told is the one drawn.
func TestHeightsOfAProfileAreTrue(t *testing.T) {
	p := example(t, "alder-quay")
	d, _ := p.Dig("SD1")
	s, _ := draw.Profile(draw.Cut{Plan: p, Dig: d, Setup: "A1"}, voice(p), along)
	heavy := bottoms(s)
	if len(heavy) != 1 {
		t.Fatalf("%d heavy lines, want 1", len(heavy))
	}
	a, b := heavy[0].Points[0], heavy[0].Points[1]
	// The drain falls 1.5 %, its heights are told to be 5 times as large.
	if got := (b.Y - a.Y) / (b.X - a.X); !(math.Abs(got-5*0.015) < 1e-9) {
		t.Errorf("fall on paper %.6f, want 0.075", got)
	}
	told := false
	for text := range words(s) {
		told = told || strings.Contains(text, "Heights 5 times as large")
	}
	if !told {
		t.Errorf("the exaggeration is not told: %v", words(s))
	}
}

func TestWhatIsNotOfItsKindIsNotDrawn(t *testing.T) {
	p := example(t, "alder-quay")
	run, _ := p.Dig("SD1")
	area, _ := p.Dig("P1")
	if _, ok := draw.Profile(draw.Cut{Plan: p, Dig: area}, voice(p), along); ok {
		t.Error("a profile of a pad")
	}
	if _, ok := draw.Section(draw.Cut{Plan: p, Dig: run}, voice(p), across); ok {
		t.Error("a section of a drain")
	}
	if _, ok := draw.Section(draw.Cut{Plan: p}, draw.Voice{Style: unit.Style{}}, across); ok {
		t.Error("a section of nothing")
	}
}
