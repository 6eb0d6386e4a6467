package job

import (
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// SiteFacts is the table [site]: what holds for the whole site, for the safety
// rules. What is not told is taken at its worst.
type SiteFacts struct {
	Ticket, MarkedOn, Expires string
	PrivateLocate             Answer
	Encumbrances, Vests       Answer
	NobodyUnder               Answer
	Rain                      string // time of the last rainstorm, "" none told
	Frost                     *unit.Length
	Frosty                    Answer // ground freezes here
	Beam                      BeamFacts
}

// BeamFacts is how people near a set-up meet its beam.
type BeamFacts struct{ Walked, Signs, Attended, Trained, Foul Answer }

// Entry is what a competent person entered: an inspection, or the release of one
// finding.
type Entry struct {
	Who, At, Rule, Saw                   string
	Excavation, Part, Stand, Heap, Setup string
}

// Heap is spoil as it lies.
type Heap struct {
	ID       string
	Outline  geom.Ring
	Retained Answer
}

// Stand is a machine as it stands.
type Stand struct {
	ID       string
	At       geom.Point
	Bearing  unit.Angle
	Machine  string
	Digs     []string // it works on; empty: all it stands near
	Retained Answer   // the edge is held
}

// Crossing is a walkway over a dig.
type Crossing struct {
	ID         string
	Excavation string
	Height     *unit.Length // over the lower level, nil: the depth of the dig
	Rails      Answer
}

// siteFacts reads [site].
func (d *decoder) siteFacts(t *table) SiteFacts {
	out := SiteFacts{
		Ticket: t.name("ticket"), MarkedOn: t.date("marked_on"), Expires: t.date("expires"),
		PrivateLocate: t.answer("private_locate", Unknown), Encumbrances: t.answer("encumbrances_held", Unknown),
		Vests: t.answer("vests", Unknown), NobodyUnder: t.answer("nobody_under_loads", Unknown), Rain: t.time("rain"),
		Frost: t.optionalLength("frost"), Frosty: t.answer("frosty", Unknown),
	}
	b, _ := t.inner("beam")
	out.Beam = BeamFacts{
		Walked: b.answer("people_walk", Unknown), Signs: b.answer("signs", Unknown), Attended: b.answer("attended", Unknown),
		Trained: b.answer("trained", Unknown), Foul: b.answer("foul_weather", Unknown),
	}
	b.done()
	t.done()
	return out
}

// entry reads [[entry]].
func (d *decoder) entry(t *table) Entry {
	out := Entry{
		Who: t.text("who"), At: t.time("at"), Rule: t.name("rule"), Saw: t.text("saw"),
		Excavation: t.name("excavation"), Part: t.name("part"), Stand: t.name("stand"), Heap: t.name("heap"), Setup: t.name("setup"),
	}
	for _, key := range []string{"who", "at", "saw"} {
		t.need(key)
	}
	d.refer(t, "excavation", "excavation", out.Excavation)
	t.done()
	return out
}

// heap reads [[heap]].
func (d *decoder) heap(t *table) Heap {
	out := Heap{ID: d.id(t, "heap"), Outline: t.corners("outline", 3), Retained: t.answer("retained", Unknown)}
	t.need("outline")
	t.done()
	return out
}

// stand reads [[stand]].
func (d *decoder) stand(t *table) Stand {
	out := Stand{ID: d.id(t, "stand"), At: t.point("at"), Bearing: t.bearing("bearing"), Machine: t.name("machine"),
		Digs: t.names("excavations"), Retained: t.answer("retained", Unknown)}
	t.need("at")
	d.refer(t, "machine", "machine", out.Machine)
	out.Machine = d.only(t, "machine", out.Machine)
	for _, id := range out.Digs {
		d.refer(t, "excavations", "excavation", id)
	}
	t.done()
	return out
}

// crossing reads [[crossing]].
func (d *decoder) crossing(t *table) Crossing {
	out := Crossing{ID: d.id(t, "crossing"), Excavation: t.name("excavation"), Height: t.optionalLength("height"),
		Rails: t.answer("rails", Unknown)}
	t.need("excavation")
	d.refer(t, "excavation", "excavation", out.Excavation)
	t.done()
	return out
}

// optionalLength reads a length of zero or more, nil if absent: not known.
func (t *table) optionalLength(key string) *unit.Length {
	if !t.has(key) {
		t.take(key)
		return nil
	}
	v := t.notNegative(key)
	return &v
}

// time reads a date and time as TOML writes it, 2026-05-04T07:10:00, or the same
// in quotes; the safety rules say what they can read of it.
func (t *table) time(key string) string {
	n := t.take(key)
	if n == nil {
		return ""
	}
	if n.kind != textNode && n.kind != dateNode || len(n.text) < len("2026-05-04T07:10") || !isDate(n.text[:10]) {
		t.r.wrongKind(n, t.sub(key), "job.kind_time")
		return ""
	}
	return n.text
}
