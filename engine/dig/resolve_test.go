package dig

import (
	"testing"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/pipe"
	"spadework/engine/unit"
)

// one is the only part of a dig.
func one(t failer, d Dig) Part {
	t.Helper()
	if len(d.Parts) != 1 {
		t.Fatalf("%s has %d parts, want 1", d.Excavation.ID, len(d.Parts))
	}
	return d.Parts[0]
}

func TestBottomRules(t *testing.T) {
	// Ground rises 1 in 10 to the east from 100 at x = 0; the footing covers
	// x 9 … 11, y 19.5 … 20.5: its lowest ground is 100.9 (geometry).
	site := Site{Existing: slope(100, 0.1), Finished: slope(101, 0.1)}
	for _, c := range []struct {
		name   string
		bottom Bottom
		want   unit.Elevation
	}{
		{"elevation", Bottom{Rule: ByElevation, Elevation: 98.5}, 98.5},
		{"below datum", Bottom{Rule: BelowDatum, Datum: Datum{"FFL", 101}, Depth: 1.2}, 99.8},
		{"below existing", Bottom{Rule: BelowGround, From: Existing, Depth: 1.2}, 99.7},
		{"below finished", Bottom{Rule: BelowGround, From: Finished, Depth: 1.2}, 100.7},
		{"top", Bottom{Rule: BelowTop, Elevation: 100, Thickness: 0.3}, 99.7},
		{"top by datum", Bottom{Rule: BelowTop, Datum: Datum{"FFL", 101}, Offset: -0.5, Thickness: 0.3}, 100.2},
	} {
		x := footing()
		x.Bottom = c.bottom
		p := one(t, resolve(t, x, site))
		near(t, c.name, p.Trace.Sum, c.want, 1e-9)
		x.Blinding, x.Subbase, x.Bedding = 0.05, 0.15, 0.1
		p = one(t, resolve(t, x, site))
		near(t, c.name+" less layers", p.Trace.Sum, c.want-0.3, 1e-9)
	}
}

func TestTraceText(t *testing.T) {
	x := footing()
	x.Bottom = Bottom{Rule: BelowDatum, Datum: Datum{"FFL", 104.5}, Depth: 0.406}
	x.Blinding, x.Words = 0.1, "T/FTG 16 in BELOW FFL"
	p := one(t, resolve(t, x, Site{}))
	if p.Trace.Words != x.Words {
		t.Errorf("Trace.Words = %q, want %q", p.Trace.Words, x.Words)
	}
	near(t, "Sum", p.Trace.Sum, 103.994, 1e-9)
	for lang, want := range map[phrase.Language]string{
		phrase.English: "104.500 m FFL − 0.406 m below − 0.100 m blinding = 103.994 m",
		phrase.Spanish: "104.500 m FFL − 0.406 m por debajo − 0.100 m de hormigón de limpieza = 103.994 m",
	} {
		if got := p.Trace.Message().Render(lang, unit.Style{}); got != want {
			t.Errorf("Message() in %s = %q, want %q", lang, got, want)
		}
	}
}

func TestBareTraceText(t *testing.T) {
	got := one(t, resolve(t, footing(), Site{})).Trace.Message().Render(phrase.English, unit.Style{})
	if got != "98.000 m as drawn" {
		t.Errorf("Message() = %q", got)
	}
}

func TestFootingOutlines(t *testing.T) {
	x := footing()
	x.Working = 0.5
	p := one(t, resolve(t, x, Site{}))
	near(t, "neat area", p.Neat.Area(), 2, 1e-12)
	near(t, "dug area", p.Outline.Area(), 6, 1e-12)
	b := p.Neat.Bounds()
	if b.Min != (geom.Point{X: 9, Y: 19.5}) || b.Max != (geom.Point{X: 11, Y: 20.5}) {
		t.Errorf("neat bounds = %v, want x 9 … 11, y 19.5 … 20.5: size is east, north at bearing 0", b)
	}
	x.Bearing = 90 * unit.Degree
	b = one(t, resolve(t, x, Site{})).Neat.Bounds()
	near(t, "width at bearing 90°", b.Width(), 1, 1e-9)
	near(t, "height at bearing 90°", b.Height(), 2, 1e-9)
}

func TestOutlineTurnedAndClosed(t *testing.T) {
	x := footing()
	x.Size, x.At = [2]unit.Length{}, geom.Point{}
	x.Outline = geom.Ring{{X: 0, Y: 0}, {X: 0, Y: 3}, {X: 4, Y: 3}, {X: 4, Y: 0}, {X: 0, Y: 0}}
	d := resolve(t, x, Site{})
	if !d.Turned || !noted(d, "dig.note.turned") || !noted(d, "dig.note.closed") {
		t.Errorf("notes %v, turned %v: want turned and closed told", d.Notes, d.Turned)
	}
	near(t, "area", one(t, d).Neat.Area(), 12, 1e-12)
	if x.Outline[1] != (geom.Point{X: 0, Y: 3}) {
		t.Error("Resolve changed its input")
	}
}

func TestNotes(t *testing.T) {
	hill := Site{Existing: slope(97, 0.2)} // 98.8 … 99.2 under the footing
	for _, c := range []struct {
		key    phrase.Key
		change func(*Excavation)
		site   Site
		want   bool
	}{
		{"dig.note.no_tolerance", func(x *Excavation) { x.Tolerance = nil }, flat(), true},
		{"dig.note.no_tolerance", func(x *Excavation) {}, flat(), false},
		{"dig.note.no_existing", func(x *Excavation) {}, Site{}, true},
		{"dig.note.no_existing", func(x *Excavation) {}, flat(), false},
		{"dig.note.above_ground", func(x *Excavation) { x.Bottom.Elevation = 99 }, hill, true},
		{"dig.note.above_ground", func(x *Excavation) { x.Bottom.Elevation = 98.79 }, hill, false},
		{"dig.note.outside", func(x *Excavation) {}, Site{Existing: facets{dir: geom.Vector{X: 1}, xs: []float64{0, 10}, zs: []float64{100, 100}}}, true},
	} {
		x := footing()
		c.change(&x)
		if got := noted(resolve(t, x, c.site), c.key); got != c.want {
			t.Errorf("%s told = %v, want %v", c.key, got, c.want)
		}
	}
}

func TestBoxBottomAndOutlets(t *testing.T) {
	x := footing()
	x.Kind, x.Bottom = Box, Bottom{Rule: ByInvert}
	x.Outlets = &Outlets{Count: 3, Level: 98, Base: 0.15}
	x.Bedding = 0.1
	d := resolve(t, x, flat())
	near(t, "box bottom", one(t, d).Trace.Sum, 97.75, 1e-9)
	if !noted(d, "dig.note.no_inlet") {
		t.Error("unknown inlet is not told")
	}
	count := 0
	for _, n := range d.Points(0) {
		if n.Kind == Outlet {
			count++
			near(t, n.Name, n.Bottom, 98, 0)
			if d.Parts[0].Neat.Contains(n.At) == geom.Outside && !onRing(d.Parts[0].Neat, n.At) {
				t.Errorf("%s at %v lies off the box", n.Name, n.At)
			}
		}
	}
	if count != 3 {
		t.Errorf("%d outlet points, want 3", count)
	}
}

func TestPadEdges(t *testing.T) {
	x := footing()
	x.Kind, x.Size, x.At = Pad, [2]unit.Length{10, 6}, geom.Point{X: 5, Y: 3}
	x.Bottom = Bottom{Rule: BelowTop, Elevation: 100, Thickness: 0.1}
	x.Subbase, x.Working = 0.15, 0.5
	x.Thickened = []Edge{{Sides: AllSides, Width: 0.4, Depth: 0.2}}
	d := resolve(t, x, Site{})
	slab, _ := d.Part("slab")
	near(t, "slab", slab.Trace.Sum, 99.75, 1e-9)
	near(t, "slab area", slab.Neat.Area(), 9.2*5.2, 1e-9)
	var neat, dug float64
	for _, p := range d.Parts {
		neat += p.Neat.Area()
		dug += p.Outline.Area()
		if p.ID != "slab" {
			near(t, p.ID, p.Trace.Sum, 99.55, 1e-9)
		}
	}
	near(t, "parts' neat area", neat, 60, 1e-9)
	near(t, "parts' dug area", dug, 11*7, 1e-9)
	if len(d.Parts) != 5 {
		t.Errorf("%d parts, want slab and 4 edges", len(d.Parts))
	}
}

func TestPadEdgeSides(t *testing.T) {
	square := geom.Ring{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}
	for _, c := range []struct {
		ring  geom.Ring
		edge  Edge
		id    string
		box   geom.Box // of the edge's neat part
		parts int
	}{
		{square, Edge{Sides: NorthSide}, "edge-3", geom.Box{Min: geom.Point{X: 0, Y: 9}, Max: geom.Point{X: 10, Y: 10}}, 2},
		{square, Edge{Sides: WestSide}, "edge-4", geom.Box{Min: geom.Point{X: 0, Y: 0}, Max: geom.Point{X: 1, Y: 10}}, 2},
		{square, Edge{Sides: SideIndex, Index: 1}, "edge-2", geom.Box{Min: geom.Point{X: 9, Y: 0}, Max: geom.Point{X: 10, Y: 10}}, 2},
		// Clockwise: side 0 as given runs from (0,0) to (0,10), the west side.
		{square.Reversed(), Edge{Sides: SideIndex, Index: 0}, "edge-1", geom.Box{Min: geom.Point{X: 0, Y: 0}, Max: geom.Point{X: 1, Y: 10}}, 2},
	} {
		x := footing()
		x.Kind, x.Size, x.Outline = Pad, [2]unit.Length{}, c.ring
		c.edge.Width, c.edge.Depth = 1, 0.3
		x.Thickened = []Edge{c.edge}
		d := resolve(t, x, Site{})
		p, ok := d.Part(c.id)
		if !ok || len(d.Parts) != c.parts {
			t.Errorf("edge %v: parts %v, want %s among %d", c.edge, ids(d), c.id, c.parts)
			continue
		}
		if got := p.Neat.Bounds(); !boxNear(got, c.box) {
			t.Errorf("edge %v lies in %v, want %v", c.edge, got, c.box)
		}
		near(t, "area", d.Parts[0].Neat.Area()+p.Neat.Area(), 100, 1e-9)
	}
}

func ids(d Dig) []string {
	var out []string
	for _, p := range d.Parts {
		out = append(out, p.ID)
	}
	return out
}

func boxNear(a, b geom.Box) bool {
	return a.Min.Distance(b.Min) < 1e-9 && a.Max.Distance(b.Max) < 1e-9
}

// onRing says that p lies within a nanometre of a ring's border.
func onRing(r geom.Ring, p geom.Point) bool { return distanceTo(r, p) < 1e-9 }

// distanceTo is how far p lies from a ring's border.
func distanceTo(r geom.Ring, p geom.Point) float64 {
	best := r[0].Distance(p)
	for i := range r {
		a, b := r.Side(i)
		ab := b.Sub(a)
		t := max(0, min(1, p.Sub(a).Dot(ab)/ab.Dot(ab)))
		best = min(best, a.Toward(b, t).Distance(p))
	}
	return best
}

func TestPipeKept(t *testing.T) {
	x := trench()
	x.Pipe = &pipe.Section{Outside: 0.2, Wall: 0.006}
	x.Bedding = 0.1
	p := one(t, resolve(t, x, flat()))
	near(t, "bottom at 0", p.Trace.Sum, pipe.TrenchBottom(98, 0.006, 0.1), 1e-12)
	near(t, "grade", p.Grade, -0.01, 1e-12)
	near(t, "bottom at 40", p.BottomAt(geom.Point{X: 40}), 97.6-0.106, 1e-9)
	near(t, "TraceAt(40)", p.TraceAt(40).Sum, 97.6-0.106, 1e-9)
	if n, m := len(p.Trace.Terms), len(p.TraceAt(40).Terms); m != n+1 {
		t.Errorf("TraceAt(40) has %d terms, want %d and the fall", m, n)
	}
}
