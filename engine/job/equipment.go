package job

import (
	"spadework/engine/beam"
	"spadework/engine/machine"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Machine is the excavator as its owner describes it.
type Machine struct {
	ID           string
	Type         string        // tracked | wheeled | backhoe_loader
	Guidance     beam.Guidance // how its operator knows the depth
	Receiver     string
	StickOffset  unit.Length    // horizontally from the teeth to a receiver on the stick
	Clamp        [2]unit.Length // heights over the teeth at which the receiver can be clamped
	MaxDepth     unit.Length
	MaxReach     unit.Length
	DumpHeight   unit.Length
	DumpReach    unit.Length
	Highest      unit.Length // of any part
	Footprint    [2]unit.Length
	TailSwing    unit.Length
	BoomOffset   unit.Length
	BladeSide    string
	BladeOut     unit.Length
	Outriggers   unit.Length // width over the feet, 0 none
	SwingLimit   unit.Angle  // each way, 0 the usual one of its type
	SwingBehind  unit.Length // of the swing centre behind the middle of the base
	Reach        machine.Envelope
	Buckets      []Bucket
	SteepestSlop unit.Grade

	Leaves        unit.Length // mean height over its number at which its sensors leave a bottom, + high, as its shots told
	DepthAccuracy unit.Length // bound on the error of its own depth measuring at its reach, 0 not told
}

// Bucket is one bucket.
type Bucket struct {
	ID     string
	Width  unit.Length
	Volume unit.Volume
}

// mostArming bounds the seconds until an alarm watches: an hour.
const mostArming = 3600

// mostLeaves bounds what a machine leaves, either way: past it the machine is to be
// mended, not corrected for.
const mostLeaves = unit.Foot

// leaves reads a height over or under the number.
func (t *table) leaves(key string) unit.Length {
	v := t.length(key)
	t.within(key, float64(v), -float64(mostLeaves), float64(mostLeaves))
	return v
}

// laser reads [[laser]].
func (d *decoder) laser(t *table) beam.Laser {
	out := beam.Laser{
		ID:          d.id(t, "laser"),
		Accuracy:    t.boundOrSigma("accuracy"),
		Range:       t.positive("range"),
		Axes:        t.count("axes", 0),
		Step:        t.grade("step"),
		PlusMeans:   beam.Way(t.choice("plus_means", []string{"up", "down"}, 0)),
		ManualSlope: t.flag("manual_slope", false),
		SelfLevels:  t.flag("self_levels", true),
		Alarm:       t.flag("alarm", false),
		ArmsAfter:   t.upTo("arms_after", mostArming),
		AlarmSees:   t.chance("alarm_sees"),
		Heights:     d.span(t, "heights"),

		GradeAccuracy: t.accuracy("grade_accuracy"),
		Checked:       t.date("checked"),
	}
	out.Check, out.CheckSigma = ownCheck(t)
	for _, key := range []string{"accuracy", "range"} {
		t.need(key)
	}
	out.Steepest = [2]beam.GradeRange{d.gradeRange(t, "steepest"), d.gradeRange(t, "steepest_cross")}
	if out.Axes > 2 {
		t.fail("axes", phrase.New("job.axes", phrase.With("count", out.Axes)), phrase.New("job.axes.remedy"))
	}
	if out.AlarmSees > 0 && !out.Alarm && t.r.fault == nil {
		t.fail("alarm_sees", phrase.New("job.no_alarm", phrase.With("id", out.ID)), phrase.New("job.no_alarm.remedy"))
	}
	if out.Axes > 0 && !t.has("steepest") {
		t.need("steepest")
	}
	t.done()
	return out
}

// gradeRange reads one steepest grade for both ways, or [least, most].
func (d *decoder) gradeRange(t *table, key string) beam.GradeRange {
	n := t.n.get(key)
	if n == nil || n.kind != arrayNode {
		g := t.grade(key)
		return beam.GradeRange{Min: min(-g, g), Max: max(-g, g)}
	}
	pair := d.pair(t, key, "job.kind_grades")
	if pair == nil {
		return beam.GradeRange{}
	}
	out := beam.GradeRange{Min: pair.grade(key + ".0"), Max: pair.grade(key + ".1")}
	if out.Min > out.Max && t.r.fault == nil {
		t.fail(key, phrase.New("job.span_order", phrase.With("low", out.Min), phrase.With("high", out.Max)),
			phrase.New("job.span_order.remedy"))
	}
	return out
}

// pair is the two items of a list as a table with the keys key.0 and key.1.
func (d *decoder) pair(t *table, key string, want phrase.Key) *table {
	n := t.take(key)
	if n == nil {
		return nil
	}
	if n.kind != arrayNode || len(n.items) != 2 {
		t.r.wrongKind(n, t.sub(key), want)
		return nil
	}
	return &table{r: t.r, path: t.path, comma: t.comma, n: &node{
		offset: n.offset, cell: n.cell,
		keys: []entry{{name: key + ".0", value: n.items[0]}, {name: key + ".1", value: n.items[1]}},
	}}
}

// span reads [lowest, highest], zero if absent.
func (d *decoder) span(t *table, key string) [2]unit.Length {
	pair := d.pair(t, key, "job.kind_span")
	if pair == nil {
		return [2]unit.Length{}
	}
	out := [2]unit.Length{pair.notNegative(key + ".0"), pair.notNegative(key + ".1")}
	if out[0] > out[1] && t.r.fault == nil {
		t.fail(key, phrase.New("job.span_order", phrase.With("low", out[0]), phrase.With("high", out[1])),
			phrase.New("job.span_order.remedy"))
	}
	return out
}

// receiver reads [[receiver]].
func (d *decoder) receiver(t *table) beam.Receiver {
	out := beam.Receiver{ID: d.id(t, "receiver"), DeadBand: t.notNegative("dead_band")}
	t.need("dead_band")
	t.done()
	return out
}

// faces are the words for the faces of a rod in the order of unit.Face.
var faces = []string{"metric", "tenths", "inches"}

// rod reads [[rod]].
func (d *decoder) rod(t *table) beam.Rod {
	out := beam.Rod{
		ID:       d.id(t, "rod"),
		Shortest: unit.Reading(t.notNegative("shortest")),
		Longest:  unit.Reading(t.positive("longest")),
		Step:     unit.Reading(t.positive("step")),
	}
	for _, key := range []string{"face", "longest"} {
		t.need(key)
	}
	out.Face = unit.Face(t.choice("face", faces, 0))
	if out.Shortest >= out.Longest && t.r.fault == nil {
		t.fail("longest", phrase.New("job.span_order", phrase.With("low", out.Shortest), phrase.With("high", out.Longest)),
			phrase.New("job.span_order.remedy"))
	}
	if out.Step == 0 {
		out.Step = faceStep(out.Face)
	}
	t.done()
	return out
}

// faceStep is the finest division of an ordinary face (common practice).
func faceStep(f unit.Face) unit.Reading {
	switch f {
	case unit.FaceTenths:
		return unit.Reading(unit.Foot / 100)
	case unit.FaceInches:
		return unit.Reading(unit.Inch / 8)
	}
	return unit.Reading(unit.Millimetre)
}

// Words a machine may be described with.
var (
	machineTypes = []string{"tracked", "wheeled", "backhoe_loader"}
	bladeSides   = []string{"none", "front", "rear"}
)

// machine reads [[machine]].
func (d *decoder) machine(t *table) Machine {
	out := Machine{
		ID:           d.id(t, "machine"),
		Type:         machineTypes[t.choice("type", machineTypes, 0)],
		Guidance:     beam.Guidance(t.choice("guidance", guidanceWords(), 0)),
		Receiver:     t.name("receiver"),
		StickOffset:  t.notNegative("stick_offset"),
		Clamp:        d.span(t, "clamp"),
		MaxDepth:     t.positive("max_depth"),
		MaxReach:     t.positive("max_reach"),
		DumpHeight:   t.positive("dump_height"),
		DumpReach:    t.positive("dump_reach"),
		Highest:      t.positive("highest"),
		TailSwing:    t.positive("tail_swing"),
		BoomOffset:   t.length("boom_offset"),
		BladeSide:    bladeSides[t.choice("blade", bladeSides, 0)],
		BladeOut:     t.notNegative("blade_out"),
		Outriggers:   t.positive("outriggers"),
		SwingLimit:   t.angle("swing_limit"),
		SwingBehind:  t.length("swing_behind"),
		SteepestSlop: t.grade("steepest_ground"),

		DepthAccuracy: t.positive("depth_accuracy"),
		Leaves:        t.leaves("leaves"),
	}
	if pair := d.pair(t, "footprint", "job.kind_size"); pair != nil {
		out.Footprint = [2]unit.Length{pair.positive("footprint.0"), pair.positive("footprint.1")}
	}
	d.reach(t, &out)
	for _, b := range t.list("buckets") {
		out.Buckets = append(out.Buckets, Bucket{ID: b.name("id"), Width: b.positive("width"), Volume: d.volume(b, "volume")})
		b.done()
	}
	d.refer(t, "receiver", "receiver", out.Receiver)
	t.done()
	return out
}

// volume reads a bare figure in the cube of the job's unit.
func (d *decoder) volume(t *table, key string) unit.Volume {
	side := float64(unit.Metre)
	if d.job.Units != unit.Metres {
		side = float64(unit.Foot)
	}
	return unit.Volume(t.number(key, 0) * side * side * side)
}

// guidanceWords are the words of beam's guidances, in its order.
func guidanceWords() []string {
	var out []string
	for g := beam.ByRod; g.String() != ""; g++ {
		out = append(out, g.String())
	}
	return out
}

// refer faults an id that names nothing of its kind.
func (d *decoder) refer(t *table, key, kind, id string) {
	if _, known := d.seen[kind][id]; id == "" || t.r.fault != nil || known {
		return
	}
	f := phrase.NewFault(
		phrase.New("job.unknown_id", phrase.With("kind", kindText(kind)), phrase.With("id", id)),
		phrase.New("job.unknown_id.remedy", phrase.With("known", d.ids[kind])))
	if len(d.ids[kind]) == 0 {
		f.Remedy = phrase.New("job.unknown_id.none", phrase.With("kind", kindText(kind)), phrase.With("table", kind))
	}
	f.Code = phrase.NotFound
	t.failFault(key, f)
}

// kindText names a kind of thing in a sentence.
func kindText(kind string) phrase.Message { return phrase.New(phrase.Key("job.thing_" + kind)) }
