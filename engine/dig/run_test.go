package dig

import (
	"math"
	"strings"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/pipe"
	"spadework/engine/unit"
)

func TestStripSteps(t *testing.T) {
	x := strip()
	x.Steps = []Step{{10, 0.4}, {20, -0.1}}
	x.Blinding = 0.05
	d := resolve(t, x, flat())
	if got := strings.Join(ids(d), " "); got != "1 2 3" {
		t.Fatalf("parts %s, want 1 2 3", got)
	}
	for i, want := range []unit.Elevation{98.95, 98.55, 98.65} {
		near(t, "part "+d.Parts[i].ID, d.Parts[i].Trace.Sum, want, 1e-9)
		near(t, "area "+d.Parts[i].ID, d.Parts[i].Neat.Area(), 6, 1e-9)
	}
}

func TestStripWorking(t *testing.T) {
	x := strip()
	x.Working = 0.45
	d := resolve(t, x, flat())
	near(t, "dug area", d.Parts[0].Outline.Area()+d.Parts[1].Outline.Area(), 30*1.5, 1e-9)
	near(t, "neat area", d.Parts[0].Neat.Area()+d.Parts[1].Neat.Area(), 30*0.6, 1e-9)
}

// Ground falls from 100 to 99 between x 10 and 20: level bottoms go by the
// lowest ground on the outline of each step (geometry).
func TestStripBelowGround(t *testing.T) {
	site := Site{Existing: facets{dir: geom.Vector{X: 1}, xs: []float64{-1, 10, 20, 31}, zs: []float64{100, 100, 99, 99}}}
	x := strip()
	x.Bottom = Bottom{Rule: BelowGround, From: Existing, Depth: 0.8}
	x.Steps = nil
	near(t, "level strip", one(t, resolve(t, x, site)).Trace.Sum, 98.2, 1e-9)
	// A step of 0.9 at 12: before it the ground is at least 99.8, after it 99:
	// base ≤ 99.8 and base ≤ 99 + 0.9 = 99.9, so 99.8 − 0.8 governs.
	x.Steps = []Step{{12, 0.9}}
	d := resolve(t, x, site)
	near(t, "before the step", d.Parts[0].Trace.Sum, 99.0, 1e-9)
	near(t, "after the step", d.Parts[1].Trace.Sum, 98.1, 1e-9)
	// A step of 0.5: the far ground governs, 99 − 0.8 after it.
	x.Steps = []Step{{12, 0.5}}
	d = resolve(t, x, site)
	near(t, "before the step", d.Parts[0].Trace.Sum, 98.7, 1e-9)
	near(t, "after the step", d.Parts[1].Trace.Sum, 98.2, 1e-9)
}

func TestCoverWithFall(t *testing.T) {
	// A dip of 1 m at x 20: the straight line of the fall is held down there.
	site := Site{Finished: facets{dir: geom.Vector{X: 1}, xs: []float64{-1, 10, 20, 30, 41}, zs: []float64{100, 100, 99, 100, 100}}}
	x := trench()
	x.Inverts, x.Fall = nil, 0.01
	x.Bottom = Bottom{Rule: ByCover, Cover: 0.9, From: Finished}
	x.Pipe, x.Bedding = &pipe.Section{Outside: 0.2, Wall: 0.006}, 0.1
	p := one(t, resolve(t, x, site))
	near(t, "bottom at 0", p.Trace.Sum, 99-0.9-0.2-0.1+0.2, 1e-9)
	near(t, "bottom at 20", p.TraceAt(20).Sum, 97.8, 1e-9)
	const want = "99.000 m finished ground at 0+020 − 0.900 m cover − 0.200 m pipe outside + 0.200 m -1 % over 20.000 m − 0.100 m bedding = 98.000 m"
	if got := p.Trace.Message().Render(phrase.English, unit.Style{}); got != want {
		t.Errorf("Message() = %q, want %q", got, want)
	}
	x.Fall = 0
	near(t, "level bottom", one(t, resolve(t, x, site)).Trace.Sum, 97.8, 1e-9)
	x.Pipe = nil
	d := resolve(t, x, site)
	near(t, "level bottom without pipe", one(t, d).Trace.Sum, 98.0, 1e-9)
	if !noted(d, "dig.note.cover_no_pipe") {
		t.Error("cover without a pipe is not told")
	}
}

func TestCoverOverInverts(t *testing.T) {
	x := trench()
	x.Bottom.Cover, x.Bottom.From = 1.5, Existing
	x.Pipe = &pipe.Section{Outside: 0.2, Wall: 0.006}
	// Top of pipe 98.194 at 0: 1.806 m under level ground of 100.
	if d := resolve(t, x, flat()); noted(d, "dig.note.cover") {
		t.Error("cover of 1.806 m over a least of 1.5 m is called short")
	}
	x.Bottom.Cover = 1.9
	d := resolve(t, x, flat())
	if !noted(d, "dig.note.cover") {
		t.Fatal("cover of 1.806 m under a least of 1.9 m is not told")
	}
	const want = "the cover is 1.806 m at 0+000, less than the least of 1.900 m"
	if got := d.Notes[0].Render(phrase.English, unit.Style{}); got != want {
		t.Errorf("note = %q, want %q", got, want)
	}
}

func TestTwoInvertsAtOneStation(t *testing.T) {
	x := trench()
	x.Inverts = []Invert{{0, 98, 98}, {20, 97.8, 97.5}, {40, 97.3, 97.3}}
	d := resolve(t, x, flat())
	near(t, "into the structure", d.Parts[0].BottomAt(geom.Point{X: 20}), 97.8, 1e-9)
	near(t, "out of it", d.Parts[1].Trace.Sum, 97.5, 1e-9)
	// The same pipe drawn from its low end: in and out stay with the water.
	x.Inverts = []Invert{{0, 97.3, 97.3}, {20, 97.8, 97.5}, {40, 98, 98}}
	d = resolve(t, x, flat())
	near(t, "below the structure", d.Parts[0].BottomAt(geom.Point{X: 20}), 97.5, 1e-9)
	near(t, "above the structure", d.Parts[1].Trace.Sum, 97.8, 1e-9)
}

func TestFlowNotes(t *testing.T) {
	for _, c := range []struct {
		key    phrase.Key
		change func(*Excavation)
		want   bool
	}{
		{"dig.note.one_invert", func(x *Excavation) { x.Inverts = x.Inverts[:1] }, true},
		{"dig.note.one_invert", func(x *Excavation) { x.Inverts, x.Fall = x.Inverts[:1], 0.01 }, false},
		{"dig.note.extended", func(x *Excavation) { x.Inverts[1].Station = 30 }, true},
		{"dig.note.extended", func(x *Excavation) {}, false},
		{"dig.note.fall_differs", func(x *Excavation) { x.Fall = 0.012 }, true},
		{"dig.note.fall_differs", func(x *Excavation) { x.Fall = 0.01 }, false},
		{"dig.note.no_pipe", func(x *Excavation) {}, true},
		{"dig.note.no_pipe", func(x *Excavation) { x.Pipe = &pipe.Section{Outside: 0.2, Wall: 0.006} }, false},
	} {
		x := trench()
		c.change(&x)
		if got := noted(resolve(t, x, flat()), c.key); got != c.want {
			t.Errorf("%s told = %v, want %v", c.key, got, c.want)
		}
	}
}

func TestInvertsExtended(t *testing.T) {
	x := trench()
	x.Inverts = []Invert{{10, 98, 98}, {30, 97.8, 97.8}}
	d := resolve(t, x, flat())
	near(t, "at 0", d.Parts[0].Trace.Sum, 98.1, 1e-9)
	near(t, "at 40", d.Parts[2].TraceAt(40).Sum, 97.7, 1e-9)
}

func TestStructures(t *testing.T) {
	in, out := unit.Elevation(97.8), unit.Elevation(97.5)
	x := trench()
	x.Structures = []Structure{{
		ID: "MH2", Station: 20, Size: [2]unit.Length{1.8, 1.2}, Base: 0.25, Bedding: 0.15, Working: 0.5,
		InvertIn: &in, InvertOut: &out,
	}}
	d := resolve(t, x, flat())
	mh, ok := d.Part("MH2")
	if !ok {
		t.Fatalf("parts %v, want MH2 among them", ids(d))
	}
	near(t, "MH2", mh.Trace.Sum, 97.5-0.4, 1e-9)
	near(t, "MH2 neat", mh.Neat.Area(), 1.8*1.2, 1e-9)
	near(t, "MH2 dug", mh.Outline.Area(), 2.8*2.2, 1e-9)
	near(t, "across the line", mh.Neat.Bounds().Height(), 1.8, 1e-9)
	near(t, "into it", d.Parts[0].BottomAt(geom.Point{X: 20}), 97.8, 1e-9)
	near(t, "out of it", d.Parts[1].Trace.Sum, 97.5, 1e-9)
	// Without inverts of its own it stands on the run's flow line.
	x.Structures[0].InvertIn, x.Structures[0].InvertOut = nil, nil
	mh, _ = resolve(t, x, flat()).Part("MH2")
	near(t, "MH2 on the run", mh.Trace.Sum, 97.8-0.4, 1e-9)
}

func TestStructureUnderLowerInvert(t *testing.T) {
	// Drawn from the low end, the lower invert lies before the station.
	x := trench()
	x.Inverts = []Invert{{0, 97.3, 97.3}, {20, 97.8, 97.5}, {40, 98, 98}}
	x.Structures = []Structure{{ID: "MH", Station: 20, Size: [2]unit.Length{1, 1}, Base: 0.2}}
	mh, _ := resolve(t, x, flat()).Part("MH")
	near(t, "MH", mh.Trace.Sum, 97.3, 1e-9)
}

func TestBend(t *testing.T) {
	x := trench()
	x.Line = []geom.Point{{X: 0}, {X: 20}, {X: 20, Y: 20}}
	d := resolve(t, x, flat())
	if len(d.Parts) != 2 {
		t.Fatalf("parts %v, want 2", ids(d))
	}
	near(t, "area", d.Parts[0].Neat.Area()+d.Parts[1].Neat.Area(), 40*0.6, 1e-9)
	near(t, "bottom at the end", d.Parts[1].BottomAt(geom.Point{X: 20, Y: 20}), 97.6, 1e-9)
	if s := d.Parts[1].Bottom.Slope; math.Abs(s.X) > 1e-12 || math.Abs(s.Y+0.01) > 1e-12 {
		t.Errorf("slope of the second leg = %v, want 1 %% down north", s)
	}
}

func TestField(t *testing.T) {
	x := trench()
	x.Kind, x.Inverts, x.Count, x.Spacing, x.Hand = Field, nil, 5, 3, Right
	x.Bottom = Bottom{Rule: BelowGround, From: Existing, Depth: 0.7}
	// Ground falls 1 in 10 to the south: trenches lie to the right (south) of a
	// line that runs east, each level under its own lowest ground.
	site := Site{Existing: facets{dir: geom.Vector{Y: 1}, xs: []float64{-100, 100}, zs: []float64{90, 110}}}
	d := resolve(t, x, site)
	if got := strings.Join(ids(d), " "); got != "1 2 3 4 5" {
		t.Fatalf("parts %s, want 1 … 5", got)
	}
	for i, p := range d.Parts {
		near(t, "trench "+p.ID, p.Trace.Sum, unit.Elevation(100-0.3*float64(i)-0.03-0.7), 1e-9)
		near(t, "y of "+p.ID, p.Line[0].Y, -3*float64(i), 1e-9)
	}
	x.Hand = Left
	near(t, "y to the left", resolve(t, x, site).Parts[4].Line[0].Y, 12, 1e-9)
	x.Line = []geom.Point{{X: 0}, {X: 20}, {X: 40, Y: 5}}
	d = resolve(t, x, site)
	if got := strings.Join(ids(d)[:3], " "); got != "1.1 1.2 2.1" {
		t.Errorf("bent field's parts %s …, want 1.1 1.2 2.1", got)
	}
}

func TestPoints(t *testing.T) {
	x := strip()
	x.Line = []geom.Point{{X: 0}, {X: 20}, {X: 20, Y: 10}}
	var got []string
	for _, n := range resolve(t, x, flat()).Points(7.5) {
		got = append(got, n.Part+":"+n.Name)
	}
	want := "1:start 1:along-1 1:before-1 2:after-1 2:along-2 3:bend-1 3:along-3 3:end"
	if s := strings.Join(got, " "); s != want {
		t.Errorf("Points(7.5) = %s, want %s", s, want)
	}
	for _, n := range resolve(t, x, flat()).Points(7.5) {
		want := unit.Elevation(99)
		if n.Part != "1" {
			want = 98.6
		}
		near(t, n.Name, n.Bottom, want, 1e-9)
	}
}

func TestPointsOfArea(t *testing.T) {
	x := footing()
	x.Working = 0.5
	var got []string
	for _, n := range resolve(t, x, flat()).Points(1) {
		got = append(got, n.Name)
		near(t, n.Name, n.Bottom, 98, 0)
	}
	if s := strings.Join(got, " "); s != "centre corner-1 corner-2 corner-3 corner-4" {
		t.Errorf("Points = %s", s)
	}
}

// The centroid of a thin L lies outside it: the point must not.
func TestCentreInside(t *testing.T) {
	x := footing()
	x.Size = [2]unit.Length{}
	x.Outline = geom.Ring{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 10}, {X: 0, Y: 10}}
	d := resolve(t, x, flat())
	if at := d.Points(0)[0].At; d.Parts[0].Outline.Contains(at) != geom.Inside {
		t.Errorf("centre %v lies outside the L", at)
	}
}

// Parts whose cut lies within the mitre of a bend still tile the band.
func TestBreakWithinMitre(t *testing.T) {
	x := strip()
	x.Line = []geom.Point{{X: 0}, {X: 20}, {X: 20, Y: 10}}
	x.Width = 2
	for _, s := range []unit.Station{19.2, 20, 20.5, 20.999} {
		x.Steps = []Step{{s, 0.3}}
		sum := 0.0
		for _, p := range resolve(t, x, flat()).Parts {
			sum += p.Neat.Area()
		}
		near(t, "area", sum, 60, 1e-9)
	}
}
