package record

import (
	"slices"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// CloseLimit is the limit of a close where nobody says another: 5 mm, within
// which control on a building site is held to agree (common practice).
const CloseLimit = 5 * unit.Millimetre

// fill adds what the plan and the log know.
func (w *composing) fill() {
	switch w.kind {
	case KindSetup:
		w.fillSetup()
	case KindShot:
		w.fillShot()
	case KindClose, KindDialProof:
		w.fillTag()
		w.fillProof()
	case KindTie, KindBeamMark:
		if w.said["point"] == "" {
			w.fillTag()
		}
		w.fillMachine()
		w.fillTouched()
		w.fillMark()
	case KindStopped, KindAlarm, KindRestarted, KindDropped, KindBattery:
		if lasers := w.Plan.Job.Lasers; len(lasers) == 1 {
			w.filled["laser"] = textOf(lasers[0].ID)
		}
	case KindMoved, KindBucket, KindLifted, KindSunk:
		w.fillMachine()
	case KindEntry:
		w.filled["at"] = textOf(w.Now.String())
	case KindDirection:
		if d := w.dig(); d != nil && !d.Direction.IsZero() {
			w.filled["replaces"] = textOf(d.Direction.String())
		}
	case KindHandover:
		w.filled["ends"] = textOf(EndShift)
	case KindCorrection:
		w.fillCorrection()
	}
}

func (w *composing) fillMachine() {
	if m := w.Plan.Job.Machines; len(m) == 1 {
		w.filled["machine"] = textOf(m[0].ID)
	}
}

// fillMark is the height of the beam at a mark whose place is told.
func (w *composing) fillMark() {
	s, ok := w.Plan.Setup(w.said["setup_tag"])
	if w.kind != KindBeamMark || w.said["at"] == "" || !ok {
		return
	}
	at := w.readPlace(w.said["at"])
	if w.fault == nil {
		place := w.Plan.Job.Origin.Local([2]unit.Length{unit.Length(at.list[0].num), unit.Length(at.list[1].num)})
		w.filled["elevation"] = numberOf(float64(s.Plane.Beam(place)))
	}
}

// fillTouched is the height of the benchmark that the teeth touched.
func (w *composing) fillTouched() {
	for _, b := range w.Plan.Job.Benchmarks {
		if w.kind == KindTie && b.ID == w.said["point"] {
			w.filled["elevation"] = numberOf(float64(b.Elevation))
		}
	}
}

// fillSetup takes a live set-up of the job as it was worked out.
func (w *composing) fillSetup() {
	s, ok := w.Plan.Setup(w.said["tag"])
	switch {
	case !ok:
		w.fail(notFound("record.unknown_setup", w.said["tag"]))
		return
	case s.State != beam.Live:
		w.fail(phrase.NewFault(phrase.New("record.planned", phrase.With("setup", s.ID)), phrase.New("record.planned.remedy")))
		return
	case slices.ContainsFunc(w.State.Tags, func(t Tag) bool { return t.Tag == s.ID }):
		f := phrase.NewFault(phrase.New("record.tag_worn", phrase.With("tag", s.ID)), phrase.New("record.tag_worn.remedy"))
		f.Code = phrase.Conflict
		w.fail(f)
		return
	}
	w.filled["laser"], w.filled["hi"] = textOf(s.Laser.ID), numberOf(float64(s.Plane.HI))
	if s.Rod.ID != "" {
		w.filled["rod"] = textOf(s.Rod.ID)
	}
	if s.Machine != nil {
		w.filled["machine"] = textOf(s.Machine.ID)
	}
	at := w.Plan.Job.Origin.Job(s.Plane.At)
	w.filled["at"] = value{kind: listValue, list: []value{numberOf(at.X), numberOf(at.Y)}}
	var g object
	g.set("east", numberOf(s.Plane.Gradient.X))
	g.set("north", numberOf(s.Plane.Gradient.Y))
	w.filled["gradient"] = g.value()
	w.filled["sights"] = sightsOf(s)
}

func sightsOf(s plan.Setup) value {
	out := value{kind: listValue}
	for _, b := range s.Sights() {
		var row object
		row.set("benchmark", textOf(b.Benchmark))
		row.set("elevation", numberOf(float64(b.Elevation)))
		row.set("rod", numberOf(float64(b.Rod)))
		out.list = append(out.list, row.value())
	}
	return out
}

// fillTag turns the tag's name into the id of its set-up.
func (w *composing) fillTag() {
	name := w.said["tag"]
	delete(w.said, "tag")
	for _, t := range w.State.Tags {
		if t.Tag == name {
			w.filled["setup"] = textOf(t.Setup.String())
			w.said["setup_tag"] = name
			return
		}
	}
	f := notFound("record.no_such_tag", name)
	w.fail(f)
}

// setup is the plan's set-up of the tag said.
func (w *composing) setup() (plan.Setup, bool) {
	s, ok := w.Plan.Setup(w.said["setup_tag"])
	if !ok {
		w.fail(notFound("record.unknown_setup", w.said["setup_tag"]))
	}
	return s, ok
}

// fillProof works out the reading that the beam gives on a benchmark.
func (w *composing) fillProof() {
	limit := CloseLimit
	if told := w.Plan.Job.Closes.Limit; told > 0 {
		limit = told
	}
	w.filled["limit"], w.filled["on"] = numberOf(float64(limit)), textOf(OnBenchmark)
	s, ok := w.setup()
	if !ok || w.said["expected"] != "" {
		return
	}
	for _, b := range w.Plan.Job.Benchmarks {
		if b.ID == w.said["point"] && b.Placed {
			w.filled["expected"] = numberOf(float64(s.Plane.GradeRod(b.At, b.Elevation)))
			return
		}
	}
	w.fail(notFound("record.unknown_mark", w.said["point"]))
}

// dig is the log's state of the dig said, nil for none.
func (w *composing) dig() *DigState {
	for i := range w.State.Digs {
		if w.State.Digs[i].Excavation == w.said["excavation"] {
			return &w.State.Digs[i]
		}
	}
	return nil
}

// fillShot works out bottom, beam and tolerance at the point shot.
func (w *composing) fillShot() {
	tie := w.fillRest()
	w.filled["from"] = textOf(FromEdge)
	d, ok := w.Plan.Dig(w.said["excavation"])
	if !ok {
		w.fail(notFound("record.unknown_dig", w.said["excavation"]))
		return
	}
	zero, ok := w.zero(tie)
	if !ok {
		return
	}
	pt, f := w.point(d)
	if f != nil {
		w.fail(f)
		return
	}
	if pt.Kind == dig.Centre {
		delete(w.said, "point") // the centre has one name in the log, and that is none
	}
	bottom := pt.Bottom
	if state := w.dig(); state != nil && state.Bottom != nil {
		bottom = *state.Bottom
		w.filled["direction"] = textOf(state.Direction.String())
	}
	w.filled["bottom"] = numberOf(float64(bottom))
	if w.said["reading"] != "" {
		w.filled["beam"] = numberOf(float64(zero(pt.At)))
	}
	if t := d.Excavation.Tolerance; t != nil {
		w.filled["above"], w.filled["below"] = numberOf(float64(t.Above)), numberOf(float64(t.Below))
	}
	at := w.Plan.Job.Origin.Job(pt.At)
	w.filled["at"] = value{kind: listValue, list: []value{numberOf(at.X), numberOf(at.Y)}}
}

// fillRest fills in what a shot rests on: the tie said, nil a set-up.
func (w *composing) fillRest() *Tie {
	if w.said["tie"] == "" {
		w.fillTag()
		return nil
	}
	for _, l := range w.State.Log {
		if t, ok := l.Payload.(*Tie); ok && l.ID.String() == w.said["tie"] {
			for _, tag := range w.State.Tags {
				if tag.Setup == t.Setup {
					w.said["setup_tag"] = tag.Tag
				}
			}
			return t
		}
	}
	w.fail(phrase.NewFault(phrase.New("record.no_tie"), phrase.Message{}))
	return nil
}

// zero is the height that readings count from: the beam at a place, or the point
// that was touched.
func (w *composing) zero(tie *Tie) (func(geom.Point) unit.Elevation, bool) {
	if tie != nil && tie.Point != "" && tie.Elevation != nil {
		return func(geom.Point) unit.Elevation { return *tie.Elevation }, true
	}
	s, ok := w.setup()
	return s.Plane.Beam, ok
}

// point is where the shot was taken.
func (w *composing) point(d plan.Dig) (dig.NumberPoint, *phrase.Fault) {
	s := Shot{Excavation: w.said["excavation"], Point: w.said["point"]}
	if s.Point == "" {
		s.Point = w.said["part"]
	}
	if text := w.said["station"]; text != "" {
		v := unit.Station(w.number("station", text).num)
		s.Station = &v
	}
	return pointOf(d, s)
}

// fillCorrection finds what is corrected; a shot may be given another reading.
func (w *composing) fillCorrection() {
	for _, l := range w.State.Log {
		if l.ID.String() != w.said["record"] {
			continue
		}
		w.filled["of"] = textOf(string(l.Kind()))
		text, given := w.said["reading"]
		shot, isShot := l.Payload.(*CheckShot)
		delete(w.said, "reading")
		if !given || !isShot || shot.Reading == nil {
			return
		}
		instead := *shot
		reading := unit.Reading(w.number("reading", text).num)
		instead.Reading = &reading
		var f fields
		instead.walk(&f)
		w.filled["instead"] = f.out.value()
		return
	}
	w.fail(notFound("record.no_such_record", w.said["record"]))
}
