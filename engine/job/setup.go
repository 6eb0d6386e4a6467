package job

import (
	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// setup reads [[setup]].
func (d *decoder) setup(t *table) Setup {
	key := "id"
	if t.has("tag") {
		key = "tag"
	}
	out := Setup{
		ID: d.idAt(t, "setup", key), At: t.point("at"), Placed: t.has("at"),
		Laser: t.name("laser"), Rod: t.name("rod"), Receiver: t.name("receiver"), Machine: t.name("machine"),
		Serves: t.names("serves"), BeamMarks: t.names("beam_marks"),
		HI: optionalElevation(t, "hi"), HeightSigma: t.sigma("hi_sigma"), table: t,
	}
	t.need("at")
	for _, kind := range []string{"laser", "rod", "receiver", "machine"} {
		d.refer(t, kind, kind, t.n.name(kind))
	}
	out.Laser = d.only(t, "laser", out.Laser)
	out.Rod = d.only(t, "rod", out.Rod)
	for i, s := range t.list("backsights") {
		out.Sights = append(out.Sights, d.backsight(s, i))
	}
	for _, s := range t.list("foresights") {
		out.Turns = append(out.Turns, d.foresight(s))
	}
	out.Over = d.over(t)
	out.Dial = d.dial(t)
	d.oneHeight(t, out)
	t.done()
	return out
}

// name is the text of a key, "" if absent.
func (n *node) name(key string) string {
	if v := n.get(key); v != nil {
		return v.text
	}
	return ""
}

// only is the id given or, if there is just one thing of the kind, that one.
func (d *decoder) only(t *table, kind, id string) string {
	if id != "" || t.r.fault != nil {
		return id
	}
	switch known := d.ids[kind]; len(known) {
	case 0:
		t.missing(kind, phrase.New("job.unknown_id.none", phrase.With("kind", kindText(kind)), phrase.With("table", kind)))
	case 1:
		return known[0]
	default:
		t.missing(kind, phrase.New("job.which_one.remedy", phrase.With("kind", kind), phrase.With("known", known)))
	}
	return ""
}

// oneHeight faults a set-up that gives its height in two ways.
func (d *decoder) oneHeight(t *table, s Setup) {
	ways := 0
	for _, given := range []bool{len(s.Sights) > 0, s.HI != nil, s.Over != nil} {
		if given {
			ways++
		}
	}
	if ways > 1 && t.r.fault == nil {
		f := phrase.NewFault(phrase.New("job.two_heights"), phrase.New("job.two_heights.remedy"))
		f.Code = phrase.Conflict
		t.failFault("hi", f)
	}
}

// backsight reads { benchmark, rod }.
func (d *decoder) backsight(t *table, _ int) beam.Backsight {
	out := beam.Backsight{Rod: unit.Reading(t.length("rod")), ReadingSigma: t.notNegative("sigma")}
	out.Benchmark = t.name("benchmark")
	for _, key := range []string{"benchmark", "rod"} {
		t.need(key)
	}
	d.refer(t, "benchmark", "benchmark", out.Benchmark)
	if at, turned := d.turns[out.Benchmark]; turned {
		out.At = at // its height is known once the set-up before it is
	}
	for _, b := range d.job.Benchmarks {
		if b.ID != out.Benchmark {
			continue
		}
		out.At, out.Elevation, out.Sigma = b.At, b.Elevation, b.Sigma
		if !b.Placed && t.r.fault == nil {
			t.fail("benchmark", phrase.New("job.benchmark_place", phrase.With("id", b.ID)), phrase.New("job.benchmark_place.remedy"))
		}
	}
	t.done()
	return out
}

// foresight reads { point, at, rod }: a turning point, which later set-ups name as
// a benchmark.
func (d *decoder) foresight(t *table) Foresight {
	out := Foresight{Point: d.idAt(t, "benchmark", "point"), At: t.point("at"), Rod: unit.Reading(t.length("rod")), Sigma: t.notNegative("sigma")}
	for _, key := range []string{"at", "rod"} {
		t.need(key)
	}
	t.done()
	if d.turns == nil {
		d.turns = map[string]geom.Point{}
	}
	d.turns[out.Point] = out.At
	return out
}

// over reads over = { datum, height }: the beam taped above a known level.
func (d *decoder) over(t *table) *Measured {
	o, ok := t.inner("over")
	if !ok {
		return nil
	}
	o.need("level")
	o.need("height")
	id, z := d.level(o, "level")
	out := &Measured{Label: id, Elevation: z, Height: o.length("height"), Sigma: o.sigma("sigma")}
	o.done()
	return out
}

// dial reads dial = { towards | bearing | for, grade, cross }.
func (d *decoder) dial(t *table) *Dial {
	n, ok := t.inner("dial")
	if !ok {
		return nil
	}
	out := &Dial{For: n.names("for"), Grade: n.grade("grade"), Cross: n.grade("cross")}
	out.Given = n.has("towards") || n.has("bearing")
	if n.has("towards") {
		out.Towards, out.Aim = d.mark(n, "towards")
	}
	out.Bearing = n.bearing("bearing")
	if len(out.For) == 0 {
		n.need("grade")
		if !out.Given {
			n.missing("towards", phrase.New("job.dial_aim.remedy"))
		}
	} else if n.has("grade") || n.has("cross") {
		n.fail("for", phrase.New("job.dial_twice"), phrase.New("job.dial_twice.remedy"))
	}
	if n.has("towards") && n.has("bearing") {
		n.fail("towards", phrase.New("job.dial_two_aims"), phrase.New("job.dial_two_aims.remedy"))
	}
	n.done()
	return out
}
