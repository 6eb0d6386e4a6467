package plan

import (
	"fmt"
	"slices"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Format is the number of the JSON contract.
const Format = 1

// What a row takes in most plans, so that the output seldom moves as it grows.
const (
	bytesPerNumber = 640
	bytesPerDig    = 1850
)

// AppendJSON appends the plan as JSON: SI, job coordinates turned to metres,
// every key present, null where the value is not known.
func (p *Plan) AppendJSON(dst []byte) []byte {
	dst = slices.Grow(dst, bytesPerNumber*len(p.Numbers)+bytesPerDig*len(p.Digs))
	w := &planWriter{encoder: encoder{b: dst, first: true}, p: p}
	w.object(w.plan)
	return w.b
}

// planWriter writes one plan.
type planWriter struct {
	encoder
	p *Plan
}

// place writes a local place in job coordinates.
func (w *planWriter) place(name string, at geom.Point) { w.point(name, w.p.Job.Origin.Job(at)) }

func (w *planWriter) plan() {
	w.whole("format", Format)
	w.key("job")
	w.object(w.head)
	array(&w.encoder, "setups", w.p.Setups, w.setup)
	array(&w.encoder, "machines", w.p.machines(), w.machine)
	array(&w.encoder, "excavations", w.p.Digs, w.excavation)
	array(&w.encoder, "numbers", w.p.Numbers, w.numberRow)
	array(&w.encoder, "conditions", w.p.Conditions, w.condition)
	array(&w.encoder, "stakes", w.p.Stakes, w.stake)
	array(&w.encoder, "grade_lines", w.p.Lines, w.gradeLine)
	array(&w.encoder, "pipes", w.p.Pipes, w.pipe)
	w.stands()
	w.quantities()
	array(&w.encoder, "findings", w.p.Findings, w.finding)
	array(&w.encoder, "unserved", w.p.Unserved, w.unserved)
	w.key("counts")
	w.object(func() {
		w.whole("merged", w.p.Counts.Merged)
		w.whole("dropped", w.p.Counts.Dropped)
		w.whole("extrapolated", w.p.Counts.Extrapolated)
	})
	w.key("proof")
	w.object(func() {
		w.siting()
		w.standing()
	})
}

func (w *planWriter) head() {
	j := w.p.Job
	w.text("name", j.Name)
	w.textOrNull("drawing", j.Drawing)
	w.textOrNull("revision", j.Revision)
	w.text("units", j.Units.String())
	w.text("coordinates", j.Coordinates.String())
	w.text("curvature", j.Curvature.String())
	w.text("work_to", string(j.WorkTo))
	w.number("interval", float64(j.Interval))
	w.place("origin", geom.Point{})
}

func (w *planWriter) setup(s Setup) {
	w.text("id", s.ID)
	w.text("state", s.State.String())
	w.place("at", s.Plane.At)
	if s.Known {
		w.number("hi", float64(s.Plane.HI))
	} else {
		w.null("hi")
	}
	if s.Window != nil {
		w.pair("hi_range", float64(s.Window.Low), float64(s.Window.High))
	} else {
		w.null("hi_range")
	}
	w.pair("gradient", s.Plane.Gradient.X, s.Plane.Gradient.Y)
	w.key("dial")
	w.object(func() { w.dial(s) })
	w.text("laser", s.Laser.ID)
	w.text("rod", s.Rod.ID)
	w.text("guidance", s.Guidance.String())
	array(&w.encoder, "backsights", w.backsights(s), func(b backsightRow) { w.backsight(b) })
	array(&w.encoder, "foresights", w.p.turnsOf(s.ID), w.turn)
	w.key("proof_rods")
	w.proof(s.Proof)
	w.key("notes")
	w.list(func() {
		for _, m := range s.Notes {
			w.item()
			w.b = m.AppendJSON(w.b)
		}
	})
}

func (w *planWriter) dial(s Setup) {
	w.dialFigures(s.Dial)
	w.textOrNull("towards", s.Dial.Towards)
	if s.Plan == nil {
		w.null("ideal", "shown", "text")
		array(&w.encoder, "rounding", nil, w.effect)
		array(&w.encoder, "one_degree", nil, w.effect)
		return
	}
	w.key("ideal")
	w.object(func() { w.dialFigures(s.Plan.Ideal) })
	w.key("shown")
	w.object(func() {
		w.number("grade", float64(s.Plan.Shown.Grade))
		w.number("cross", float64(s.Plan.Shown.Cross))
	})
	w.message("text", s.Plan.Text)
	array(&w.encoder, "rounding", s.Plan.Rounding, w.effect)
	array(&w.encoder, "one_degree", s.Plan.OneDegree, w.effect)
}

func (w *planWriter) dialFigures(d beam.Dial) {
	w.number("bearing", float64(d.Bearing))
	w.number("grade", float64(d.Grade))
	w.number("cross", float64(d.Cross))
}

func (w *planWriter) effect(e beam.RunEffect) {
	w.text("excavation", e.Run)
	w.number("start", float64(e.Start))
	w.number("end", float64(e.End))
}

// backsightRow is a backsight read, or what it is expected to read.
type backsightRow struct {
	benchmark string
	rod       *unit.Reading
	expected  unit.Reading
	off       *unit.Length
}

// backsights lists what was read, and what a planned set-up would read.
func (w *planWriter) backsights(s Setup) []backsightRow {
	var out []backsightRow
	for i, b := range s.source.Sights {
		rod := b.Rod
		row := backsightRow{benchmark: b.Benchmark, rod: &rod, expected: s.Plane.GradeRod(b.At, b.Elevation)}
		if i < len(s.Residuals) {
			row.off = &s.Residuals[i].Off
		}
		out = append(out, row)
	}
	if s.State == beam.Planned && s.Known {
		for _, e := range w.p.Expected(s) {
			out = append(out, backsightRow{benchmark: e.Benchmark, expected: e.Rod})
		}
	}
	return out
}

func (w *planWriter) backsight(b backsightRow) {
	w.text("benchmark", b.benchmark)
	optional(&w.encoder, "rod", b.rod)
	w.number("expected_rod", float64(b.expected))
	optional(&w.encoder, "off", b.off)
}

func (w *planWriter) proof(d *beam.DialProof) {
	if d == nil {
		w.b = append(w.b, "null"...)
		return
	}
	w.object(func() {
		w.text("a", d.A)
		w.number("rod_a", float64(d.RodA))
		w.text("b", d.B)
		w.number("rod_b", float64(d.RodB))
		w.number("difference", float64(d.Difference))
		w.number("within", float64(d.Within))
	})
}

func (w *planWriter) excavation(d Dig) {
	w.text("id", d.Excavation.ID)
	w.text("kind", string(d.Excavation.Kind))
	w.textOrNull("words", d.Excavation.Words)
	array(&w.encoder, "parts", d.Parts, w.part)
	w.key("trace")
	if len(d.Parts) > 0 {
		w.object(func() { w.trace(d.Parts[0].Trace) })
	} else {
		w.b = append(w.b, "null"...)
	}
	w.key("depth")
	if d.Depth != nil {
		w.object(func() {
			w.number("min", float64(d.Depth.Min))
			w.number("mean", float64(d.Depth.Mean))
			w.number("max", float64(d.Depth.Max))
		})
	} else {
		w.b = append(w.b, "null"...)
	}
	array(&w.encoder, "hand_dig", w.p.HandDig(d.Excavation.ID), w.handDig)
	w.key("in_hole")
	w.object(func() { w.inHole(d.Excavation.ID) })
	w.earth(d.Earth)
	w.key("tolerance")
	w.tolerance(d.Excavation.Tolerance)
}

func (w *planWriter) part(part dig.Part) {
	w.text("id", part.ID)
	w.ring("outline", part.Outline)
	w.ring("neat", part.Neat)
	w.key("plane")
	w.object(func() {
		w.place("at", part.Bottom.Origin)
		w.number("z", part.Bottom.Z0)
		w.pair("slope", part.Bottom.Slope.X, part.Bottom.Slope.Y)
	})
	w.key("trace")
	w.object(func() { w.trace(part.Trace) })
	if !part.Run() {
		w.null("from", "to")
		return
	}
	w.number("from", float64(part.From))
	w.number("to", float64(part.To))
}

func (w *planWriter) ring(name string, r geom.Ring) {
	w.key(name)
	w.corners(r)
}

// corners writes a ring as a list of points.
func (w *planWriter) corners(r geom.Ring) {
	w.list(func() {
		for _, p := range r {
			at := w.p.Job.Origin.Job(p)
			w.item()
			w.list(func() {
				w.item()
				w.float(at.X)
				w.item()
				w.float(at.Y)
			})
		}
	})
}

func (w *planWriter) trace(t dig.Trace) {
	w.textOrNull("words", t.Words)
	w.key("origin")
	w.object(func() {
		w.message("label", t.Origin.Label)
		w.number("elevation", float64(t.Origin.Elevation))
	})
	array(&w.encoder, "terms", t.Terms, func(term dig.Term) {
		w.message("label", term.Label)
		w.number("value", float64(term.Value))
	})
	w.number("sum", float64(t.Sum))
}

func (w *planWriter) tolerance(t *dig.Tolerance) {
	if t == nil {
		w.b = append(w.b, "null"...)
		return
	}
	w.object(func() {
		w.number("above", float64(t.Above))
		w.number("below", float64(t.Below))
		w.number("fall", float64(t.Fall))
		w.number("level_over", float64(t.LevelOver))
		w.flag("no_reverse", t.NoReverse)
		w.number("equal", float64(t.Equal))
	})
}

func (w *planWriter) numberRow(n Number) {
	w.text("excavation", n.Excavation)
	w.text("part", n.Part)
	w.text("point", n.Name)
	if n.HasStation {
		w.number("station", float64(n.Station))
	} else {
		w.null("station")
	}
	w.place("at", n.At)
	w.text("from", string(n.From))
	w.text("guidance", n.Guidance.String())
	w.textOrNull("setup", n.Setup)
	w.text("state", n.State.String())
	w.textOrNull("stand", n.Stand)
	w.textOrNull("stage", string(n.Stage))
	optional(&w.encoder, "ground", n.Ground)
	w.number("bottom", float64(n.Bottom))
	w.beamFigures(n)
	optional(&w.encoder, "ground_rod", n.GroundRod())
	optional(&w.encoder, "cut", n.Cut)
	w.trust(n)
	w.key("reference")
	if n.Reference == "" {
		w.b = append(w.b, "null"...)
		return
	}
	w.object(func() {
		w.text("id", n.Reference)
		w.number("elevation", float64(n.ReferenceElevation))
		w.number("depth", float64(n.Rod))
	})
}

// beamFigures are null where no beam is used.
func (w *planWriter) beamFigures(n Number) {
	if n.From != FromBeam {
		w.null("beam", "curvature", "grade_rod")
		return
	}
	w.number("beam", float64(n.Beam))
	w.number("curvature", float64(n.Curvature))
	w.number("grade_rod", float64(n.Rod))
}

func (w *planWriter) stake(s Stake) {
	w.text("id", s.Hub)
	w.text("excavation", s.Excavation)
	if s.HasStation {
		w.number("station", float64(s.Station))
	} else {
		w.null("station")
	}
	w.number("elevation", float64(s.HubElevation))
	w.number("bottom", float64(s.Grade))
	w.number("cut", float64(s.Cut()))
	w.number("offset", float64(s.Offset))
	optional(&w.encoder, "board", s.Board)
	w.message("text", s.Text)
}

func (w *planWriter) unserved(u Unserved) {
	w.text("excavation", u.Excavation)
	w.textOrNull("part", u.Part)
	w.message("reason", u.Reason)
}

func (w *planWriter) finding(f phrase.Finding) {
	w.text("rule", f.Rule)
	w.text("severity", string(f.Severity))
	w.key("where")
	w.object(func() {
		w.textOrNull("excavation", f.Where.Excavation)
		w.textOrNull("part", f.Where.Part)
		w.textOrNull("stand", f.Where.Stand)
		w.textOrNull("heap", f.Where.Heap)
		w.textOrNull("setup", f.Where.Setup)
		if f.Where.At == nil {
			w.null("at")
			return
		}
		w.pair("at", f.Where.At[0], f.Where.At[1])
	})
	w.message("what", f.What)
	w.quantity("measured", f.Measured)
	w.quantity("limit", f.Limit)
	w.textOrNull("clause", f.Clause)
	w.message("remedy", f.Remedy)
	w.message("decides", f.Decides)
}

// quantity writes {value, unit} in SI.
func (w *planWriter) quantity(name string, v any) {
	if v == nil {
		w.null(name)
		return
	}
	value, symbol := si(v)
	w.key(name)
	w.object(func() {
		w.number("value", value)
		w.text("unit", symbol)
	})
}

// si is a quantity as a figure and its SI symbol.
func si(v any) (float64, string) {
	switch v := v.(type) {
	case int:
		return float64(v), "1"
	case float64:
		return v, "1"
	case unit.Length:
		return float64(v), "m"
	case unit.Elevation:
		return float64(v), "m"
	case unit.Reading:
		return float64(v), "m"
	case unit.Grade:
		return float64(v), "m/m"
	case unit.Angle:
		return float64(v), "rad"
	case unit.Area:
		return float64(v), "m2"
	case unit.Volume:
		return float64(v), "m3"
	case unit.Chance:
		return float64(v), "1"
	case unit.Speed:
		return float64(v), "m/s"
	case unit.Flow:
		return float64(v), "m3/s"
	}
	panic(fmt.Sprintf("plan: a finding measures a %T, which has no unit", v))
}
