package safety

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// closeTo compares lengths; NaN fails. The tolerance is in metres.
func closeTo(got, want, tol unit.Length) bool { return math.Abs(float64(got-want)) <= float64(tol) }

// still is ground of a class with nothing against it.
func still(s Soil) Ground {
	return Ground{Soil: s, Fissured: No, Vibration: No, Disturbed: No, Water: No, Running: No, Cohesive: Yes}
}

func TestRunOfEachSlope(t *testing.T) {
	// Ratio × depth by table B-1 as quoted by others; the runs are exact.
	for _, c := range []struct {
		soil       Soil
		depth, run float64 // ft
		hours      *float64
	}{
		{TypeA, 8, 6.00, nil}, {TypeB, 10, 10.00, nil}, {TypeC, 8, 12.00, nil}, {TypeC, 20, 30.00, nil},
		{TypeA, 12, 6.00, of(24.0)}, {Rock, 20, 0, nil},
		{"", 6, 9.00, nil}, // trench 2 ft wide at the bottom, 20 ft at the top, 6 ft deep is 1.5:1 (read)
	} {
		b := Limits(book(t, ""), Site{Digs: []SiteDig{{ID: "T", Ground: still(c.soil), Depth: ft(c.depth), OpenHours: c.hours}}})
		if s := b.Slopes[0]; !closeTo(*s.Run, *ft(c.run), 1e-9) || s.Engineer {
			t.Errorf("Slopes(%q, %v ft) = run %v m, engineer %v; want %v m (1e-9 m: exact), no engineer", c.soil, c.depth, *s.Run, s.Engineer, *ft(c.run))
		}
	}
	width := 2*unit.Foot + 2*unit.Length(1.5)*6*unit.Foot
	if !closeTo(width, 20*unit.Foot, 1e-9) {
		t.Errorf("top of the trench = %v m, want 20 ft", width)
	}
}

func TestAnglesOfTheTableAreItsRatiosRounded(t *testing.T) {
	// Table B-1 prints 53, 45, 34 and 63 degrees beside the ratios, as quoted by others.
	for id, degrees := range map[string]float64{"slope_a": 53, "slope_b": 45, "slope_c": 34, "slope_default": 34, "slope_a_short": 63} {
		ratio := base().rule(id).Limit.Number
		if got := math.Round(math.Atan2(1, ratio) * 180 / math.Pi); got != degrees {
			t.Errorf("%s: atan(1/%v) = %v°, want %v°", id, ratio, got, degrees)
		}
	}
}

func TestClassify(t *testing.T) {
	for _, c := range []struct {
		name    string
		ground  Ground
		want    Soil
		missing []string
	}{
		{"nothing known", Ground{}, TypeC, []string{"soil", "fissured", "vibration", "disturbed", "water"}},
		{"A", still(TypeA), TypeA, nil},
		{"B", still(TypeB), TypeB, nil},
		{"C", still(TypeC), TypeC, nil},
		{"rock", still(Rock), Rock, nil},
		{"a word that is no class", still("clay"), TypeC, []string{"soil"}},
		// App. A as quoted by others: fissured, vibrated or disturbed is never A.
		{"A fissured", with(TypeA, func(g *Ground) { g.Fissured = Yes }), TypeB, nil},
		{"A vibrated", with(TypeA, func(g *Ground) { g.Vibration = Yes }), TypeB, nil},
		{"A disturbed", with(TypeA, func(g *Ground) { g.Disturbed = Yes }), TypeB, nil},
		{"A perhaps disturbed", with(TypeA, func(g *Ground) { g.Disturbed = Unknown }), TypeB, []string{"disturbed"}},
		// App. A as quoted by others: submerged or seeping is C.
		{"A seeping", with(TypeA, func(g *Ground) { g.Water = Yes }), TypeC, nil},
		{"B perhaps seeping", with(TypeB, func(g *Ground) { g.Water = Unknown }), TypeC, []string{"water"}},
		{"B fissured", with(TypeB, func(g *Ground) { g.Fissured = Yes }), TypeB, nil},
		{"rock fissured", with(Rock, func(g *Ground) { g.Fissured = Yes }), TypeC, nil},
		{"layers", with("", func(g *Ground) { g.Layers = []Layer{{TypeA, 1}, {TypeC, 1}, {TypeB, 1}} }), TypeC, nil},
		{"a layer not known", with("", func(g *Ground) { g.Layers = []Layer{{TypeA, 1}, {"", 1}} }), TypeC, []string{"soil"}},
	} {
		got := Classify(c.ground)
		if got.Soil != c.want || !slices.Equal(got.Missing, c.missing) {
			t.Errorf("%s: Classify = %s missing %v, want %s missing %v", c.name, got.Soil, got.Missing, c.want, c.missing)
		}
		if (len(got.Because) > 0) != (got.Soil != c.ground.Soil && len(c.ground.Layers) == 0 || slices.Contains(got.Missing, "soil")) {
			t.Errorf("%s: Classify tells %d reasons for %s from %s", c.name, len(got.Because), got.Soil, c.ground.Soil)
		}
	}
}

// with is ground of a class with one thing changed.
func with(s Soil, edit func(*Ground)) Ground {
	g := still(s)
	edit(&g)
	return g
}

func TestKnowingLessNeverRaisesAClass(t *testing.T) {
	answers := rapid.SampledFrom([]Answer{Unknown, Yes, No})
	rapid.Check(t, func(t *rapid.T) {
		g := Ground{Soil: rapid.SampledFrom([]Soil{Rock, TypeA, TypeB, TypeC, ""}).Draw(t, "soil"), Fissured: answers.Draw(t, "fissured"),
			Vibration: answers.Draw(t, "vibration"), Disturbed: answers.Draw(t, "disturbed"), Water: answers.Draw(t, "water")}
		less := g
		switch rapid.IntRange(0, 4).Draw(t, "forget") {
		case 0:
			less.Soil = ""
		case 1:
			less.Fissured = Unknown
		case 2:
			less.Vibration = Unknown
		case 3:
			less.Disturbed = Unknown
		case 4:
			less.Water = Unknown
		}
		more, got := Classify(g).Soil, Classify(less).Soil
		if weaker(more, got) != got {
			t.Errorf("Classify(%+v) = %s, want no stronger than %s of %+v", less, got, more, g)
		}
	})
}

func TestClassOfStrength(t *testing.T) {
	// App. A as quoted by others: A from 1.5 tsf, B over 0.5, C to 0.5.
	for tsf, want := range map[float64]Soil{1.5: TypeA, 1.49: TypeB, 0.51: TypeB, 0.5: TypeC, 0: TypeC, math.NaN(): TypeC} {
		if got := ClassOfStrength(base(), tsf); got != want {
			t.Errorf("ClassOfStrength(%v tsf) = %s, want %s", tsf, got, want)
		}
	}
}

func TestLayeredFace(t *testing.T) {
	// Subpart P App. B on layers, as told by an article: weaker over stronger,
	// each at its own slope; stronger over weaker, the weaker's for the whole face.
	for _, c := range []struct {
		layers []Layer
		run    float64 // ft, of 10 ft
	}{
		{[]Layer{{TypeC, *ft(4)}, {TypeA, *ft(6)}}, 4*1.5 + 6*0.75},
		{[]Layer{{TypeA, *ft(4)}, {TypeC, *ft(6)}}, 15},
		{[]Layer{{TypeB, *ft(4)}, {TypeA, *ft(2)}}, 4*1 + 6*0.75}, // the last goes on down
		{[]Layer{{TypeA, *ft(12)}, {TypeC, *ft(6)}}, 7.5},         // the weaker lies under the bottom
		{[]Layer{{TypeA, unit.Length(math.NaN())}, {TypeC, *ft(6)}}, 7.5},
	} {
		g := with("", func(g *Ground) { g.Layers = c.layers })
		s := Limits(base(), Site{Digs: []SiteDig{{ID: "T", Ground: g, Depth: ft(10)}}}).Slopes[0]
		if !closeTo(*s.Run, *ft(c.run), 1e-9) {
			t.Errorf("run of %v = %v m, want %v m (1e-9 m: exact)", c.layers, *s.Run, *ft(c.run))
		}
		if s.Ratio < 0.75 || !closeTo(unit.Length(s.Ratio)*10*unit.Foot, *s.Run, *ft(8)) || unit.Length(s.Ratio)*10*unit.Foot < *s.Run-1e-9 {
			t.Errorf("one slope for %v is %v, flatter than its layers come to", c.layers, s.Ratio)
		}
	}
}

func TestSlopeOfUnknownDepthIsAnEngineers(t *testing.T) {
	b := Limits(base(), Site{Digs: []SiteDig{{ID: "T", Ground: still(TypeA)}, {ID: "U", Ground: still(TypeA), Depth: ft(20.01)}}})
	for _, s := range b.Slopes {
		if !s.Engineer {
			t.Errorf("Slopes(%s).Engineer = false, want true", s.Dig)
		}
	}
	if b.Slopes[0].Run != nil {
		t.Errorf("run of an unknown depth = %v, want none", *b.Slopes[0].Run)
	}
}

func TestSetbacksAndProtectionDepth(t *testing.T) {
	// 29 CFR 1926.651(j)(2) as quoted by others, 0.61 m; 652(a), 1.52 m (read);
	// they hold also where no set was chosen.
	for _, b := range []Book{book(t, ""), book(t, NoSet), {}} {
		got := Limits(b, Site{})
		if !closeTo(got.SpoilSetback.Distance, 0.61, 0.005) || !closeTo(got.PlantSetback.Distance, 0.61, 0.005) ||
			!closeTo(got.ProtectionDepth.Distance, 1.52, 0.005) {
			t.Errorf("Limits(%s) = %+v, want 0.61, 0.61, 1.52 m (5 mm: published rounding)", b.Set(), got)
		}
	}
}

func TestPublishedMetres(t *testing.T) {
	// The clauses print both units: .650(b) 15 ft (4.6 m), .651(c)(2) 4 ft (1.22 m)
	// and 25 ft (7.62 m), .651(l) 6 ft (1.8 m).
	for id, want := range map[string]struct{ m, tol unit.Length }{
		"trench_width": {4.6, 0.05}, "way_out_depth": {1.22, 0.005}, "way_out_travel": {7.62, 0.005}, "crossing_rails": {1.8, 0.05},
	} {
		if got := base().rule(id).Limit.Length(); !closeTo(got, want.m, want.tol) {
			t.Errorf("%s = %v m, want %v m (%v m: published rounding)", id, got, want.m, want.tol)
		}
	}
}

func TestZone(t *testing.T) {
	line := []geom.Point{{X: 500000, Y: 4900000}, {X: 500010, Y: 4900000}, {X: 500010, Y: 4900010}}
	z := zoneOf(base(), Service{ID: "W", Line: line, Size: in(2)})
	// CGA Best Practice 5-19 (read): 2 in pipe, 18 in → zone 38 in.
	if !closeTo(z.Width, 38*unit.Inch, 1e-12) || !closeTo(z.Stop, 19*unit.Inch, 1e-12) || z.Assumed || z.Seen {
		t.Errorf("zone of 2 in = %v wide, stop %v, want 38 and 19 in (1e-12 m: rounding)", z.Width, z.Stop)
	}
	if unknown := zoneOf(base(), Service{Line: line}); !unknown.Assumed || !closeTo(unknown.Stop, 42*unit.Inch, 1e-12) {
		t.Errorf("zone of unknown width stops at %v m, assumed %v; want 42 in, assumed", unknown.Stop, unknown.Assumed)
	}
	if seen := zoneOf(base(), Service{Line: line, Exposed: &Exposed{By: "B"}}); !seen.Seen {
		t.Errorf("zone of an exposed service is not seen")
	}
	if n := len(zoneOf(base(), Service{Line: line[:1]}).Bands); n != 1 {
		t.Errorf("a line of one point has %d bands, want 1", n)
	}
	if n := len(zoneOf(base(), Service{}).Bands); n != 0 {
		t.Errorf("a line of no points has %d bands, want none", n)
	}
}

// Every point nearer to the line than Stop lies in the zone, bends and ends
// included, and none farther than a square corner reaches.
func TestZoneCoversTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-20, 20)
		var line []geom.Point
		for range rapid.IntRange(2, 5).Draw(t, "points") {
			line = append(line, geom.Point{X: coord.Draw(t, "x"), Y: coord.Draw(t, "y")})
		}
		z := zoneOf(base(), Service{Line: line, Size: in(12)})
		p := geom.Point{X: coord.Draw(t, "px"), Y: coord.Draw(t, "py")}
		d := math.Inf(1)
		for i := 1; i < len(line); i++ {
			d = min(d, toSegment(p, line[i-1], line[i]))
		}
		if stop := float64(z.Stop); d < stop-1e-9 && !z.Holds(p) || d > stop*math.Sqrt2+1e-9 && z.Holds(p) {
			t.Errorf("zone of %v holds %v = %v, which is %v m from the line; stop %v m", line, p, z.Holds(p), d, stop)
		}
	})
}

// toSegment is the distance of p from a segment.
func toSegment(p, a, b geom.Point) float64 {
	ab := b.Sub(a)
	t := 0.0
	if l := ab.Dot(ab); l > 0 {
		t = max(0, min(1, p.Sub(a).Dot(ab)/l))
	}
	return p.Distance(a.Toward(b, t))
}

func TestMarkColours(t *testing.T) {
	// APWA uniform colour code (open convention, read).
	for kind, want := range map[string]string{"power": "red", "gas": "yellow", "oil": "yellow", "communication": "orange", "water": "blue",
		"reclaimed": "purple", "sewer": "green", "drain": "green", "survey": "pink", "dig": "white", "other": ""} {
		if got := MarkColour(kind); got != want {
			t.Errorf("MarkColour(%s) = %q, want %q", kind, got, want)
		}
	}
}

func TestClearance(t *testing.T) {
	// 29 CFR 1926.1408 table A (read).
	for _, c := range []struct{ kv, feet float64 }{
		{0.24, 10}, {50, 10}, {50.01, 15}, {200, 15}, {350, 20}, {500, 25}, {750, 35}, {1000, 45}, {1001, 45},
	} {
		if got := ClearanceOf(base(), &c.kv); !closeTo(got.Distance, *ft(c.feet), 1e-12) || got.Beyond != (c.kv > 1000) || got.Assumed {
			t.Errorf("ClearanceOf(%v kV) = %+v, want %v ft", c.kv, got, c.feet)
		}
	}
	for _, kv := range []*float64{nil, of(math.NaN()), of(0.0), of(-5.0)} {
		if got := ClearanceOf(base(), kv); !got.Assumed || !closeTo(got.Distance, *ft(45), 1e-12) {
			t.Errorf("ClearanceOf(unknown) = %+v, want 45 ft, assumed", got)
		}
	}
}

func TestClearanceOfPlant(t *testing.T) {
	on := book(t, "", Override{"line_plant", "", "read by the job"})
	// 29 CFR 1926.600(a)(6), from memory: 10 ft and 0.4 in a kV over 50; exact.
	for kv, inches := range map[float64]float64{13.8: 120, 50: 120, 115: 146.0, 230: 192.0, 500: 300.0} {
		if got := ClearanceOf(on, &kv); !closeTo(got.Distance, *in(inches), 1e-9) || got.Rule != "line_plant" {
			t.Errorf("ClearanceOf(%v kV) = %v m by %s, want %v in (1e-9 m: exact)", kv, got.Distance, got.Rule, inches)
		}
	}
}

// The decision to plan by table A rests on this: at no voltage does it ask for
// less than the rule for other plant.
func TestTableAAsksForNoLessThanThePlantRule(t *testing.T) {
	on := book(t, "", Override{"line_plant", "", "read by the job"})
	for kv := 0.5; kv <= 1000; kv += 0.5 {
		table, plant := ClearanceOf(base(), &kv).Distance, ClearanceOf(on, &kv).Distance
		if !(table >= plant-1e-9) {
			t.Errorf("at %v kV table A = %v m, plant %v m", kv, table, plant)
		}
	}
}

func TestInfluenceLines(t *testing.T) {
	// UPC 314.1 (read): −2.0 to −5.0 ft is 3.00 ft away; IBC 1809.6 (read): 5.196 ft (exact).
	drop := 3.0
	if got := base().rule("influence_trench").Limit.RunPerDrop() * drop; got != 3 {
		t.Errorf("45° over 3 ft = %v ft, want 3 exactly", got)
	}
	if got := base().rule("influence_footing").Limit.RunPerDrop() * drop; !(math.Abs(got-3*math.Sqrt(3)) < 1e-12) || !(math.Abs(got-5.196) < 0.0005) {
		t.Errorf("30° over 3 ft = %v ft, want 5.196 (0.0005: published rounding)", got)
	}
}
