package dig

import (
	"math"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/pipe"
	"spadework/engine/unit"
)

// badCase is a good excavation spoiled, with the place and text of its fault.
type badCase struct {
	name   string
	from   func() Excavation
	change func(*Excavation)
	want   string
}

var nan = math.NaN()

// pad is a 10 m × 6 m slab with a bottom, a good one.
func pad() Excavation {
	x := footing()
	x.ID, x.Kind, x.Size = "P1", Pad, [2]unit.Length{10, 6}
	return x
}

// box is a distribution box, a good one.
func box() Excavation {
	x := footing()
	x.ID, x.Kind, x.Bottom = "B1", Box, Bottom{Rule: ByInvert}
	x.Outlets = &Outlets{Count: 3, Level: 98, Base: 0.1}
	return x
}

// field is three trenches 3 m apart, a good one.
func field() Excavation {
	x := trench()
	x.ID, x.Kind, x.Inverts = "A1", Field, nil
	x.Bottom = Bottom{Rule: ByElevation, Elevation: 98}
	x.Count, x.Spacing, x.Hand = 3, 3, Left
	return x
}

func outline(points ...geom.Point) func(*Excavation) {
	return func(x *Excavation) { x.Size, x.Outline = [2]unit.Length{}, points }
}

var areaFaults = []badCase{
	{"no id", footing, func(x *Excavation) { x.ID = "" }, "id: an excavation needs an id"},
	{"kind", footing, func(x *Excavation) { x.Kind = "hole" }, `kind: "hole" is no kind of excavation`},
	{"line of a footing", footing, func(x *Excavation) { x.Line = trench().Line }, "line: a footing has no line"},
	{"fall of a footing", footing, func(x *Excavation) { x.Fall = 0.01 }, "fall: a footing has no fall"},
	{"steps of a footing", footing, func(x *Excavation) { x.Steps = strip().Steps }, "steps: a footing has no steps"},
	{"inverts of a footing", footing, func(x *Excavation) { x.Inverts = trench().Inverts }, "inverts: a footing has no inverts"},
	{"pipe of a footing", footing, func(x *Excavation) { x.Pipe = &pipe.Section{Outside: 1, Wall: 0.1} }, "pipe: a footing has no pipe"},
	{"cover of a footing", footing, func(x *Excavation) { x.Bottom = Bottom{Rule: ByCover, Cover: 1, From: Existing} }, "bottom.cover: a footing has no bottom.cover"},
	{"outlets of a pit", box, func(x *Excavation) { x.Kind = Pit }, "outlets: a pit has no outlets"},
	{"size 0", footing, func(x *Excavation) { x.Size[1] = 0 }, "size: 0.000 m must be more than 0"},
	{"two corners", footing, outline(geom.Point{}, geom.Point{X: 1}), "outline: an outline needs three corners or more, and this one has 2"},
	{"corner twice", footing, outline(geom.Point{}, geom.Point{X: 1}, geom.Point{X: 1}, geom.Point{Y: 1}), "outline[1]: corners 2 and 3 of the outline are the same point"},
	{"bow tie", footing, outline(geom.Point{}, geom.Point{X: 1, Y: 1}, geom.Point{X: 1}, geom.Point{Y: 1}), "outline[0]: sides 1 and 3 of the outline meet"},
	{"NaN corner", footing, outline(geom.Point{}, geom.Point{X: nan}, geom.Point{Y: 1}), "outline[1]: NaN is no finite figure"},
	{"outline and size", footing, func(x *Excavation) { x.Outline = geom.Ring{{}, {X: 1}, {Y: 1}} }, "outline: an outline and a size are both given"},
	{"edge width", pad, func(x *Excavation) { x.Thickened = []Edge{{Sides: AllSides, Depth: 1}} }, "edges[0].width: 0.000 m must be more than 0"},
	{"edge side", pad, func(x *Excavation) { x.Thickened = []Edge{{Sides: "up", Width: 1, Depth: 1}} }, `edges[0].side: "up" is no side for an edge`},
	{"edge index", pad, func(x *Excavation) { x.Thickened = []Edge{{Sides: SideIndex, Index: 4, Width: 1, Depth: 1}} }, "edges[0].index: there is no side 4: the sides run from 0 to 3"},
	{"edge twice", pad, func(x *Excavation) {
		x.Thickened = []Edge{{Sides: AllSides, Width: 1, Depth: 1}, {Sides: NorthSide, Width: 1, Depth: 1}}
	}, "edges[1].side: side 2 has two edges"},
	{"edge wide", pad, func(x *Excavation) { x.Thickened = []Edge{{Sides: AllSides, Width: 3.1, Depth: 1}} }, "edges: the edges leave no slab between them, or one ends within a straight side"},
	{"edge towards nothing", pad, func(x *Excavation) {
		outline(geom.Point{}, geom.Point{X: 4}, geom.Point{X: 2, Y: 8})(x)
		x.Thickened = []Edge{{Sides: NorthSide, Width: 0.1, Depth: 1}}
	}, "edges[0].side: no side of the outline faces north"},
	{"inlet low", box, func(x *Excavation) {
		z := unit.Elevation(98.01)
		x.Outlets.Inlet, x.Outlets.LeastInletAbove = &z, 0.0254
	}, "outlets.inlet: the inlet 98.010 m lies 0.010 m over the outlets, and must lie at least 0.025 m over them"},
	{"no outlet", box, func(x *Excavation) { x.Outlets.Count = 0 }, "outlets.count: the count 0 must be from 1 to 1000"},
	{"box without outlets", box, func(x *Excavation) { x.Outlets = nil }, "outlets: the box goes by its outlets, and none are given"},
	{"side slopes", footing, func(x *Excavation) { x.Sides.Each = make([]Slope, 3) }, "sides: 3 side slopes are given, and there are 4 sides"},
	{"batter", footing, func(x *Excavation) { x.Sides.All.Batter = -1 }, "sides: the batter -1 must be 0 (vertical) or more, horizontal to vertical"},
	{"benches", footing, func(x *Excavation) { x.Sides.All.Benches = []Bench{{1, 1}, {1, 1}} }, "sides.benches[1].height: the bench at 1.000 m must lie above the one before it"},
}

var bottomFaults = []badCase{
	{"no bottom", footing, func(x *Excavation) { x.Bottom = Bottom{} }, `bottom: "" does not say where the bottom is`},
	{"NaN", footing, func(x *Excavation) { x.Bottom.Elevation = unit.Elevation(nan) }, "bottom.elevation: NaN is no finite figure"},
	{"no datum", footing, func(x *Excavation) { x.Bottom = Bottom{Rule: BelowDatum, Depth: 1} }, "bottom.datum: a depth below needs a datum"},
	{"depth negative", strip, func(x *Excavation) { x.Bottom.Depth = -1 }, "bottom.below: -1.000 m must be 0 or more"},
	{"which ground", footing, func(x *Excavation) { x.Bottom = Bottom{Rule: BelowGround, Depth: 1, From: "old"} }, `bottom.from: "old" is no ground`},
	{"thickness 0", footing, func(x *Excavation) { x.Bottom = Bottom{Rule: BelowTop, Elevation: 99} }, "bottom.thickness: 0.000 m must be more than 0"},
	{"bedding", trench, func(x *Excavation) { x.Bedding = -0.1 }, "bedding: -0.100 m must be 0 or more"},
	{"working", footing, func(x *Excavation) { x.Working = unit.Length(nan) }, "sides_at: — must be 0 or more"},
	{"tolerance negative", footing, func(x *Excavation) { x.Tolerance.Above = -0.012 }, "tolerance.above: -0.012 m must be 0 or more"},
	{"levelness negative", footing, func(x *Excavation) { x.Tolerance.LevelOver = -0.01 }, "tolerance.level_over: -1 % must be 0 or more"},
	{"wall", trench, func(x *Excavation) { x.Pipe = &pipe.Section{Outside: 0.2, Wall: 0.1} }, "pipe.wall: the wall 0.100 m must be less than half the outside diameter 0.200 m"},
	{"above ground", footing, func(x *Excavation) { x.Bottom.Elevation = 100.25 }, "bottom.elevation: the bottom 100.250 m lies above all of the existing ground, at best by 0.250 m (ground 100.000 m): there is nothing to dig"},
	{"trench above ground", trench, func(x *Excavation) { x.Inverts[0].In, x.Inverts[0].Out = 102, 102; x.Inverts[1] = Invert{40, 101, 101} }, "inverts: the bottom 101.000 m lies above all of the existing ground, at best by 1.000 m (ground 100.000 m): there is nothing to dig"},
}

var runFaults = []badCase{
	{"one point", trench, func(x *Excavation) { x.Line = x.Line[:1] }, "line: a line needs two points or more, and this one has 1"},
	{"zero length", trench, func(x *Excavation) { x.Line = []geom.Point{{X: 1}, {X: 1}} }, "line: the line is 0.000 m long: start and end are the same point"},
	{"point twice", trench, func(x *Excavation) { x.Line = []geom.Point{{}, {X: 40}, {X: 40}} }, "line[2]: point 3 of the line repeats the one before it"},
	{"turns back", trench, func(x *Excavation) { x.Line = []geom.Point{{}, {X: 40}, {X: 20}} }, "line[2]: legs 1 and 2 of the line meet"},
	{"crosses", trench, func(x *Excavation) { x.Line = []geom.Point{{}, {X: 40}, {X: 40, Y: 9}, {X: 20, Y: -9}} }, "line[3]: legs 1 and 3 of the line meet"},
	{"short leg", trench, func(x *Excavation) { x.Line = []geom.Point{{}, {X: 40}, {X: 40, Y: 0.5}, {X: 0, Y: 0.5}} }, "line: leg 2 of the line, 0.500 m long, is too short for the width at its bends"},
	{"NaN point", trench, func(x *Excavation) { x.Line = []geom.Point{{}, {Y: nan}} }, "line[1]: NaN is no finite figure"},
	{"width", trench, func(x *Excavation) { x.Width = 0 }, "width: 0.000 m must be more than 0"},
	{"outline of a trench", trench, func(x *Excavation) { x.Outline = geom.Ring{{}} }, "outline: a trench has no outline"},
	{"NaN fall", trench, func(x *Excavation) { x.Fall = unit.Grade(nan) }, "fall: NaN is no finite figure"},
	{"no inverts", trench, func(x *Excavation) { x.Inverts = nil }, "inverts: the bottom goes by inverts, and there is none"},
	{"inverts unused", trench, func(x *Excavation) { x.Bottom = Bottom{Rule: ByElevation, Elevation: 98} }, "inverts: inverts are given, but the bottom goes by elevation"},
	{"invert order", trench, func(x *Excavation) { x.Inverts[1].Station = 0 }, "inverts[1].station: station 0+000 must come after 0+000"},
	{"invert beyond", trench, func(x *Excavation) { x.Inverts[1].Station = 41 }, "inverts[1].station: station 0+041 does not lie on the line, which ends at 0+040"},
	{"flow unknown", trench, func(x *Excavation) { x.Inverts = []Invert{{0, 98, 98}, {20, 98.1, 97.9}, {40, 98, 98}} }, "inverts[1]: the run does not fall, so nobody can say on which side of station 0+020 the invert in lies"},
	{"reverse", trench, func(x *Excavation) {
		x.Tolerance.NoReverse, x.Inverts = true, []Invert{{0, 98, 98}, {20, 97, 97}, {40, 97.5, 97.5}}
	}, "inverts[2]: the pipe rises 0.500 m on its way from 0+020 to 0+040, and no reverse grade is allowed"},
	{"reverse in structure", trench, func(x *Excavation) {
		x.Tolerance.NoReverse, x.Inverts = true, []Invert{{0, 98, 98}, {20, 97.5, 97.75}, {40, 97, 97}}
	}, "inverts[1]: the invert out at 0+020 lies 0.250 m over the invert in, and no reverse grade is allowed"},
	{"steps and inverts", trench, func(x *Excavation) { x.Steps = []Step{{10, 0.1}} }, "steps: a run by inverts cannot have steps too"},
	{"step beyond", strip, func(x *Excavation) { x.Steps[0].Station = 31 }, "steps[0].station: station 0+031 does not lie on the line, which ends at 0+030"},
	{"step at end", strip, func(x *Excavation) { x.Steps[0].Station = 30 }, "steps[0].station: the step at 0+030 must lie between the ends of the line"},
	{"step NaN", strip, func(x *Excavation) { x.Steps[0].Station = unit.Station(nan) }, "steps[0].station: station — does not lie on the line, which ends at 0+030"},
	{"step order", strip, func(x *Excavation) { x.Steps = []Step{{10, 0.1}, {10, 0.1}} }, "steps[1].station: station 0+010 must come after 0+010"},
	{"step of 0", strip, func(x *Excavation) { x.Steps[0].Drop = 0 }, "steps[0].drop: the drop 0.000 m of a step must be a figure other than 0"},
	{"step reverse", strip, func(x *Excavation) { x.Tolerance.NoReverse, x.Fall, x.Steps[0].Drop = true, 0.01, -0.2 }, "steps[0].drop: a step of -0.200 m goes against the fall 1 %, and no reverse grade is allowed"},
	{"structure id", trench, func(x *Excavation) { x.Structures = []Structure{{Size: [2]unit.Length{1, 1}}} }, "structures[0].id: a structure needs an id"},
	{"structure twice", trench, func(x *Excavation) { x.Structures = []Structure{{ID: "1", Size: [2]unit.Length{1, 1}}} }, `structures[0].id: "1" is already the name of a part`},
	{"structure size", trench, func(x *Excavation) { x.Structures = []Structure{{ID: "MH"}} }, "structures[0].size: 0.000 m must be more than 0"},
	{"structure beyond", trench, func(x *Excavation) {
		x.Structures = []Structure{{ID: "MH", Station: 50, Size: [2]unit.Length{1, 1}}}
	}, "structures[0].station: station 0+050 does not lie on the line, which ends at 0+040"},
	{"structure without invert", strip, func(x *Excavation) {
		x.Structures = []Structure{{ID: "MH", Station: 5, Size: [2]unit.Length{1, 1}}}
	}, `structures[0].invert_in: no invert is known at structure "MH"`},
	{"invert twice", trench, func(x *Excavation) {
		z := unit.Elevation(97)
		x.Structures = []Structure{{ID: "MH", Station: 40, Size: [2]unit.Length{1, 1}, InvertIn: &z}}
	}, "structures[0]: the structure and the run give different inverts at 0+040"},
	{"count", field, func(x *Excavation) { x.Count = 0 }, "count: the count 0 must be from 1 to 1000"},
	{"hand", field, func(x *Excavation) { x.Hand = "up" }, `hand: "up" is no side`},
	{"spacing", field, func(x *Excavation) { x.Spacing = 0.5 }, "spacing: the spacing 0.500 m, centre to centre, is less than the dug width 0.600 m"},
	{"count of a trench", trench, func(x *Excavation) { x.Count = 2 }, "count: a trench has no count"},
	{"field line bent back", field, func(x *Excavation) { x.Line = []geom.Point{{}, {X: 4}, {X: 4, Y: 4}}; x.Count = 3 }, "line: leg 1 of the line, 4.000 m long, is too short for the width at its bends"},
}

func TestFaults(t *testing.T) {
	for _, cases := range [][]badCase{areaFaults, bottomFaults, runFaults} {
		for _, c := range cases {
			x := c.from()
			resolve(t, x, flat()) // good before it is spoiled
			c.change(&x)
			f := faultOf(t, x, flat())
			if got := f.Error(); got != c.want {
				t.Errorf("%s: %q, want %q", c.name, got, c.want)
			}
			checkSpoken(t, f)
		}
	}
}

// checkSpoken: what and remedy have their own text in both languages.
func checkSpoken(t *testing.T, f *phrase.Fault) {
	t.Helper()
	for _, m := range []phrase.Message{f.What, f.Remedy} {
		en, es := m.Render(phrase.English, unit.Style{}), m.Render(phrase.Spanish, unit.Style{})
		if en == string(m.Key) || es == string(m.Key) || en == es || en == "" {
			t.Errorf("%s reads %q in English and %q in Spanish", m.Key, en, es)
		}
	}
}

// Outside the survey there is no height: a fault that names the place.
func TestOutsideSurvey(t *testing.T) {
	small := Site{Existing: facets{dir: geom.Vector{X: 1}, xs: []float64{0, 10}, zs: []float64{100, 100}}}
	x := footing()
	x.Bottom = Bottom{Rule: BelowGround, From: Existing, Depth: 1}
	for _, c := range []struct {
		x    Excavation
		site Site
		want string
	}{
		{x, small, "bottom.from: corner 1 of the outline lies outside the survey of existing ground: there is no height there"},
		{x, Site{}, "bottom.from: the depth counts from existing ground, which is not given"},
		{coverTrench(), small, "bottom.from: station 0+040 lies outside the survey of existing ground: there is no height there"},
	} {
		f := faultOf(t, c.x, c.site)
		if got := f.Error(); got != c.want {
			t.Errorf("%s: %q, want %q", c.x.ID, got, c.want)
		}
		checkSpoken(t, f)
	}
}

// coverTrench goes by cover under existing ground.
func coverTrench() Excavation {
	x := trench()
	x.Inverts, x.Bottom = nil, Bottom{Rule: ByCover, Cover: 1, From: Existing}
	return x
}

// A hole in the survey that no corner shows is still found.
func TestSurveyLeftBetweenCorners(t *testing.T) {
	f := outsideRing(level(100), Finished, footingRing())
	const want = "bottom.from: the outline leaves the survey of finished ground between its corners: there is no height there"
	if f.Error() != want {
		t.Errorf("outsideRing = %q, want %q", f, want)
	}
}

func footingRing() geom.Ring { return geom.Rectangle(geom.Point{}, geom.Vector{Y: 1}, 1, 1) }
