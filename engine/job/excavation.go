package job

import (
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Excavation is a dig of the job and where the document gives it.
type Excavation struct {
	dig.Excavation
	Nominal    unit.Length // of the pipe, 0 not given
	Carries    Carries
	Open       *Open // nil: the grade is drawn
	OneRod     bool  // of a run: the laser is to be dialled so that one rod serves all of it
	Conditions Conditions
	table      *table
}

// Fault places a fault of this excavation: its Path, such as "bottom.below",
// is looked up in the document.
func (x Excavation) Fault(f *phrase.Fault) *phrase.Fault { return placed(x.table, f) }

// kinds are the words for the kinds of excavations.
var kinds = []string{
	string(dig.Footing), string(dig.Pad), string(dig.Pit), string(dig.Box),
	string(dig.Strip), string(dig.Trench), string(dig.Field),
}

// excavation reads one dig.
func (d *decoder) excavation(t *table) Excavation {
	x := Excavation{table: t}
	t.used = d.asked[:0]
	x.ID = d.id(t, "excavation")
	if t.need("kind") {
		x.Kind = dig.Kind(kinds[t.choice("kind", kinds, 0)])
	}
	x.Words = t.text("words")
	if x.Kind.Run() {
		d.runPlan(t, &x.Excavation)
	} else {
		d.areaPlan(t, &x.Excavation)
	}
	x.Bottom = d.bottom(t, &x.Excavation)
	x.Pipe, x.Nominal = d.pipe(t)
	x.Carries = d.carries(t)
	x.Open = d.open(t, &x.Excavation)
	if x.Kind.Run() {
		x.OneRod = t.flag("one_rod", false)
	}
	x.Bedding, x.Blinding, x.Subbase = t.notNegative("bedding"), t.notNegative("blinding"), t.notNegative("subbase")
	x.Working = d.working(t)
	x.Sides = d.sides(t)
	x.Rounded = t.choice("corners", []string{"mitred", "rounded"}, 0) == 1
	x.Concrete = t.positive("concrete")
	x.Material = t.name("material")
	d.refer(t, "material", "material", x.Material)
	x.Tolerance = d.tolerance(t)
	x.Conditions = d.conditions(t, d.job.Conditions)
	if x.Soil = t.soil("soil"); x.Soil == "" {
		x.Soil = x.Conditions.Soil
	}
	x.Before = t.names("before")
	x.FinishOnPourDay = t.flag("finish_on_pour_day", false)
	x.Holds = t.names("holds")
	t.done()
	d.asked, t.used = t.used, nil
	return x
}

// areaPlan reads where a footing, pad, pit or box lies.
func (d *decoder) areaPlan(t *table, x *dig.Excavation) {
	x.Bearing = t.bearing("bearing")
	x.Outline = geom.Ring(t.corners("outline", 3))
	x.Thickened = d.edges(t)
	x.Outlets = d.outlets(t)
	if x.Outline != nil {
		return
	}
	x.At = t.point("at")
	x.Size = d.size(t, "size")
	if !t.has("at") || !t.has("size") {
		t.missing("at", phrase.New("job.missing_area.remedy"))
	}
}

// size reads [across, along] or one figure for a square.
func (d *decoder) size(t *table, key string) [2]unit.Length {
	n := t.n.get(key)
	if n == nil || n.kind != arrayNode {
		side := t.positive(key)
		return [2]unit.Length{side, side}
	}
	pair := d.pair(t, key, "job.kind_size")
	if pair == nil {
		return [2]unit.Length{}
	}
	return [2]unit.Length{pair.positive(key + ".0"), pair.positive(key + ".1")}
}

// maxTrenches keeps a slip in the count of a field from filling the memory.
const maxTrenches = 1000

// runPlan reads where a strip, trench or field lies and how it runs.
func (d *decoder) runPlan(t *table, x *dig.Excavation) {
	x.Line = t.corners("line", 2)
	t.need("line")
	x.Width = t.positive("width")
	t.need("width")
	x.Fall = t.grade("fall")
	for _, s := range t.list("steps") {
		x.Steps = append(x.Steps, dig.Step{Station: s.station("station"), Drop: s.length("drop")})
		s.done()
	}
	for _, s := range t.list("inverts") {
		x.Inverts = append(x.Inverts, d.invert(s))
	}
	for _, s := range t.list("structures") {
		x.Structures = append(x.Structures, d.inRun(s))
	}
	if x.Kind != dig.Field {
		return
	}
	x.Count = t.count("count", 0)
	t.need("count")
	if x.Count > maxTrenches && t.r.fault == nil {
		t.fail("count", phrase.New("job.many_trenches", phrase.With("count", x.Count), phrase.With("limit", maxTrenches)),
			phrase.New("job.many_trenches.remedy"))
	}
	x.Spacing = t.positive("spacing")
	t.need("spacing")
	x.Hand = dig.Hand([]string{"left", "right"}[t.choice("hand", []string{"left", "right"}, 0)])
}

// invert reads { station, invert } or { station, in, out }.
func (d *decoder) invert(t *table) dig.Invert {
	out := dig.Invert{Station: t.station("station")}
	t.need("station")
	if t.has("invert") {
		out.In = t.elevation("invert")
		out.Out = out.In
	} else {
		t.need("in")
		t.need("out")
		out.In, out.Out = t.elevation("in"), t.elevation("out")
	}
	t.done()
	return out
}

// inRun reads a structure in a run.
func (d *decoder) inRun(t *table) dig.Structure {
	out := dig.Structure{
		ID: t.name("id"), Station: t.station("station"), Size: d.size(t, "size"),
		Base: t.notNegative("base"), Bedding: t.notNegative("bedding"), Working: t.notNegative("working"),
		InvertIn: optionalElevation(t, "invert_in"), InvertOut: optionalElevation(t, "invert_out"),
	}
	for _, key := range []string{"id", "station", "size"} {
		t.need(key)
	}
	t.done()
	return out
}

// optionalElevation is nil where the key is absent.
func optionalElevation(t *table, key string) *unit.Elevation {
	v := t.elevation(key)
	if !t.has(key) {
		return nil
	}
	return &v
}

// outlets reads those of a distribution box.
func (d *decoder) outlets(t *table) *dig.Outlets {
	o, ok := t.inner("outlets")
	if !ok {
		return nil
	}
	out := &dig.Outlets{
		Count: o.count("count", 0), Level: o.elevation("level"), Inlet: optionalElevation(o, "inlet"),
		LeastInletAbove: o.notNegative("inlet_above"), Base: o.notNegative("base"),
	}
	for _, key := range []string{"count", "level"} {
		o.need(key)
	}
	o.done()
	return out
}

// edgeSides are the words for the sides of a thickened edge.
var edgeSides = []string{string(dig.AllSides), string(dig.NorthSide), string(dig.EastSide), string(dig.SouthSide), string(dig.WestSide)}

// edges reads the thickened edges of a slab.
func (d *decoder) edges(t *table) []dig.Edge {
	var out []dig.Edge
	for _, e := range t.list("edges") {
		edge := dig.Edge{Sides: dig.SideIndex, Width: e.positive("width"), Depth: e.positive("depth")}
		if e.has("index") {
			edge.Index = e.count("index", 0)
		} else {
			edge.Sides = dig.EdgeSides(edgeSides[e.choice("side", edgeSides, 0)])
		}
		for _, key := range []string{"width", "depth"} {
			e.need(key)
		}
		e.done()
		out = append(out, edge)
	}
	return out
}
